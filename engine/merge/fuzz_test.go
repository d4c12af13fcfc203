package merge

import (
	"iter"
	"strings"
	"testing"
	"time"

	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

// Whatever three texts hold, a merge ends in time, what one side alone changes comes out as it stands, and
// no line is lost that a side added.
func FuzzMerge(f *testing.F) {
	const base = "use demo\n\n// c\nshot \"A\" {\n  scene 1 // d\n  need a < 1\n}\nshot \"B\" { weight 1 }\n"
	for _, change := range []struct{ old, ours, theirs string }{
		{"scene 1", "scene 2", "scene 3"}, {"scene 1 // d", "scene 1", "scene 1 // e"}, {"use demo\n", "", "use demo\nuse \"a\"\n"},
		{"shot \"B\" { weight 1 }\n", "shot \"C\" { weight 1 }\n", "shot \"B\" { weight 2 // x\n scene 4 }\n"}, {"need a < 1", "need (a +\n 2) < 1", "need a < 1 because \"x\""},
		{"// c", "// c\n\n// d\n", "// e"}, {"\n", "\r\n", "\n"}, {"}", "", "}"}, {"a < 1\n", "a <\n", "a < 1\n  weight 2\n"},
	} {
		f.Add(base, strings.ReplaceAll(base, change.old, change.ours), strings.ReplaceAll(base, change.old, change.theirs), uint8(0))
	}
	f.Add("a\nb\nc", "a\nc\nb\n", "\xef\xbb\xbfb\na\n", uint8(1))
	f.Add("", "lens \"A\" {\n}\n", "lens \"A\" {\n  mass 1kg\n}", uint8(2))
	f.Add("<<<<<<< a\n", "=======\n", ">>>>>>> b\n", uint8(12))
	f.Add("0", "1", byteOrderMark, uint8(0))
	f.Add("A", "", byteOrderMark+byteOrderMark, uint8(0))
	shape := shapes()
	f.Fuzz(func(t *testing.T, base, ours, theirs string, marks uint8) {
		if len(base)+len(ours)+len(theirs) > 4000 {
			return
		}
		o := Options{Shape: shape, Ours: "ours", Theirs: "theirs", Marks: int(marks % 20)}
		var r Result
		took := langtest.Clock(langtest.Processor).Time(func() {
			r = Merge(Version{"base", base}, Version{"ours", ours}, Version{"theirs", theirs}, o)
		})
		if took > langtest.Allowed(time.Second) {
			t.Errorf("it took %v", took)
		}
		said := map[string]bool{"": true} // a piece of layout alone says nothing
		for _, text := range []string{base, r.Text} {
			for piece := range pieces(text) {
				said[bare(piece)], said[tidy(piece)] = true, true
			}
		}
		for _, side := range []string{ours, theirs} {
			for piece := range pieces(side) {
				if !said[bare(piece)] && !said[tidy(piece)] {
					t.Errorf("%q is lost in\n%q", piece, r.Text)
				}
			}
		}
		if r := Merge(Version{"base", base}, Version{"ours", ours}, Version{"theirs", base}, o); r.Text != ours || len(r.Conflicts) > 0 {
			t.Errorf("with theirs as it was, %d conflicts and\n%q\nwant\n%q", len(r.Conflicts), r.Text, ours)
		}
		if r := Merge(Version{"base", base}, Version{"ours", base}, Version{"theirs", theirs}, o); r.Text != theirs || len(r.Conflicts) > 0 {
			t.Errorf("with ours as it was, %d conflicts and\n%q\nwant\n%q", len(r.Conflicts), r.Text, theirs)
		}
	})
}

var blanks = strings.NewReplacer(" ", "", "\t", "", "\r", "", "\n", "", byteOrderMark, "")

// bare gives a line without what is layout.
func bare(line string) string { return blanks.Replace(line) }

// tidy is bare of a piece whose units are spelt as they are in tidy text.
func tidy(piece string) string {
	src, _ := lang.NewSource("", []byte(piece))
	return bare(lang.Tidy(src))
}

// pieces cuts lines at braces, since a merge gives what stands in a block a line of its own, and at
// comments, which are merged for themselves.
func pieces(text string) iter.Seq[string] {
	return func(yield func(string) bool) {
		for line := range strings.Lines(text) {
			for i, part := range strings.Split(line, "//") {
				for _, piece := range strings.FieldsFunc(part, func(c rune) bool { return i == 0 && (c == '{' || c == '}') }) {
					if !yield(piece) {
						return
					}
				}
			}
		}
	}
}
