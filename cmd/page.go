package cmd

import (
	"context"
	"io"
	"strings"
	"unicode/utf8"

	"glassbrief/cmd/report"
	"glassbrief/engine/parallel"

	"github.com/jedib0t/go-pretty/v6/text"
)

// A page is a result laid out for people: blocks from top to bottom. It knows no
// colours and no widths, so that one page gives text, Markdown and the blocks of
// a report.
type page struct{ blocks []block }

// A block is one of a heading, a paragraph or a grid.
type block struct {
	heading   string
	paragraph string
	grid      *grid
}

func (p *page) heading(text string)   { p.blocks = append(p.blocks, block{heading: text}) }
func (p *page) paragraph(text string) { p.blocks = append(p.blocks, block{paragraph: text}) }
func (p *page) grid(g grid)           { p.blocks = append(p.blocks, block{grid: &g}) }

// pairs adds a grid of names and what they are, without titles, in groups.
func (p *page) pairs(groups ...[]pair) {
	g := grid{columns: []column{{title: "quantity"}, {title: "value", wraps: true}}, untitled: true}
	for _, group := range groups {
		if len(g.rows) > 0 && len(group) > 0 {
			g.rows = append(g.rows, nil)
		}
		for _, pair := range group {
			g.rows = append(g.rows, []cell{{text: pair.name}, {text: pair.value, tone: pair.tone}})
		}
	}
	p.grid(g)
}

type pair struct {
	name, value string
	tone        tone
}

// text writes the page for a terminal.
func (p *page) text(w io.Writer, colours *palette, width int) error {
	texts := make([]string, len(p.blocks))
	// Tables take long enough to share them out.
	err := parallel.For(context.Background(), len(p.blocks), 0, func(i int) {
		switch block := &p.blocks[i]; {
		case block.grid != nil:
			texts[i] = block.grid.text(colours, width)
		case block.heading != "":
			texts[i] = colours.paint(toneStrong, block.heading) + "\n"
		default:
			texts[i] = strings.Join(wrap(block.paragraph, width), "\n") + "\n"
		}
	})
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, strings.Join(texts, "\n"))
	return err
}

// markdown writes the page for a review comment or a document.
func (p *page) markdown(w io.Writer) error {
	var b strings.Builder
	for i, block := range p.blocks {
		if i > 0 {
			b.WriteByte('\n')
		}
		switch {
		case block.grid != nil:
			b.WriteString(block.grid.markdown() + "\n")
		case block.heading != "":
			b.WriteString("## " + escapeMarkdown(block.heading) + "\n")
		default:
			b.WriteString(escapeMarkdown(block.paragraph) + "\n")
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// escapeMarkdown keeps a name like "A*B_C" or "<b>" from becoming mark-up.
func escapeMarkdown(text string) string {
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "_", `\_`, "`", "\\`", "<", "&lt;", "[", `\[`, "#", `\#`).Replace(text)
}

// wrap breaks a text at blanks into lines of at most width cells, and a word that is
// longer than a line wherever it must.
func wrap(paragraph string, width int) []string {
	var lines []string
	var line []byte
	room := width
	end := func() { lines, line, room = append(lines, string(line)), line[:0], width }
	for word := range strings.FieldsSeq(paragraph) {
		if cells := text.StringWidth(word); len(line) > 0 && cells+1 > room {
			end()
		} else if len(line) > 0 {
			line, room = append(line, ' '), room-1
		}
		for _, c := range word {
			cells := text.RuneWidth(c)
			if cells > room && len(line) > 0 {
				end()
			}
			line, room = utf8.AppendRune(line, c), room-cells
		}
	}
	return append(lines, string(line))
}

// title gives the heading of all.
func (p *page) title() string { return p.blocks[0].heading }

// toneNames lists the names of the tones that a report shows.
var toneNames = map[tone]string{toneStrong: "strong", toneGood: "good", toneWarn: "warn", toneBad: "bad"}

// reportBlocks gives the blocks behind the title for a report.
func (p *page) reportBlocks() []report.Block {
	var blocks []report.Block
	for _, b := range p.blocks[1:] {
		switch {
		case b.grid != nil:
			blocks = append(blocks, report.Block{Table: b.grid.reportTable()})
		case b.heading != "":
			blocks = append(blocks, report.Block{Heading: b.heading})
		default:
			blocks = append(blocks, report.Block{Paragraph: b.paragraph})
		}
	}
	return blocks
}

func (g *grid) reportTable() *report.Table {
	t := &report.Table{Untitled: g.untitled}
	for _, c := range g.columns {
		t.Columns = append(t.Columns, report.Column{Title: c.title, Right: c.right})
	}
	for _, row := range g.filledRows() {
		cells := make([]report.Cell, len(row))
		for i, c := range row {
			cells[i] = report.Cell{Text: c.text, Tone: toneNames[c.tone]}
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}
