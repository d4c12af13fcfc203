package engine_test

import (
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

// FuzzLoad reads any text as a scenario, as more of one, and as the rules of one. Nothing
// may panic, every finding has a place in its source, and a scenario comes out exactly when
// there is no error; then it can be judged.
func FuzzLoad(f *testing.F) {
	for _, text := range langtest.Blocks(f, os.DirFS(".."), ".scenario", ".rules") {
		f.Add(text)
	}
	f.Add(fewLenses)
	catalogue := []byte(equipment + "lens \"A\" {\n  mount \"Near\"\n  focal 24mm..50mm\n}\n")
	f.Fuzz(func(t *testing.T, text string) {
		tree := fstest.MapFS{"kit.catalog": {Data: catalogue}, "chunk.rules": {Data: []byte(text)}}
		checkLoad(t, text, tree)
		checkLoad(t, fewLenses+text, tree)
		checkLoad(t, strings.Replace(fewLenses, "rig ", "rules \"chunk.rules\"\n  rig ", 1), tree)
	})
}

// fewLenses is a scenario that is read faster than one with the demo catalogue.
const fewLenses = `use "kit.catalog"
scenario "Few" {
  camera "Body"
  rig    "Sled"
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
