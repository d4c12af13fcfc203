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
	gap       = "  " // between columns
	minColumn = 12   // cells that a column that wraps keeps at least
)

// settleWidths makes the width of a character the same in every locale.
var settleWidths = sync.OnceFunc(func() { text.OverrideRuneWidthEastAsianWidth(false) })

// align is how a column's cells are set.
func (c column) align() text.Align {
	if c.right {
		return text.AlignRight
	}
	return text.AlignLeft
}

// text gives the table with colours, at most width cells wide as long as the columns
// that neither wrap nor can be left out allow it.
func (g grid) text(colours *palette, width int) string {
	keep, room := g.fit(width)
	rows := g.titledRows()
	lines, widths := wrapped(rows, keep, room)
	var out strings.Builder
	for n, row := range rows {
		height := 1
		for _, cell := range lines[n] {
			height = max(height, len(cell))
		}
		for at := range height {
			parts := make([]string, len(keep))
			for i, c := range keep {
				if at < len(lines[n][i]) {
					parts[i] = colours.paint(row[c].tone, lines[n][i][at])
				}
				parts[i] = g.columns[c].align().Apply(parts[i], widths[i])
			}
			out.WriteString(strings.TrimRight(strings.Join(parts, gap), " ") + "\n")
		}
		if n == 0 && !g.untitled {
			rule := len(gap) * (len(keep) - 1)
			for _, w := range widths {
				rule += w
			}
			out.WriteString(strings.Repeat("-", rule) + "\n")
		}
	}
	return out.String()
}

// titledRows gives the rows, behind the titles if they are shown.
func (g grid) titledRows() [][]cell {
	if g.untitled {
		return g.rows
	}
	titles := make([]cell, len(g.columns))
	for c, column := range g.columns {
		titles[c] = cell{text: column.title, tone: toneStrong}
	}
	return append([][]cell{titles}, g.rows...)
}

// wrapped gives the lines of each cell of the columns that are kept, and how wide the
// longest in each column is.
func wrapped(rows [][]cell, keep, room []int) (lines [][][]string, widths []int) {
	lines, widths = make([][][]string, len(rows)), make([]int, len(keep))
	for n, row := range rows {
		lines[n] = make([][]string, len(keep))
		if row == nil {
			continue
		}
		for i, c := range keep {
			lines[n][i] = wrap(row[c].text, room[i])
			for _, line := range lines[n][i] {
				widths[i] = max(widths[i], text.StringWidth(line))
			}
		}
	}
	return lines, widths
}

// fit gives the columns to keep and their widths, for a table of the given width.
func (g grid) fit(width int) (keep, widths []int) {
	total := -len(gap)
	for c := range g.columns {
		keep = append(keep, c)
		widths = append(widths, g.naturalWidth(c))
		total += widths[c] + len(gap)
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
		total -= widths[spare] + len(gap)
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
	t.Style().Format.Header = text.FormatDefault
	titles := make(table.Row, len(g.columns))
	configs := make([]table.ColumnConfig, len(g.columns))
	for c, column := range g.columns {
		titles[c] = column.title
		if column.right {
			configs[c] = table.ColumnConfig{Number: c + 1, Align: column.align()}
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
