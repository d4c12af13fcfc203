package cmd

import (
	"fmt"
	"strings"

	"glassbrief/catalog/sheet"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/lang"
)

type catalogImportData struct {
	travel.Header
	Sheets []sheetData `json:"sheets"`
	Ready  bool        `json:"ready"` // it would be written
}

type sheetData struct {
	Sheet   string       `json:"sheet"`
	Kind    string       `json:"kind"`
	Row     int          `json:"title_row"`
	Items   int          `json:"items"`
	Passed  []int        `json:"rows_passed_over"`
	Columns []columnData `json:"columns"`
}

type columnData struct {
	Title   string `json:"title"`
	Field   string `json:"field"` // "" when it is not known
	Unit    string `json:"unit"`  // of numbers without one
	Filled  int    `json:"filled"`
	Example string `json:"example"`
}

// showImport shows what a spreadsheet is taken for.
func (a *app) showImport(readings []*sheet.Reading, ready bool) error {
	data := catalogImportData{Header: travel.HeaderOf("catalog-import"), Sheets: []sheetData{}, Ready: ready}
	rows := []any{}
	for _, r := range readings {
		s := sheetData{Sheet: r.Sheet, Kind: r.Kind, Row: r.Row, Items: len(r.Drafts), Passed: append([]int{}, r.Passed...), Columns: []columnData{}}
		for _, c := range r.Columns {
			s.Columns = append(s.Columns, columnData{c.Title, c.Keyword, c.Unit, c.Filled, c.Example})
			rows = append(rows, s.Columns[len(s.Columns)-1])
		}
		data.Sheets = append(data.Sheets, s)
	}
	return a.show(view{data: data, rows: rows, page: func(lang.Printer) show.Page { return importPage(data) }})
}

func importPage(data catalogImportData) show.Page {
	var out show.Page
	for _, s := range data.Sheets {
		out.Heading(fmt.Sprintf("%s: %s from row %d on", s.Sheet, countKinds(map[string]int{s.Kind: s.Items}), s.Row+1))
		g := show.Grid{Columns: []show.Column{{Title: "column", Wraps: true}, {Title: "read as"}, {Title: "unit"}, {Title: "cells", Right: true, Spare: 1}, {Title: "example", Wraps: true, Spare: 2}}}
		for _, c := range s.Columns {
			field := show.Cell{Text: strings.ReplaceAll(c.Field, "_", " ")}
			if c.Field == "" {
				field = show.Cell{Text: "left out", Tone: show.Warn}
			}
			g.Rows = append(g.Rows, []show.Cell{{Text: c.Title}, field, {Text: c.Unit}, {Text: fmt.Sprint(c.Filled)}, {Text: c.Example}})
		}
		out.Grid(g)
		if len(s.Passed) > 0 {
			out.Paragraph(fmt.Sprintf("Rows passed over, since one cell of them holds something: %s.", strings.ReplaceAll(strings.Trim(fmt.Sprint(s.Passed), "[]"), " ", ", ")))
		}
	}
	out.Paragraph("Nothing is written by a dry run.")
	return out
}
