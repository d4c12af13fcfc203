package show

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestWrap(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string
	}{
		{"empty", "", []string{""}},
		{"fits", "one two", []string{"one two"}},
		{"breaks at a blank", "one two three", []string{"one two", "three"}},
		{"a line just full", "one 4567 three", []string{"one 4567", "three"}},
		{"a long word", "an overlong9word", []string{"an", "overlong", "9word"}},
		{"goes on behind a long word", "123456789 two", []string{"12345678", "9 two"}},
		{"wide characters do not overhang", "夜の船1夜", []string{"夜の船1", "夜"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if diff := cmp.Diff(test.want, wrap(test.text, 8)); diff != "" {
				t.Errorf("lines differ (-want +got):\n%s", diff)
			}
		})
	}
}

func TestPage(t *testing.T) {
	var p Page
	p.Heading("Kit of <two>")
	p.Pairs([]Pair{{Name: "first", Value: "Wide_18"}}, nil, []Pair{{Name: "second one", Value: "Normal 35", Tone: Good}})
	p.Paragraph("It fits.")
	var text, markdown strings.Builder
	if err := p.Text(&text, NewPalette(false), 80); err != nil {
		t.Fatal(err)
	}
	if err := p.Markdown(&markdown); err != nil {
		t.Fatal(err)
	}
	wantText := `Kit of <two>

first       Wide_18

second one  Normal 35

It fits.
`
	wantMarkdown := `## Kit of &lt;two>

| quantity | value |
| --- | --- |
| first | Wide\_18 |
| second one | Normal 35 |

It fits.
`
	if diff := cmp.Diff(wantText, text.String()); diff != "" {
		t.Errorf("text differs (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(wantMarkdown, markdown.String()); diff != "" {
		t.Errorf("Markdown differs (-want +got):\n%s", diff)
	}
}
