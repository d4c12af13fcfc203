// Package sheet imports lenses, cameras and filters from spreadsheets, and exports them.
//
// [ReadCSV] and [ReadXLSX] read sheets with any usual separator, decimal mark and byte
// order. [Understand] finds the row of titles, tells what each column means, and turns
// every row into a [catalog.Draft]. It reports each cell that it cannot read, with row and
// column, and never guesses: a figure without a unit is a fault, and so is one that could
// be 1.25 or 1250. What [WriteCSV] and [WriteXLSX] write, it reads back without loss.
//
// The package opens no files: it reads from an io.Reader and writes to an io.Writer.
package sheet

import (
	"fmt"
	"strings"

	"glassbrief/lang"
)

// maxColumns bounds the row of titles; a spreadsheet itself has 16,384 columns.
const maxColumns = 512

// A Sheet is a table of cells, each with its place in the file.
type Sheet struct {
	Name   string // of the file, with that of the sheet in a workbook
	Title  string // of the sheet in a workbook; "" for CSV
	rows   [][]cell
	places [][]lang.Span
	// plainPoint makes the point the decimal mark unless cells show otherwise.
	plainPoint bool
}

// A cell is one field of a table.
type cell struct {
	text  string
	exact bool   // the cell is a number in a workbook, so its point is the decimal mark
	fault string // why the text is not what its writer meant; "" when it is
}

func newSheet(name, title string, rows [][]cell) *Sheet {
	texts := make([][]string, len(rows))
	for i, row := range rows {
		texts[i] = make([]string, len(row))
		for j, c := range row {
			texts[i][j] = c.text
		}
	}
	_, places := lang.NewTable(name, texts)
	return &Sheet{Name: name, Title: title, rows: rows, places: places}
}

// at gives a cell and its place. Past the end of a row cells are empty, and their place is
// the row.
func (s *Sheet) at(row, column int) (cell, lang.Span) {
	if column < len(s.rows[row]) {
		return s.rows[row][column], s.places[row][column]
	}
	return cell{}, s.rowPlace(row)
}

// rowPlace gives the place of a row.
func (s *Sheet) rowPlace(row int) lang.Span {
	if places := s.places[row]; len(places) > 0 {
		return places[0].To(places[len(places)-1])
	}
	return lang.Span{}
}

// filled gives the columns of a row that are not blank.
func (s *Sheet) filled(row int) []int {
	var columns []int
	for j, c := range s.rows[row] {
		if strings.TrimSpace(c.text) != "" {
			columns = append(columns, j)
		}
	}
	return columns
}

// address names a cell as spreadsheets do: B4.
func address(row, column int) string {
	letters := ""
	for column++; column > 0; column = (column - 1) / 26 {
		letters = string(rune('A'+(column-1)%26)) + letters
	}
	return fmt.Sprintf("%s%d", letters, row+1)
}

func fault(code lang.Code, at lang.Span, summary, detail string) lang.Diagnostic {
	return lang.Diagnostic{Severity: lang.Error, Code: code, Span: at, Summary: summary, Detail: detail}
}

func unreadable(name string, err error) lang.Diagnostics {
	return lang.Diagnostics{fault(lang.UnreadableFile, lang.Span{}, fmt.Sprintf("%q cannot be read: %s", name, err),
		"Check that the file is whole and of the kind that its name says.")}
}
