package engine_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// FuzzLoad reads any text as a scenario and as the rules of one. Nothing may panic, every
// finding has a place in its source, and a scenario comes out exactly when there is no
// error; then it can be judged.
func FuzzLoad(f *testing.F) {
	for _, text := range languageTexts(f) {
		f.Add(text)
	}
	hire, err := os.ReadFile("../scenarios/orchard-hire.catalog")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		checkLoad(t, text, fstest.MapFS{"orchard-hire.catalog": {Data: hire}})
		checkLoad(t, fewLenses, fstest.MapFS{
			"kit.catalog": {Data: []byte(equipment + "lens \"A\" {\n  mount \"Near\"\n  focal 24mm..50mm\n}\n")},
			"chunk.rules": {Data: []byte(text)},
		})
	})
}

// fewLenses is read faster than the demo catalogue.
const fewLenses = `use "kit.catalog"
scenario "Few" {
  camera "Body"
  rig    "Sled"
  rules  "chunk.rules"
}
shot "1A" {
  subject  person 1.7m
  frame    medium
  distance 2m
}
`

func checkLoad(t *testing.T, text string, tree fs.FS) {
	t.Helper()
	src, found := lang.NewSource("fuzz.scenario", []byte(text))
	if found.HasErrors() {
		return
	}
	s, found := brief.Load(src, brief.Files{Tree: tree})
	for _, d := range found {
		if at := d.Span; at.Known() && !(0 <= at.Start && at.Start <= at.End && at.End <= len(at.Source.Text)) {
			t.Errorf("%s: %d..%d lies outside the %d bytes of %s", d.Code, at.Start, at.End, len(at.Source.Text), at.Source.Name)
		}
		if !d.Span.Known() || d.Summary == "" || d.Severity == 0 {
			t.Errorf("a finding without place, summary or severity: %+v", d)
		}
	}
	if (s == nil) != found.HasErrors() {
		t.Fatalf("got a scenario: %v, errors: %v; want one of the two", s != nil, found.HasErrors())
	}
	if s == nil {
		return
	}
	answer, err := engine.Recommend(t.Context(), s, engine.Options{})
	if err != nil {
		return // the limits leave nothing to bring
	}
	for i := range answer.Shots {
		for _, j := range answer.Shots[i].Ranking {
			if !(j.Score >= 0 && j.Score <= 1) {
				t.Errorf("shot %s: %s scores %v", answer.Shots[i].Shot.ID, j.Lens, j.Score)
			}
		}
	}
}

// languageTexts reads every scenario and rules file of the repository, and the pieces of
// the faulty ones.
func languageTexts(t testing.TB) []string {
	t.Helper()
	var all []string
	err := filepath.WalkDir("..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		switch filepath.Ext(path) {
		case ".scenario", ".rules":
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			all = append(all, strings.Split(string(text), "//======")...)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}
