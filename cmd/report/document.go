package report

// A Block is a piece of a result as the terminal shows it too: one of a heading, a
// paragraph or a table.
type Block struct {
	Heading, Paragraph string
	Table              *Table
}

// A Table is a table of texts.
type Table struct {
	Columns  []Column
	Rows     [][]Cell
	Untitled bool // the titles are understood
}

// A Column is the head of a column; numbers are set to the right.
type Column struct {
	Title string
	Right bool
}

// A Cell is a text, with the name of a tone or "".
type Cell struct{ Text, Tone string }
