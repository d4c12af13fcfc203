package lang

import "testing"

func TestNearest(t *testing.T) {
	for _, test := range []struct {
		word string
		of   []string
		want string
	}{
		{"Wide 81", []string{"Wide 14", "Wide 18", "Normal 35"}, "Wide 18"},
		{"wide 18", []string{"Wide 18 II", "Wide 18"}, "Wide 18"},
		{"Prime 20", []string{"Prime 40", "Prime 20 II"}, "Prime 20 II"}, // lengthened
		{"Prime 20 II", []string{"Prime 40 II", "Prime 20"}, "Prime 20"}, // cut short
		{"Prime", []string{"Prime 20", "Prime 40"}, ""},                  // which of them nobody knows
		{"Prime 2", []string{"Prime 20"}, "Prime 20"},
		{"Zoom", []string{"Prime 20"}, ""},
	} {
		if got := Nearest(test.word, test.of); got != test.want {
			t.Errorf("nearest to %q of %q is %q, want %q", test.word, test.of, got, test.want)
		}
	}
}

// A file that is read twice has its faults once.
func TestSortedHasNoRepeats(t *testing.T) {
	const text = "shot\nshot\n"
	once, found := NewSource("a.scenario", []byte(text))
	again, _ := NewSource("a.scenario", []byte(text))
	changed, _ := NewSource("a.scenario", []byte("shot\nlens\n"))
	if found.HasErrors() {
		t.Fatal(found)
	}
	at := func(src *Source, summary string) Diagnostic {
		return Diagnostic{Severity: Error, Code: UnknownName, Span: Span{Source: src, Start: 5, End: 9}, Summary: summary}
	}
	all := Diagnostics{at(once, "a"), at(once, "b"), at(again, "a"), at(again, "b"), at(changed, "a"), {Summary: "a"}, {Summary: "a"}}
	if got := all.Sorted(); len(got) != 4 {
		t.Errorf("seven diagnostics of which three are repeats come to %d:\n%v", len(got), got)
	}
	if got := (Diagnostics{at(again, "a"), at(again, "c")}).Beyond(all); len(got) != 1 || got[0].Summary != "c" {
		t.Errorf("beyond what is known already stands %v, want the last alone", got)
	}
}
