package sheet

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"glassbrief/lang"
)

// separators are the characters that can separate fields, the likeliest first.
var separators = []rune{',', ';', '\t', '|'}

// ReadCSV reads text whose fields are separated by comma, semicolon, tab or bar. It chooses
// the separator that yields the most known titles in the first rows. The text is UTF-8, or
// UTF-16 with a byte-order mark.
func ReadCSV(name string, r io.Reader) (*Sheet, lang.Diagnostics) {
	text, ds := readText(name, r)
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
	rows, ds := readRows(name, text, best)
	if ds != nil {
		return nil, ds
	}
	s := newSheet(name, "", rows)
	s.plainPoint = best == ',' // a comma that separates is no decimal mark
	return s, nil
}

// readText reads a text file of limited size, and gives UTF-8 without a byte-order mark.
func readText(name string, r io.Reader) (string, lang.Diagnostics) {
	raw, err := lang.ReadLimited(r)
	if err != nil {
		return "", unreadable(name, err)
	}
	if len(raw) > maxBytes {
		return "", tooLarge(name, fmt.Sprintf("%d MB", maxBytes>>20))
	}
	text, _, err := transform.Bytes(unicode.BOMOverride(transform.Nop), raw)
	if err != nil {
		return "", unreadable(name, err)
	}
	if bytes.IndexByte(text, 0) >= 0 || !utf8.Valid(text) {
		return "", lang.Diagnostics{fault(lang.NotText, lang.Span{}, fmt.Sprintf("%q is no text in UTF-8", name),
			"Save it from the spreadsheet as \"CSV UTF-8\", or import the workbook itself.")}
	}
	return string(text), nil
}

func firstLines(text string, n int) string {
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
	cells, offset := 0, 0
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
		if cells += len(row); cells > maxCells {
			return rows, errTooManyCells
		}
	}
}

var errTooManyCells = fmt.Errorf("it holds more than %d cells", maxCells)

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
	if !errors.As(err, &at) {
		return fault(lang.TooLarge, lang.Span{}, fmt.Sprintf("%q cannot be read: %s", name, err), "That is no kit list. Take out what is not needed, or split it.")
	}
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
