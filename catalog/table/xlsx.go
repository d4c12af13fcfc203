package table

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"github.com/xuri/excelize/v2"

	"glassbrief/lang"
)

// Limits on a workbook unpacked: a small file can hold a large one. Elements are counted
// before anything is built of them, for a cell of four bytes takes hundreds in memory.
const (
	maxUnpacked = 64 << 20
	maxElements = 4_000_000
)

// ReadXLSX reads the sheets of a workbook that hold something. Merged cells count for
// every row that they span; formulas count with the value that the workbook keeps.
func ReadXLSX(name string, r io.Reader) ([]*Sheet, lang.Diagnostics) {
	raw, err := lang.ReadLimited(r)
	if err != nil {
		return nil, unreadable(name, err)
	}
	if len(raw) > maxBytes {
		return nil, tooLarge(name, fmt.Sprintf("%d MB", maxBytes>>20))
	}
	if ds := survey(name, raw); ds != nil {
		return nil, ds
	}
	book, err := excelize.OpenReader(bytes.NewReader(raw), excelize.Options{UnzipSizeLimit: maxUnpacked, UnzipXMLSizeLimit: maxUnpacked})
	if err != nil {
		return nil, unreadable(name, err)
	}
	defer book.Close()
	var sheets []*Sheet
	for _, title := range book.GetSheetList() {
		rows, err := readSheet(book, title)
		if err != nil {
			return nil, unreadable(name+"["+title+"]", err)
		}
		if len(rows) > 0 {
			sheets = append(sheets, newSheet(name+"["+title+"]", title, rows))
		}
	}
	if sheets == nil {
		return nil, unreadable(name, errors.New("it holds no sheet with anything in it"))
	}
	return sheets, nil
}

// survey unpacks a workbook without keeping anything of it, and refuses one that is too
// large.
func survey(name string, raw []byte) lang.Diagnostics {
	archive, err := zip.NewReader(bytes.NewReader(raw), int64(len(raw)))
	if err != nil {
		return unreadable(name, errors.New("it is no workbook of the kind XLSX"))
	}
	bytesLeft, elements := int64(maxUnpacked), 0
	chunk := make([]byte, 64<<10)
	for _, part := range archive.File {
		reader, err := part.Open()
		if err != nil {
			return unreadable(name, err)
		}
		for err == nil {
			var n int
			n, err = reader.Read(chunk)
			elements += bytes.Count(chunk[:n], []byte("<"))
			if bytesLeft -= int64(n); bytesLeft < 0 || elements > 2*maxElements {
				reader.Close()
				return tooLarge(name, fmt.Sprintf("%d MB unpacked, or %d elements", maxUnpacked>>20, maxElements))
			}
		}
		reader.Close()
		if err != io.EOF {
			return unreadable(name, err)
		}
	}
	return nil
}

// readSheet gives the cells of one sheet. What a cell holds and what it shows are read side
// by side: a number is held exactly, and its unit may stand in what is shown alone.
func readSheet(book *excelize.File, title string) ([][]cell, error) {
	// Asked first, for it reports faults in the sheet's XML that the rows below pass over.
	merged, err := book.GetMergeCells(title)
	if err != nil {
		return nil, err
	}
	held, err := book.Rows(title)
	if err != nil {
		return nil, err
	}
	defer held.Close()
	shown, err := book.Rows(title)
	if err != nil {
		return nil, err
	}
	defer shown.Close()
	var rows [][]cell
	cells, filled := 0, 0
	for held.Next() && shown.Next() {
		values, err := held.Columns(excelize.Options{RawCellValue: true})
		if err != nil {
			return nil, err
		}
		texts, err := shown.Columns()
		if err != nil {
			return nil, err
		}
		row := make([]cell, len(values))
		for j := range values {
			switch {
			case j >= len(texts):
			case isText(book, title, len(rows), j):
				row[j].text = texts[j]
			default:
				row[j] = cellOf(values[j], texts[j])
			}
			if row[j].text == "" && j < maxColumns {
				row[j].fault = emptyFormula(book, title, len(rows), j)
			}
		}
		rows = append(rows, row)
		if cells += len(row); cells > maxCells {
			return nil, errTooManyCells
		}
		if len(row) > 0 {
			filled = len(rows)
		}
	}
	if err := errors.Join(held.Error(), shown.Error()); err != nil {
		return nil, err
	}
	return spread(rows[:filled], merged), nil
}

// isText reports whether a cell holds text, which may look like a number.
func isText(book *excelize.File, title string, row, column int) bool {
	kind, err := book.GetCellType(title, address(row, column))
	return err == nil && (kind == excelize.CellTypeSharedString || kind == excelize.CellTypeInlineString)
}

// emptyFormula reports a formula that the program that wrote the workbook did not work out.
func emptyFormula(book *excelize.File, title string, row, column int) string {
	formula, err := book.GetCellFormula(title, address(row, column))
	if err != nil || formula == "" {
		return ""
	}
	return "holds a formula that has not been worked out; open and save the workbook in a spreadsheet"
}

// spread puts what merged cells show into every row that they span, in their first column.
func spread(rows [][]cell, merged []excelize.MergeCell) [][]cell {
	for _, range_ := range merged {
		column, first, err1 := excelize.CellNameToCoordinates(range_.GetStartAxis())
		_, last, err2 := excelize.CellNameToCoordinates(range_.GetEndAxis())
		if err1 != nil || err2 != nil || first > len(rows) || column > len(rows[first-1]) {
			continue
		}
		from := rows[first-1][column-1]
		for row := first; row < min(last, len(rows)); row++ {
			for len(rows[row]) < column {
				rows[row] = append(rows[row], cell{})
			}
			rows[row][column-1] = from
		}
	}
	return rows
}

// shownNumber finds the number in what a cell shows.
var shownNumber = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^([^\d.,-]*)(-?[\d.,\x{a0}\x{202f} ]*\d)([^\d]*)$`)
})

// cellOf joins the value that a cell holds with what it shows: "1.25" and "1.25 kg" is
// "1.25 kg", "0.025" and "3%" is "2.5%". A number that shows as something else is a date.
func cellOf(value, shown string) cell {
	number, err := strconv.ParseFloat(value, 64)
	if err != nil || math.IsInf(number, 0) || math.IsNaN(number) {
		return cell{text: shown}
	}
	plain := strconv.FormatFloat(number, 'f', -1, 64)
	if shown == value {
		return cell{text: plain, exact: true}
	}
	parts := shownNumber().FindStringSubmatch(shown)
	if parts == nil {
		return cell{text: shown, fault: "is a date or a time to the spreadsheet; set the cell to text and write it again"}
	}
	digits := strings.NewReplacer(",", "", "\u00a0", "", "\u202f", "", " ", "").Replace(parts[2])
	seen, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return cell{text: shown, fault: "is shown in a way that cannot be read; set the cell to a plain number"}
	}
	if strings.Contains(parts[3], "%") {
		number *= 100
		plain = strconv.FormatFloat(math.Round(number*1e9)/1e9, 'f', -1, 64)
	}
	_, fraction, _ := strings.Cut(digits, ".")
	if math.Abs(seen-number) > math.Pow(10, -float64(len(fraction))) {
		return cell{text: shown, fault: "is a date or a time to the spreadsheet; set the cell to text and write it again"}
	}
	return cell{text: parts[1] + plain + parts[3], exact: true}
}
