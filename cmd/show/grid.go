package show

import (
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
// left out, that with the lowest number in spare first, then those that wrap do so, where that
// makes the table least long, and when they are hard to read all others too. Values stay whole.
type Column struct {
	Title string
	Right bool // numbers, set to the right
	Wraps bool
	Spare int // 0 is never left out
}

// A Cell is a piece of text in a table, with what it means.
type Cell struct {
	Text string
	Tone Tone
}

const (
	gap      = "  " // between columns
	readable = 24   // cells that a column that wraps keeps as long as names need not break for it
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

// text gives the table with colours, at most width cells wide. One whose columns have no room
// for their values side by side has them below one another.
func (g Grid) text(colours *Palette, width int) string {
	keep, room, fits := g.fit(width)
	if !fits && !g.Untitled {
		return g.stacked(colours, width)
	}
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
			lines[n][i] = Wrap(row[c].Text, room[i])
			for _, line := range lines[n][i] {
				widths[i] = max(widths[i], cellsOf(line))
			}
		}
	}
	return lines, widths
}

// stacked gives each row as a list of titles and values.
func (g Grid) stacked(colours *Palette, width int) string {
	var rows []string
	for _, row := range g.FilledRows() {
		list := Grid{Columns: []Column{{Wraps: true}, {Wraps: true}}, Untitled: true}
		for c, cell := range row {
			if cell.Text != "" {
				list.Rows = append(list.Rows, []Cell{{Text: g.Columns[c].Title}, cell})
			}
		}
		rows = append(rows, list.text(colours, width))
	}
	return strings.Join(rows, "\n")
}

// fit gives the columns to keep and their widths, for a table of the given width, and whether
// they hold in it without breaking a value.
func (g Grid) fit(width int) (keep, widths []int, fits bool) {
	total := -len(gap)
	for c := range g.Columns {
		keep = append(keep, c)
		widths = append(widths, g.longest(c, longestLine))
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
	if total <= width {
		return keep, widths, true
	}
	least, whole := make([]int, len(keep)), make([]int, len(keep))
	for i, c := range keep {
		whole[i] = g.longest(c, longestPiece)
		if least[i] = widths[i]; g.Columns[c].Wraps {
			least[i] = max(whole[i], min(widths[i], readable))
		}
	}
	excess := g.narrow(keep, widths, least, total-width)
	excess = g.narrow(keep, widths, whole, excess)
	if fits = excess <= 0; !fits {
		clear(least)
		g.narrow(keep, widths, least, excess)
	}
	return keep, widths, fits
}

// heeded is how many rows at most, titles among them, decide which column gives way.
const heeded = 200

// narrow takes so many cells away from the columns, as long as they keep the least and one: each
// from the column where that adds the fewest lines, the widest of several. It gives how many are
// left to take.
func (g Grid) narrow(keep, widths, least []int, excess int) (left int) {
	if excess <= 0 {
		return 0
	}
	var cells [][]int
	rows := g.titledRows()
	for _, row := range rows[:min(heeded, len(rows))] {
		if row != nil {
			cells = append(cells, make([]int, len(keep)))
			for i, c := range keep {
				cells[len(cells)-1][i] = longestLine(row[c].Text)
			}
		}
	}
	lines := func() (all int) {
		for _, row := range cells {
			height := 1
			for i, width := range widths {
				height = max(height, (row[i]+width-1)/max(1, width))
			}
			all += height
		}
		return all
	}
	for ; excess > 0; excess-- {
		from, fewest := -1, 0
		for i := range keep {
			if widths[i] <= max(1, least[i]) {
				continue
			}
			widths[i]--
			n := lines()
			widths[i]++
			if from < 0 || n < fewest || n == fewest && widths[i] > widths[from] {
				from, fewest = i, n
			}
		}
		if from < 0 {
			break
		}
		widths[from]--
	}
	return excess
}

// longest gives the most cells of what stands in a column, as of measures one text.
func (g Grid) longest(c int, of func(string) int) int {
	width := 0
	if !g.Untitled {
		width = of(g.Columns[c].Title)
	}
	for _, row := range g.FilledRows() {
		width = max(width, of(row[c].Text))
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
		titles[c] = escapeMarkdown(column.Title)
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
