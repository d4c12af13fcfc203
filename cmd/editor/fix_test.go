package editor

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// faulty has findings with a correction that is safe, with one that is not, and with none.
const faulty = `use demo

scenario "Faulty" {
  camera    "House body A"
  rig       Short sled
  bring     "Wide 81"
}

shot "1A" {
  subject   person 1.7m
  frame     medium
  distance  1.6..2.8m
  move      laed 1m/s // ä
  weight    0
}
`

// actions asks for the code actions of a range of lines.
func (s *session) actions(file string, first, last int, only ...string) []codeAction {
	s.t.Helper()
	var got []codeAction
	answer := s.request("textDocument/codeAction", map[string]any{
		"textDocument": textDocument{URI: s.uri(file)}, "range": textRange{position{Line: first}, position{Line: last, Character: 1000}},
		"context": map[string]any{"diagnostics": []any{}, "only": only},
	})
	if err := json.Unmarshal(answer, &got); err != nil {
		s.t.Fatal(err)
	}
	return got
}

// edited makes the edits of one file in a text.
func edited(text string, edits []textEdit) string {
	src, _ := lang.NewSource("text", []byte(text))
	slices.SortFunc(edits, func(a, b textEdit) int { return offsetOf(src, b.Range.Start) - offsetOf(src, a.Range.Start) })
	for _, e := range edits {
		text = text[:offsetOf(src, e.Range.Start)] + e.NewText + text[offsetOf(src, e.Range.End):]
	}
	return text
}

func TestFixes(t *testing.T) {
	s := begin(t, nil)
	s.open("a.scenario", faulty)
	var titles []string
	for _, action := range s.actions("a.scenario", 0, 100) {
		title := action.Kind + ": " + action.Title
		if action.IsPreferred {
			title += " (preferred)"
		}
		titles = append(titles, title)
	}
	want := []string{
		`quickfix: Write "Short sled" in place of Short sled (preferred)`,
		`quickfix: Write Wide 18 in place of Wide 81`,
		`quickfix: Write 1.6m in place of 1.6 (preferred)`,
		`quickfix: Write lead in place of laed (preferred)`,
		`source.fixAll: Correct all that is only spelt otherwise`,
	}
	if diff := cmp.Diff(want, titles); diff != "" {
		t.Errorf("actions (-want +got):\n%s", diff)
	}
	if got := s.actions("a.scenario", 11, 11, quickFix); len(got) != 1 || got[0].Diagnostics[0].Code != lang.MissingUnit {
		t.Errorf("on its line got %+v, want that of the unit alone", got)
	}
	if got := s.actions("a.scenario", 0, 100, "refactor"); len(got) != 0 {
		t.Errorf("got %+v for another kind", got)
	}
	all := s.actions("a.scenario", 0, 0, fixAll)
	if len(all) != 1 {
		t.Fatalf("got %+v, want the one that corrects all", all)
	}
	after := edited(faulty, all[0].Edit.Changes[s.uri("a.scenario")])
	for _, line := range []string{`  rig       "Short sled"`, `  bring     "Wide 81"`, "  distance  1.6m..2.8m", "  move      lead 1m/s // ä"} {
		if !strings.Contains(after, line+"\n") {
			t.Errorf("the corrected text lacks %q:\n%s", line, after)
		}
	}
	s.open("a.scenario", after)
	if got := s.actions("a.scenario", 0, 100, fixAll); len(got) != 0 {
		t.Errorf("something is left to correct: %+v", got)
	}
}
