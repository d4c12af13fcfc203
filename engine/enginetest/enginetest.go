// Package enginetest gives tests what they begin with: a scenario that is read, how it is judged, and
// what is recommended for it. What goes wrong on the way ends the test.
package enginetest

import (
	"context"
	"io/fs"
	"testing/fstest"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// A T is a test, a benchmark or one draw of a property.
type T interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// Trial is the text of a brief of one shot on the demo catalogue, with further lines in its
// scenario and its shot.
func Trial(scenario, shot string) string {
	return `use demo
scenario "Trial" {
  camera "House body A"
  rig "Short sled"
  ` + scenario + `
}
shot "1" {
  subject person 1.78m
  frame medium
  distance 2m..3m
  move lead
  ` + shot + `
}
`
}

// Load reads the text of a scenario that names no files, and gives what is found in it too.
func Load(t T, text string) (*brief.Scenario, lang.Diagnostics) {
	t.Helper()
	src, found := lang.NewSource("trial.scenario", []byte(text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	return brief.Load(src, brief.Files{})
}

// Read reads the text of a scenario with all that it names.
func Read(t T, text string, files brief.Files) *brief.Scenario {
	t.Helper()
	src, found := lang.NewSource("test.scenario", []byte(text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	s, found := brief.Load(src, files)
	if found.HasErrors() {
		t.Fatalf("%v\n%s", found, text)
	}
	return s
}

// ReadWith reads a scenario that uses "kit.catalog", of which the text is given too.
func ReadWith(t T, text, catalogue string) *brief.Scenario {
	t.Helper()
	return Read(t, text, brief.Files{Tree: fstest.MapFS{"kit.catalog": {Data: []byte(catalogue)}}})
}

// ReadFile reads a scenario of a folder.
func ReadFile(t T, folder fs.FS, name string) *brief.Scenario {
	t.Helper()
	text, err := fs.ReadFile(folder, name)
	if err != nil {
		t.Fatal(err)
	}
	return Read(t, string(text), brief.Files{Tree: folder})
}

// Judge gives the table of all judgements of a scenario.
func Judge(t T, s *brief.Scenario, o engine.Options) *engine.Table {
	t.Helper()
	table, err := engine.Judge(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// Recommend gives the recommendation for a scenario.
func Recommend(t T, s *brief.Scenario, o engine.Options) *engine.Recommendation {
	t.Helper()
	r, err := engine.Recommend(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
