package cmd

import (
	"slices"
	"strings"
	"sync"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// A grid is a table: titles, and rows with as many cells as there are columns. A nil
// row is a gap between groups of rows.
type grid struct {
	columns  []column
	rows     [][]cell
	untitled bool // the titles are for Markdown only
}

// A column says how it gives way when a table is wider than its room: first columns are
// left out, that with the lowest number in spare first, then those that wrap do so.
type column struct {
	title string
	right bool // numbers, set to the right
	wraps bool
	spare int // 0 is never left out
}

type cell struct {
	text string
	tone tone
}

const (
	columnGap = 2
	minColumn = 12 // cells that a column that wraps keeps at least
)

// settleWidths makes the width of a character the same in every locale.
var settleWidths = sync.OnceFunc(func() { text.OverrideRuneWidthEastAsianWidth(false) })

// text gives the table with colours, at most width cells wide as long as the columns
// that neither wrap nor can be left out allow it.
func (g grid) text(colours *palette, width int) string {
	keep, widths := g.fit(width)
	t := table.NewWriter()
	t.SetStyle(plainStyle())
	configs := make([]table.ColumnConfig, len(keep))
	titles := make(table.Row, len(keep))
	for i, c := range keep {
		titles[i] = colours.paint(toneStrong, g.columns[c].title)
		configs[i].Number = i + 1
		if g.columns[c].right {
			configs[i].Align, configs[i].AlignHeader = text.AlignRight, text.AlignRight
		}
	}
	t.SetColumnConfigs(configs)
	if !g.untitled {
		t.AppendHeader(titles)
	}
	for _, row := range g.rows {
		cells := make(table.Row, len(keep))
		for i, c := range keep {
			cells[i] = ""
			if row != nil {
				lines := wrap(row[c].text, widths[i])
				for n, line := range lines {
					lines[n] = colours.paint(row[c].tone, line)
				}
				cells[i] = strings.Join(lines, "\n")
			}
		}
		t.AppendRow(cells)
	}
	return trimLines(t.Render()) + "\n"
}

// fit gives the columns to keep and their widths, for a table of the given width.
func (g grid) fit(width int) (keep, widths []int) {
	total := -columnGap
	for c := range g.columns {
		keep = append(keep, c)
		widths = append(widths, g.naturalWidth(c))
		total += widths[c] + columnGap
	}
	for total > width {
		spare := -1
		for i, c := range keep {
			if s := g.columns[c].spare; s > 0 && (spare < 0 || s < g.columns[keep[spare]].spare) {
				spare = i
			}
		}
		if spare < 0 {
			break
		}
		total -= widths[spare] + columnGap
		keep = append(keep[:spare:spare], keep[spare+1:]...)
		widths = append(widths[:spare:spare], widths[spare+1:]...)
	}
	for ; total > width; total-- {
		widest := -1
		for i, c := range keep {
			if g.columns[c].wraps && widths[i] > minColumn && (widest < 0 || widths[i] > widths[widest]) {
				widest = i
			}
		}
		if widest < 0 {
			break
		}
		widths[widest]--
	}
	return keep, widths
}

func (g grid) naturalWidth(c int) int {
	width := 0
	if !g.untitled {
		width = text.LongestLineLen(g.columns[c].title)
	}
	for _, row := range g.filledRows() {
		width = max(width, text.LongestLineLen(row[c].text))
	}
	return width
}

// filledRows gives the rows without the gaps.
func (g grid) filledRows() [][]cell {
	return slices.DeleteFunc(slices.Clone(g.rows), func(row []cell) bool { return row == nil })
}

func (g grid) markdown() string {
	t := table.NewWriter()
	t.SetStyle(plainStyle())
	titles := make(table.Row, len(g.columns))
	configs := make([]table.ColumnConfig, len(g.columns))
	for c, column := range g.columns {
		titles[c] = column.title
		if column.right {
			configs[c] = table.ColumnConfig{Number: c + 1, Align: text.AlignRight}
		}
	}
	t.SetColumnConfigs(configs)
	t.AppendHeader(titles)
	for _, row := range g.filledRows() {
		cells := make(table.Row, len(row))
		for c, cell := range row {
			cells[c] = escapeMarkdown(cell.text)
		}
		t.AppendRow(cells)
	}
	return t.RenderMarkdown()
}

// plainStyle is a table without lines but for one below the titles, which stay as they
// are written.
func plainStyle() table.Style {
	style := table.Style{Name: "plain", Box: table.BoxStyle{
		MiddleHorizontal: "-", MiddleSeparator: "--", MiddleVertical: "  ", PageSeparator: "\n",
	}}
	style.Format.Header, style.Format.Row = text.FormatDefault, text.FormatDefault
	style.Options.SeparateColumns, style.Options.SeparateHeader = true, true
	return style
}
