package cmd

import (
	"io"
	"strings"

	"glassbrief/cmd/report"

	"github.com/jedib0t/go-pretty/v6/text"
)

// A page is a result laid out for people: blocks from top to bottom. It knows no
// colours and no widths, so that one page gives text and Markdown.
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
	var b strings.Builder
	for i, block := range p.blocks {
		if i > 0 {
			b.WriteByte('\n')
		}
		switch {
		case block.grid != nil:
			b.WriteString(block.grid.text(colours, width))
		case block.heading != "":
			b.WriteString(colours.paint(toneStrong, block.heading) + "\n")
		default:
			b.WriteString(strings.Join(wrap(block.paragraph, width), "\n") + "\n")
		}
	}
	_, err := io.WriteString(w, b.String())
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
	line, room := "", width
	for _, word := range strings.Fields(paragraph) {
		if cells := text.StringWidth(word); line != "" && cells+1 > room {
			lines, line, room = append(lines, line), "", width
		} else if line != "" {
			line, room = line+" ", room-1
		}
		for _, c := range word {
			cells := text.RuneWidth(c)
			if cells > room && line != "" {
				lines, line, room = append(lines, line), "", width
			}
			line, room = line+string(c), room-cells
		}
	}
	return append(lines, line)
}

func trimLines(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		lines[i] = strings.TrimRight(line, " ")
	}
	return strings.Join(lines, "\n")
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
