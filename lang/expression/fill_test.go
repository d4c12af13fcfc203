package expression

import (
	"strings"
	"testing"

	"glassbrief/lang"
)

func TestFill(t *testing.T) {
	names := NewVocabulary([]Name{
		{Name: "stop", Kind: Number, Dim: lang.Aperture}, {Name: "short", Kind: Number, Dim: lang.Stops},
		{Name: "near_limit", Kind: Number, Dim: lang.Length}, {Name: "is_person", Kind: Truth},
	})
	tests := []struct{ name, text, want string }{
		{"a comparison", "near_limit < 2m", "<near_limit> < 2m"},
		{"a unit that is spelt as a fact", "short > 1 stop", "<short> > 1 stop"},
		{"a fact twice, without blanks", "short+short>2 stops", "<short>+<short>>2 stops"},
		{"a fact behind a stroke", "2m/near_limit > 1", "2m/<near_limit> > 1"},
		{"a function", "is_person and max(near_limit, 1m) > 0.5 * near_limit", "<is_person> and max(<near_limit>, 1m) > 0.5 * <near_limit>"},
		{"a question for what is known", "known(stop) ? stop > f/2 : false", "known(<stop>) ? <stop> > f/2 : false"},
		{"lines and comments", "near_limit // how near\n  < 2m", "<near_limit> < 2m"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			src, ds := lang.NewSource("rule", []byte(test.text))
			if ds.HasErrors() {
				t.Fatal(ds)
			}
			checked, ds := Check(lang.Span{Source: src, End: len(test.text)}, names, WantTruth)
			if ds.HasErrors() {
				t.Fatal(ds)
			}
			got := checked.Fill(func(index int) string { return "<" + names.Name(index).Name + ">" })
			if got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
			if strings.Contains(test.text, "//") {
				return
			}
			if same := checked.Fill(func(index int) string { return names.Name(index).Name }); same != checked.Text() {
				t.Errorf("facts by their own names: got %q, want %q", same, checked.Text())
			}
		})
	}
}
