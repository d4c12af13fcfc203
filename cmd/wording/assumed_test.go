package wording

import "testing"

func TestMarks(t *testing.T) {
	tests := []struct {
		name, text string
		others     []string
		want       string
	}{
		{"the same everywhere", "f/4 at 2 m", []string{"f/4 at 2 m"}, "f/4 at 2 m"},
		{"one number", "f/4 at 2 m, sharp", []string{"f/4 at 2 m, sharp", "f/5.6 at 2 m, sharp"}, "~f/4 at 2 m, sharp"},
		{"a number that another place has too", "1 to 2", []string{"2 to 3"}, "~1 to ~2"},
		{"in brackets", "fair (0.51 of it)", []string{"fair (0.6 of it)"}, "fair (~0.51 of it)"},
		{"a word that was added", "T4 with 0 stops; ISO 800", []string{"T4 with 0 stops; a filter; ISO 200"}, "T4 with 0 stops; ISO ~800"},
		{"no number differs", "none", []string{"one"}, "~none"},
		{"all of it is another", "ND 6 stops, 77", []string{"none"}, "~ND 6 stops, 77"},
		{"nothing to say there", "f/4", []string{""}, "f/4"},
		{"nothing to say here", "", []string{"f/4"}, ""},
		{"feet and inches", "at 1ft 7 5/8in, sharp to 30ft", []string{"at 1ft 8in, sharp to 57ft 5in"}, "at ~1ft 7 5/8in, sharp to ~30ft"},
		{"a name with a number", `"Yard 50" would do it at 2 m`, []string{`"Yard 20" would do it at 3 m`}, `~"Yard 50" would do it at ~2 m`},
		{"a mixed number", "ND 2 2/3 stops", []string{"ND 2 1/3 stops", "ND 3 stops"}, "ND ~2 2/3 stops"},
		{"lines", "a 1\nb 2", []string{"a 1\nb 3"}, "a 1\nb ~2"},
	}
	for _, test := range tests {
		r := read(test.text)
		for _, other := range test.others {
			r.compare(other)
		}
		if got := r.String(); got != test.want {
			t.Errorf("%s: got %q, want %q", test.name, got, test.want)
		}
	}
}

func TestNumbersOfWords(t *testing.T) {
	for text, want := range map[string]float64{"f/1.8,": 1.8, "(12.0": 12, "-3": -3, "5ft 4in": 64, "7 5/8in,": 7.625, "1ft 1/2in": 12.5, "-2ft": -24, "7in": 7, "1/50": 1, "1/3": 1. / 3, "2 2/3 stops": 2 + 2./3, "4000": 4000} {
		w := word{text: text}
		if got, ok := w.number(); !ok || got != want {
			t.Errorf("%s: got %g, %v, want %g", text, got, ok, want)
		}
	}
}
