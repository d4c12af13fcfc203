package show

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestPage(t *testing.T) {
	var p Page
	p.Heading("Kit of <two>")
	p.Pairs([]Pair{{Name: "first", Value: "Wide_18"}}, nil, []Pair{{Name: "second one", Value: "Normal 35", Tone: Good}})
	p.Paragraph("It fits.")
	p.File("shot \"1_A\" {\n  // \x1b\n}\n")
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

  shot "1_A" {
    // �
  }
`
	wantMarkdown := `## Kit of &lt;two&gt;

| quantity | value |
| --- | --- |
| first | Wide\_18 |
| second one | Normal 35 |

It fits.

    shot "1_A" {
      // �
    }
`
	if diff := cmp.Diff(wantText, text.String()); diff != "" {
		t.Errorf("text differs (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff(wantMarkdown, markdown.String()); diff != "" {
		t.Errorf("Markdown differs (-want +got):\n%s", diff)
	}
}
