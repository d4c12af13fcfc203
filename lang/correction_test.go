package lang_test

import (
	"slices"
	"testing"

	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// correctable is what the faults of these texts are decoded into.
type correctable struct {
	Name  lang.Text     `lang:"name"`
	Mode  lang.Word     `lang:"mode,words=pulled|fixed"`
	Carry lang.Quantity `lang:"carry,dim=plain"`
	Range lang.Interval `lang:"range,dim=length"`
}

func TestCorrectionOfALine(t *testing.T) {
	for _, c := range []struct {
		name, text, want string // what the correction makes of the text
		title            string
		safe             bool
	}{
		{"a long dash", "range 3m–5m\n", "range 3m..5m\n", "write .. in place of –", true},
		{"a dash", "range 3m-5m\n", "range 3m..5m\n", "write 3m..5m in place of 3m-5m", true},
		{"a dash and one unit", "range 3-5m\n", "range 3m..5m\n", "write 3m..5m in place of 3-5m", true},
		{"backwards", "range 5m..3m\n", "range 3m..5m\n", "write 3m..5m in place of 5m..3m", true},
		{"one unit", "range 3..5m\n", "range 3m..5m\n", "write 3m in place of 3", true},
		{"one unit, and the ends the other way round", "range 30..5m\n", "range 30m..5m\n", "write 30m in place of 30", false},
		{"marks of feet", "range 5'3\"\n", "range 5ft 3in\n", `write 5ft 3in in place of 5'3"`, true},
		{"a comma may part two values", "carry 2,5\n", "carry 2.5\n", "write 2.5 in place of 2,5", false},
		{"a unit in capitals", "range 3MM\n", "range 3mm\n", "write mm in place of MM", true},
		{"a unit of one letter in capitals", "range 3M\n", "range 3m\n", "write m in place of M", false},
		{"a unit that is near another", "range 3mn\n", "range 3m\n", "write m in place of mn", false},
		{"no quotes", "name Wide 18\n", "name \"Wide 18\"\n", `write "Wide 18" in place of Wide 18`, true},
		{"other quotes", "name “Wide 18”  // why\n", "name \"Wide 18\"  // why\n", `write "Wide 18" in place of “Wide 18”`, true},
		{"no closing quote", "name \"Wide  // why\n", "name \"Wide\"  // why\n", `insert "`, false},
		{"a semicolon", "carry 2;\r\n", "carry 2\r\n", "remove ;", true},
		{"another remark", "  # why\n", "  // why\n", "write // in place of #", true},
		{"a word", "mode pulld\n", "mode pulled\n", "write pulled in place of pulld", true},
		{"a keyword", "crary 2\n", "carry 2\n", "write carry in place of crary", true},
		{"a keyword that is farther off", "crry1 2\n", "", "", false},
		{"too much", "carry 2 3 4\n", "carry 2\n", "remove 3 4", false},
		{"a block", "carry 2 {\n a\n}\n", "carry 2\n", "remove { a }", false},
		{"twice the same", "carry 2\n  carry 2\nmode fixed\n", "carry 2\nmode fixed\n", "remove carry 2", true},
		{"twice", "carry 2\ncarry 3 // why\n", "carry 2\n // why\n", "remove carry 3", false},
		{"a brace too many", "carry 2\n}\n", "carry 2\n\n", "remove }", false},
		{"no brace", "carry 2 {", "carry 2 {\n}\n", "insert }", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := source(t, c.text)
			var into correctable
			file, found := lang.Parse(src)
			if !found.HasErrors() {
				found = lang.Decode(file, &into)
			}
			if c.name == "no brace" { // it takes no block, either
				found = slices.DeleteFunc(found, func(d lang.Diagnostic) bool { return d.Code == lang.ExtraValue })
			}
			if len(found) != 1 {
				t.Fatalf("got %v, want one finding", found)
			}
			made, ok := found[0].Correction()
			if !ok {
				if c.want != "" {
					t.Fatalf("%v has no correction", found[0])
				}
				return
			}
			text, _ := lang.Correct(src, []lang.Correction{made})
			if text != c.want || made.Safe != c.safe || made.Title() != c.title {
				t.Errorf("got %q, safe: %v, %q; want %q, %v, %q", text, made.Safe, made.Title(), c.want, c.safe, c.title)
			}
		})
	}
}

// Corrections that overlap are made one at a time, and those of another text not at all.
func TestCorrect(t *testing.T) {
	src, other := source(t, "carry 2"), source(t, "carry 2")
	all := []lang.Correction{
		{Span: lang.Span{Source: src, Start: 6, End: 7}, Text: "3"}, {Span: lang.Span{Source: src, Start: 6, End: 7}, Text: "4"},
		{Span: lang.Span{Source: src, Start: 0, End: 5}, Text: "bag"}, {Span: lang.Span{Source: other, Start: 5, End: 6}, Text: "\t"},
		{Span: lang.Span{Source: src, Start: 7, End: 7}, Text: "kg"}, {Span: lang.Span{Source: src, Start: 7, End: 7}, Text: "kg"},
	}
	text, made := lang.Correct(src, all)
	if text != "bag 3kg" {
		t.Errorf("got %q, want %q", text, "bag 3kg")
	}
	if diff := cmp.Diff(3, len(made)); diff != "" {
		t.Errorf("made %v", made)
	}
}
