package sheet

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"glassbrief/lang"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// separators are the characters that can separate fields, the likeliest first.
var separators = []rune{',', ';', '\t', '|'}

// ReadCSV reads text whose fields are separated by comma, semicolon, tab or bar. It chooses
// the separator that yields the most known titles in the first rows. The text is UTF-8, or
// UTF-16 with a byte-order mark. What it costs is spent of a budget.
func ReadCSV(budget *lang.Budget, name string, r io.Reader) (*Sheet, lang.Diagnostics) {
	budget = budget.Or()
	text, ds := readText(budget, name, r)
	if ds != nil {
		return nil, ds
	}
	best, score := separators[0], -1
	head := firstLines(text, headerRows)
	for _, separator := range separators {
		// The head may end within a quoted field; the whole text is checked below.
		rows, _ := readRows(name, head, separator)
		if known := newSheet(name, "", rows).score(); known > score {
			best, score = separator, known
		}
	}
	cells := strings.Count(text, string(best)) + strings.Count(text, "\n") + 1
	if ds := budget.TakeCells(name, cells, 0); ds != nil {
		return nil, ds
	}
	rows, ds := readRows(name, text, best)
	if ds != nil {
		return nil, ds
	}
	s := newSheet(name, "", rows)
	s.plainPoint = best == ',' // a comma that separates is no decimal mark
	return s, nil
}

// readText reads a text file of limited size, and gives UTF-8 without a byte-order mark.
func readText(budget *lang.Budget, name string, r io.Reader) (string, lang.Diagnostics) {
	raw, err := budget.Read(r)
	if err != nil {
		return "", unreadable(name, err)
	}
	if ds := budget.Take(name, raw, lang.OfFile); ds != nil {
		return "", ds
	}
	text, _, err := transform.String(unicode.BOMOverride(transform.Nop), raw)
	if err != nil {
		return "", unreadable(name, err)
	}
	if strings.IndexByte(text, 0) >= 0 || !utf8.ValidString(text) {
		return "", lang.Diagnostics{fault(lang.NotText, lang.Span{}, fmt.Sprintf("%q is no text in UTF-8", name),
			"Save it from the spreadsheet as \"CSV UTF-8\", or import the workbook itself.")}
	}
	return text, nil
}

// maxHead bounds the text by which the separator is chosen: a row of titles takes a hundredth of it.
const maxHead = 64 << 10

func firstLines(text string, n int) string {
	text = text[:min(len(text), maxHead)]
	end := 0
	for range n {
		i := strings.IndexByte(text[end:], '\n')
		if i < 0 {
			return text
		}
		end += i + 1
	}
	return text[:end]
}

// readRows splits a text into rows of cells, numbered as a spreadsheet numbers them: an
// empty line is an empty row, and a line break inside quotes starts no row.
func readRows(name, text string, separator rune) ([][]cell, lang.Diagnostics) {
	rows, err := cut(text, separator, false)
	var bare *csv.ParseError
	if errors.As(err, &bare) && errors.Is(err, csv.ErrBareQuote) {
		// A quote in the middle of a field stands for inches.
		lenient, lenientErr := cut(text, separator, true)
		if lenientErr == nil && !hasLineBreak(lenient) {
			rows, err = lenient, nil
		}
	}
	if err != nil {
		return rows, lang.Diagnostics{badCSV(name, text, err)}
	}
	return rows, nil
}

func cut(text string, separator rune, lenient bool) ([][]cell, error) {
	reader := csv.NewReader(strings.NewReader(text))
	reader.Comma, reader.LazyQuotes, reader.FieldsPerRecord = separator, lenient, -1
	var rows [][]cell
	offset := 0
	for {
		record, err := reader.Read()
		if err == io.EOF {
			return rows, nil
		}
		if err != nil {
			return rows, err
		}
		end := int(reader.InputOffset())
		own := 1
		for _, field := range record {
			own += strings.Count(field, "\n")
		}
		lines := strings.Count(text[offset:end], "\n")
		if end == len(text) && !strings.HasSuffix(text, "\n") {
			lines++
		}
		for range lines - own {
			rows = append(rows, nil)
		}
		offset = end
		row := make([]cell, len(record))
		for i, field := range record {
			row[i].text = field
		}
		rows = append(rows, row)
	}
}

func hasLineBreak(rows [][]cell) bool {
	for _, row := range rows {
		for _, c := range row {
			if strings.Contains(c.text, "\n") {
				return true
			}
		}
	}
	return false
}

// badCSV reports the place at which a text cannot be split into fields.
func badCSV(name, text string, err error) lang.Diagnostic {
	var at *csv.ParseError
	errors.As(err, &at) // a text that is in memory has no other
	summary := "this quoted field is never closed"
	if errors.Is(err, csv.ErrBareQuote) {
		summary = "a quote stands inside a field that does not begin with one"
	}
	place := lang.Span{}
	if src, ds := lang.NewSource(name, []byte(text)); !ds.HasErrors() {
		_, start := src.Line(at.StartLine)
		place = lang.Span{Source: src, Start: start, End: start}
	}
	return fault(lang.UnclosedText, place, summary,
		"Put the whole field between quotes, and write a quote inside it twice; or import the workbook itself.")
}
