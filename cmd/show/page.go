package show

import (
	"context"
	"io"
	"slices"
	"strings"

	"glassbrief/engine/parallel"
	"glassbrief/lang"

	"github.com/jedib0t/go-pretty/v6/text"
)

// A Page is a result laid out for people: blocks from top to bottom. It knows no
// colours and no widths, so that one page gives text, Markdown and a part of a report.
type Page struct{ Blocks []Block }

// A Block is one of a heading, a paragraph, a grid or lines as they stand in a file.
type Block struct {
	Heading   string
	Paragraph string
	Grid      *Grid
	Lines     []string
}

// Heading adds a heading.
func (p *Page) Heading(text string) { p.Blocks = append(p.Blocks, Block{Heading: text}) }

// Paragraph adds a paragraph, which wraps.
func (p *Page) Paragraph(text string) { p.Blocks = append(p.Blocks, Block{Paragraph: text}) }

// Grid adds a table.
func (p *Page) Grid(g Grid) { p.Blocks = append(p.Blocks, Block{Grid: &g}) }

// File adds lines as they stand in a file.
func (p *Page) File(text string) {
	p.Blocks = append(p.Blocks, Block{Lines: strings.Split(strings.TrimSuffix(text, "\n"), "\n")})
}

// Says reports whether a text stands anywhere on the page.
func (p *Page) Says(text string) bool {
	return slices.ContainsFunc(p.Blocks, func(b Block) bool {
		return strings.Contains(b.Heading+b.Paragraph, text) || b.Grid != nil && slices.ContainsFunc(b.Grid.Rows, func(row []Cell) bool {
			return slices.ContainsFunc(row, func(c Cell) bool { return strings.Contains(c.Text, text) })
		})
	})
}

// Pairs adds a grid of names and what they are, without titles, in groups.
func (p *Page) Pairs(groups ...[]Pair) {
	g := Grid{Columns: []Column{{Title: "quantity"}, {Title: "value", Wraps: true}}, Untitled: true}
	for _, group := range groups {
		if len(g.Rows) > 0 && len(group) > 0 {
			g.Rows = append(g.Rows, nil)
		}
		for _, pair := range group {
			g.Rows = append(g.Rows, []Cell{{Text: pair.Name}, {Text: pair.Value, Tone: pair.Tone}})
		}
	}
	p.Grid(g)
}

// A Pair is a name and what it is.
type Pair struct {
	Name, Value string
	Tone        Tone
}

// Text writes the page for a terminal.
func (p *Page) Text(w io.Writer, colours *Palette, width int) error {
	texts := make([]string, len(p.Blocks))
	p.clean()
	// Tables take long enough to share them out.
	err := parallel.For(context.Background(), len(p.Blocks), 0, func(i int) {
		switch block := &p.Blocks[i]; {
		case block.Grid != nil:
			texts[i] = block.Grid.text(colours, width)
		case block.Lines != nil:
			texts[i] = "  " + strings.Join(block.Lines, "\n  ") + "\n"
		case block.Heading != "":
			for _, line := range heading(block.Heading, width) {
				texts[i] += colours.paint(Strong, line) + "\n"
			}
		default:
			texts[i] = strings.Join(Wrap(block.Paragraph, width), "\n") + "\n"
		}
	})
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, strings.Join(texts, "\n"))
	return err
}

// heading gives the lines of a heading, which keeps its blanks where it holds in one.
func heading(line string, width int) []string {
	if text.StringWidth(line) <= width {
		return []string{line}
	}
	return Wrap(line, width)
}

// Markdown writes the page for a review comment or a document.
func (p *Page) Markdown(w io.Writer) error {
	p.clean()
	var b strings.Builder
	for i, block := range p.Blocks {
		if i > 0 {
			b.WriteByte('\n')
		}
		switch {
		case block.Grid != nil:
			b.WriteString(block.Grid.markdown() + "\n")
		case block.Lines != nil:
			b.WriteString("    " + strings.Join(block.Lines, "\n    ") + "\n")
		case block.Heading != "":
			b.WriteString("## " + escapeMarkdown(block.Heading) + "\n")
		default:
			b.WriteString(escapeMarkdown(block.Paragraph) + "\n")
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// clean replaces what would steer a terminal, wherever a text came from.
func (p *Page) clean() {
	clean := func(text *string) { *text = lang.Printable(strings.Map(blank, *text)) }
	for i := range p.Blocks {
		block := &p.Blocks[i]
		clean(&block.Heading)
		clean(&block.Paragraph)
		for l := range block.Lines {
			clean(&block.Lines[l])
		}
		if block.Grid == nil {
			continue
		}
		for c := range block.Grid.Columns {
			clean(&block.Grid.Columns[c].Title)
		}
		for _, row := range block.Grid.Rows {
			for c := range row {
				clean(&row[c].Text)
			}
		}
	}
}

// blank makes a blank of a tab and of the end of a line.
func blank(c rune) rune {
	if c == '\t' || c == '\n' || c == '\r' {
		return ' '
	}
	return c
}

// escapeMarkdown keeps a name like "A*B_C", "<b>" or "www.a.b" from becoming mark-up or a link.
func escapeMarkdown(text string) string {
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "&lt;", ">", "&gt;", "&", "&amp;", "[", `\[`, "#", `\#`, "://", "&#58;//", "www.", "www&#46;", "@", "&#64;").Replace(text)
}

// Title gives the heading of all, which stands first.
func (p *Page) Title() string { return p.Blocks[0].Heading }
