package show

import (
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/mattn/go-runewidth"
	"pgregory.net/rapid"
)

var lenses = Grid{
	Columns: []Column{
		{Title: "lens"},
		{Title: "score", Right: true},
		{Title: "mass", Right: true, Spare: 1},
		{Title: "why", Wraps: true},
	},
	Rows: [][]Cell{
		{{Text: "Wide 18", Tone: Strong}, {Text: "0.81"}, {Text: "620 g"}, {Text: "sharp from 1.6 m to 2.8 m at T2.8"}},
		nil,
		{{Text: "広角 24"}, {Text: "0.7"}, {Text: "unknown"}, {Text: "a|b *c*", Tone: Bad}},
	},
}

func TestGridText(t *testing.T) {
	tests := []struct {
		name    string
		colours bool
		width   int
		want    string
	}{
		{name: "with room", width: 80, want: `
lens     score     mass  why
----------------------------------------------------------
Wide 18   0.81    620 g  sharp from 1.6 m to 2.8 m at T2.8

広角 24    0.7  unknown  a|b *c*
`},
		{name: "the spare column goes first", width: 50, want: `
lens     score  why
-------------------------------------------------
Wide 18   0.81  sharp from 1.6 m to 2.8 m at T2.8

広角 24    0.7  a|b *c*
`},
		{name: "then the text wraps", width: 36, want: `
lens     score  why
-----------------------------------
Wide 18   0.81  sharp from 1.6 m to
                2.8 m at T2.8

広角 24    0.7  a|b *c*
`},
		{name: "colours take no room", width: 50, colours: true, want: `
~[1mlens~[22m     ~[1mscore~[22m  ~[1mwhy~[22m
-------------------------------------------------
~[1mWide 18~[22m   0.81  sharp from 1.6 m to 2.8 m at T2.8

広角 24    0.7  ~[31;1ma|b *c*~[0;22m
`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := strings.ReplaceAll(lenses.text(NewPalette(test.colours), test.width), "\x1b", "~")
			if diff := cmp.Diff(strings.TrimPrefix(test.want, "\n"), got); diff != "" {
				t.Errorf("table differs (-want +got):\n%s", diff)
			}
		})
	}
}

func TestGridMarkdown(t *testing.T) {
	want := `| lens | score | mass | why |
| --- | ---:| ---:| --- |
| Wide 18 | 0.81 | 620 g | sharp from 1.6 m to 2.8 m at T2.8 |
| 広角 24 | 0.7 | unknown | a\|b \*c\* |`
	if diff := cmp.Diff(want, lenses.markdown()); diff != "" {
		t.Errorf("table differs (-want +got):\n%s", diff)
	}
}

// brokenValue finds a unit without its number. No word of TestGridFits has an m.
var brokenValue = regexp.MustCompile(`(?m)(^|  )mm( |$)`)

// Whatever is in a table, its lines fit, and no value breaks that has room in a line.
func TestGridFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`([a-l夜é]{1,14} |[1-9]{1,2}\.[1-9] mm ){0,8}`)
		g := Grid{Columns: []Column{{Title: "one"}, {Title: "two", Spare: 2}, {Title: "three", Wraps: true}, {Title: "four", Spare: 1}}}
		for range rapid.IntRange(0, 4).Draw(t, "rows") {
			g.Rows = append(g.Rows, []Cell{
				{Text: rapid.StringMatching(`[a-l]{0,10}`).Draw(t, "first")}, {Text: text.Draw(t, "second")},
				{Text: text.Draw(t, "third"), Tone: Good}, {Text: text.Draw(t, "fourth")},
			})
		}
		width := rapid.IntRange(MinWidth, 120).Draw(t, "width")
		got := g.text(NewPalette(false), width)
		if brokenValue.MatchString(got) {
			t.Errorf("a value is broken:\n%s", got)
		}
		for _, line := range strings.Split(got, "\n") {
			if got := runewidth.StringWidth(line); got > width {
				t.Errorf("the line takes %d cells, want at most %d: %q", got, width, line)
			}
		}
	})
}

// A column without any text takes no cells, and is no reason to fail.
func TestGridWithAnEmptyColumn(t *testing.T) {
	long := strings.Repeat("word ", 40)
	got := Grid{Untitled: true, Columns: []Column{{Wraps: true}, {Wraps: true}}, Rows: [][]Cell{{{}, {Text: long}}}}.text(NewPalette(false), 80)
	if words := strings.Count(got, "word"); words != 40 {
		t.Errorf("got %d words, want 40:\n%s", words, got)
	}
}

// The last row of a table with titles decides as well which column gives way.
func TestGridHeedsItsLastRow(t *testing.T) {
	words := func(n int) Cell { return Cell{Text: strings.TrimSpace(strings.Repeat("word ", n))} }
	g := Grid{Columns: []Column{{Title: "a", Wraps: true}, {Title: "b", Wraps: true}}, Rows: [][]Cell{{words(12), words(30)}}}
	got := g.text(NewPalette(false), 82)
	if lines := strings.Count(got, "\n") - 2; lines != 3 { // without the titles and their rule
		t.Errorf("the row takes %d lines, want 3:\n%s", lines, got)
	}
}
