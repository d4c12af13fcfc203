package show

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
)

// A Grid is a table: titles, and rows with as many cells as there are columns. A nil
// row is a gap between groups of rows.
type Grid struct {
	Columns  []Column
	Rows     [][]Cell
	Untitled bool // the titles are for Markdown only
}

// A Column says how it gives way when a table is wider than its room: first columns are
// left out, that with the lowest number in spare first, then those that wrap do so.
type Column struct {
	Title string
	Right bool // numbers, set to the right
	Wraps bool
	Spare int // 0 is never left out
	Least int // cells that it keeps when it wraps; 0 for minColumn
}

type Cell struct {
	Text string
	Tone Tone
}

const (
	gap       = "  " // between columns
	minColumn = 12   // cells that a column that wraps keeps at least
)

// SettleWidths makes the width of a character the same in every locale.
var SettleWidths = sync.OnceFunc(func() { text.OverrideRuneWidthEastAsianWidth(false) })

// align is how a column's cells are set.
func (c Column) align() text.Align {
	if c.Right {
		return text.AlignRight
	}
	return text.AlignLeft
}

// Text gives the table with colours, at most width cells wide as long as the columns
// that neither wrap nor can be left out allow it.
func (g Grid) text(colours *Palette, width int) string {
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
					parts[i] = colours.paint(row[c].Tone, lines[n][i][at])
				}
				parts[i] = g.Columns[c].align().Apply(parts[i], widths[i])
			}
			out.WriteString(strings.TrimRight(strings.Join(parts, gap), " ") + "\n")
		}
		if n == 0 && !g.Untitled {
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
func (g Grid) titledRows() [][]Cell {
	if g.Untitled {
		return g.Rows
	}
	titles := make([]Cell, len(g.Columns))
	for c, column := range g.Columns {
		titles[c] = Cell{Text: column.Title, Tone: Strong}
	}
	return append([][]Cell{titles}, g.Rows...)
}

// wrapped gives the lines of each cell of the columns that are kept, and how wide the
// longest in each column is.
func wrapped(rows [][]Cell, keep, room []int) (lines [][][]string, widths []int) {
	lines, widths = make([][][]string, len(rows)), make([]int, len(keep))
	for n, row := range rows {
		lines[n] = make([][]string, len(keep))
		if row == nil {
			continue
		}
		for i, c := range keep {
			lines[n][i] = wrap(row[c].Text, room[i])
			for _, line := range lines[n][i] {
				widths[i] = max(widths[i], text.StringWidth(line))
			}
		}
	}
	return lines, widths
}

// fit gives the columns to keep and their widths, for a table of the given width.
func (g Grid) fit(width int) (keep, widths []int) {
	total := -len(gap)
	for c := range g.Columns {
		keep = append(keep, c)
		widths = append(widths, g.naturalWidth(c))
		total += widths[c] + len(gap)
	}
	for total > width {
		spare := -1
		for i, c := range keep {
			if s := g.Columns[c].Spare; s > 0 && (spare < 0 || s < g.Columns[keep[spare]].Spare) {
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
			if g.Columns[c].Wraps && widths[i] > cmp.Or(g.Columns[c].Least, minColumn) && (widest < 0 || widths[i] > widths[widest]) {
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

func (g Grid) naturalWidth(c int) int {
	width := 0
	if !g.Untitled {
		width = text.LongestLineLen(g.Columns[c].Title)
	}
	for _, row := range g.FilledRows() {
		width = max(width, text.LongestLineLen(row[c].Text))
	}
	return width
}

// FilledRows gives the rows without the gaps.
func (g Grid) FilledRows() [][]Cell {
	return slices.DeleteFunc(slices.Clone(g.Rows), func(row []Cell) bool { return row == nil })
}

func (g Grid) markdown() string {
	t := table.NewWriter()
	t.Style().Format.Header = text.FormatDefault
	titles := make(table.Row, len(g.Columns))
	configs := make([]table.ColumnConfig, len(g.Columns))
	for c, column := range g.Columns {
		titles[c] = column.Title
		if column.Right {
			configs[c] = table.ColumnConfig{Number: c + 1, Align: column.align()}
		}
	}
	t.SetColumnConfigs(configs)
	t.AppendHeader(titles)
	for _, row := range g.FilledRows() {
		cells := make(table.Row, len(row))
		for c, cell := range row {
			cells[c] = escapeMarkdown(cell.Text)
		}
		t.AppendRow(cells)
	}
	return t.RenderMarkdown()
}
