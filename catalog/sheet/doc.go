// Package table takes lenses, cameras and filters in from spreadsheets, and gives them out.
//
// [ReadCSV] and [ReadXLSX] give sheets, whatever their separator, decimal mark and byte
// order. [Understand] finds the row of titles, says which column means what, and turns
// every row into a [catalog.Draft]; each cell that it cannot read is a finding at its row
// and column, and it guesses at nothing: a figure without a unit, or one that could be
// 1.25 as well as 1250, is a fault. [WriteCSV] and [WriteXLSX] write a catalogue in a form
// that it reads back without loss.
//
// It opens no files: it takes an io.Reader and gives to an io.Writer.
package sheet
