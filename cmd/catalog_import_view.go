package cmd

import (
	"fmt"
	"strings"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/lang"
)

var columnListing = listing[sheet.ColumnReading]{
	{key: "title", Column: show.Column{Title: "column", Wraps: true}, value: func(c sheet.ColumnReading) any { return c.Title }},
	{key: "field", Column: show.Column{Title: "read as"}, value: func(c sheet.ColumnReading) any { return c.Keyword },
		cell: func(c sheet.ColumnReading, _ lang.Printer) show.Cell {
			if c.Keyword == "" {
				return show.Cell{Text: "left out", Tone: show.Warn}
			}
			return show.Cell{Text: strings.ReplaceAll(c.Keyword, "_", " ")}
		}},
	{key: "unit", Column: show.Column{Title: "unit"}, value: func(c sheet.ColumnReading) any { return c.Unit }},
	{key: "filled", Column: show.Column{Title: "cells", Right: true, Spare: 1}, value: func(c sheet.ColumnReading) any { return c.Filled }},
	{key: "example", Column: show.Column{Title: "example", Wraps: true, Spare: 2}, value: func(c sheet.ColumnReading) any { return c.Example }},
}

var sheetListing = listing[*sheet.Reading]{
	{key: "sheet", value: func(r *sheet.Reading) any { return r.Sheet }},
	{key: "kind", value: func(r *sheet.Reading) any { return r.Kind }},
	{key: "title_row", value: func(r *sheet.Reading) any { return r.Row }},
	{key: "items", value: func(r *sheet.Reading) any { return len(r.Drafts) }},
	{key: "rows_passed_over", value: func(r *sheet.Reading) any { return append([]int{}, r.Passed...) }},
	{key: "columns", value: func(r *sheet.Reading) any { return columnListing.objects(r.Columns) }},
}

// importView shows what the sheets of a spreadsheet are taken for, what they would change, and
// whether that could be written.
func importView(readings []*sheet.Reading, changes []catalog.Change, ready bool) view {
	var columns []sheet.ColumnReading
	for _, r := range readings {
		columns = append(columns, r.Columns...)
	}
	return view{
		data: objectFor("catalog-import", travel.Member{Key: "sheets", Value: sheetListing.objects(readings)}, changesMember(changes), travel.Member{Key: "ready", Value: ready}),
		rows: rowsOf(columnListing.objects(columns)),
		page: func(p lang.Printer) show.Page {
			var out show.Page
			for _, r := range readings {
				found := "no row read"
				if len(r.Drafts) > 0 {
					found = fmt.Sprintf("%s from row %d on", countKinds(map[string]int{r.Kind: len(r.Drafts)}), r.Row+1)
				}
				out.Heading(r.Sheet + ": " + found)
				out.Grid(columnListing.grid(r.Columns, p))
				if len(r.Passed) > 0 {
					out.Paragraph(fmt.Sprintf("Rows passed over, since one cell of them holds something: %s.", strings.ReplaceAll(strings.Trim(fmt.Sprint(r.Passed), "[]"), " ", ", ")))
				}
			}
			if len(changes) > 0 {
				out.Heading("What would change")
				out.Grid(changeListing.grid(changes, p))
			}
			out.Paragraph("Nothing is written by a dry run.")
			return out
		},
	}
}
