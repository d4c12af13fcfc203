// Package enginetest gives tests what they begin with: a scenario that is read, and what is
// recommended for it. What goes wrong on the way ends the test.
package enginetest

import (
	"context"
	"io/fs"
	"testing/fstest"

	"glassbrief/engine"
	"glassbrief/lang"
)

// A T is a test, a benchmark or one draw of a property.
type T interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// Read reads the text of a scenario with all that it names.
func Read(t T, text string, files engine.Files) *engine.Scenario {
	t.Helper()
	src, found := lang.NewSource("test.scenario", []byte(text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	s, found := engine.Load(src, files)
	if found.HasErrors() {
		t.Fatalf("%v\n%s", found, text)
	}
	return s
}

// ReadWith reads a scenario that uses "kit.catalog", of which the text is given too.
func ReadWith(t T, text, catalogue string) *engine.Scenario {
	t.Helper()
	return Read(t, text, engine.Files{Tree: fstest.MapFS{"kit.catalog": {Data: []byte(catalogue)}}})
}

// ReadFile reads a scenario of a folder.
func ReadFile(t T, folder fs.FS, name string) *engine.Scenario {
	t.Helper()
	text, err := fs.ReadFile(folder, name)
	if err != nil {
		t.Fatal(err)
	}
	return Read(t, string(text), engine.Files{Tree: folder})
}

// Recommend gives the recommendation for a scenario.
func Recommend(t T, s *engine.Scenario, o engine.Options) *engine.Recommendation {
	t.Helper()
	r, err := engine.Recommend(context.Background(), s, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
