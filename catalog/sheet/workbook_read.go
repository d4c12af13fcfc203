package sheet

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"path"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode/utf16"

	"glassbrief/lang"
)

// ReadXLSX reads the sheets of a workbook that are not empty. Merged cells count for every
// row that they span. A formula has the value that the workbook stored for it. What it costs, packed
// and unpacked, is spent of a budget.
func ReadXLSX(budget *lang.Budget, name string, r io.Reader) ([]*Sheet, lang.Diagnostics) {
	budget = budget.Or()
	raw, err := budget.Read(r)
	if err != nil {
		return nil, unreadable(name, err)
	}
	if ds := budget.Take(name, raw, lang.OfFile); ds != nil {
		return nil, ds
	}
	archive, err := zip.NewReader(strings.NewReader(raw), int64(len(raw)))
	if err != nil {
		return nil, unreadable(name, errors.New("it is no workbook of the kind XLSX"))
	}
	if ds := survey(budget, name, archive); ds != nil {
		return nil, ds
	}
	book, err := openWorkbook(archive)
	if err != nil {
		return nil, unreadable(name, err)
	}
	book.file, book.budget = name, budget
	var sheets []*Sheet
	for _, s := range book.sheets {
		name := name + "[" + s.title + "]"
		rows, err := book.read(s.part)
		if ds := (lang.Diagnostics)(nil); errors.As(err, &ds) {
			return nil, ds
		}
		if err != nil {
			return nil, unreadable(name, err)
		}
		if len(rows) > 0 {
			sheets = append(sheets, newSheet(name, s.title, rows))
		}
	}
	if sheets == nil {
		return nil, unreadable(name, errors.New("it holds no sheet with anything in it"))
	}
	return sheets, nil
}

// survey unpacks a workbook without keeping any of it, and spends what it holds: a small file can
// unpack to a large one, and an element of four bytes takes hundreds in memory.
func survey(budget *lang.Budget, name string, archive *zip.Reader) lang.Diagnostics {
	chunk := make([]byte, 64<<10)
	marks := 0 // of elements, each of which has up to two
	for _, part := range archive.File {
		reader, err := part.Open()
		if err != nil {
			return unreadable(name, err)
		}
		for err == nil {
			var n int
			n, err = reader.Read(chunk)
			marks += bytes.Count(chunk[:n], []byte("<")) + bytes.Count(chunk[:n], []byte("="))/2
			if ds := budget.TakeCells(name, marks/2, n); ds != nil {
				reader.Close()
				return ds
			}
			marks %= 2
		}
		reader.Close()
		if err != io.EOF {
			return unreadable(name, err)
		}
	}
	return nil
}

// The limits of a sheet in every spreadsheet program.
const (
	maxSheetRows    = 1 << 20
	maxSheetColumns = 1 << 14
)

// A workbook reads the sheets of a packed workbook as streams, and bounds what it builds. A
// hostile file of a few bytes can ask for any amount of memory, by a cell in a far row or
// one long text in many cells.
type workbook struct {
	parts   map[string]*zip.File
	sheets  []sheetPart
	file    string // the name of it, for the budget
	budget  *lang.Budget
	shared  []string // texts that cells refer to by number
	formats []string // of the number styles that cells refer to by number
}

// A sheetPart names a sheet and the part of the archive that holds it.
type sheetPart struct{ title, part string }

// richText is a text in one piece, or in runs of different styles.
type richText struct {
	Whole string   `xml:"t"`
	Runs  []string `xml:"r>t"`
}

func (t richText) String() string { return unescape(t.Whole + strings.Join(t.Runs, "")) }

// openWorkbook reads the parts that all sheets share.
func openWorkbook(archive *zip.Reader) (*workbook, error) {
	b := &workbook{parts: map[string]*zip.File{}}
	for _, part := range archive.File {
		b.parts[partName(part.Name)] = part
	}
	top, err := b.relations("")
	if err != nil {
		return nil, err
	}
	main := top.ofKind("officeDocument")
	if main == "" {
		return nil, errors.New("it is an archive of something else than a workbook")
	}
	related, err := b.relations(main)
	if err != nil {
		return nil, err
	}
	var list struct {
		Sheets []struct {
			Name string `xml:"name,attr"`
			ID   string `xml:"id,attr"`
		} `xml:"sheets>sheet"`
	}
	if err := b.decode(main, &list); err != nil {
		return nil, err
	}
	for _, s := range list.Sheets {
		for _, r := range related {
			if r.ID == s.ID && r.is("worksheet") {
				b.sheets = append(b.sheets, sheetPart{s.Name, r.part})
			}
		}
	}
	var texts struct {
		Items []richText `xml:"si"`
	}
	if part := related.ofKind("sharedStrings"); part != "" {
		if err := b.decode(part, &texts); err != nil {
			return nil, err
		}
	}
	for _, text := range texts.Items {
		b.shared = append(b.shared, text.String())
	}
	var styles struct {
		Formats []struct {
			ID   int    `xml:"numFmtId,attr"`
			Code string `xml:"formatCode,attr"`
		} `xml:"numFmts>numFmt"`
		Cells []struct {
			Format int `xml:"numFmtId,attr"`
		} `xml:"cellXfs>xf"`
	}
	if part := related.ofKind("styles"); part != "" {
		if err := b.decode(part, &styles); err != nil {
			return nil, err
		}
	}
	own := map[int]string{}
	for _, f := range styles.Formats {
		own[f.ID] = f.Code
	}
	for _, style := range styles.Cells {
		format, ok := own[style.Format]
		if !ok {
			format = builtinFormat(style.Format)
		}
		b.formats = append(b.formats, format)
	}
	return b, nil
}

// builtinFormat gives a format for a number that workbooks use without defining it
// (ECMA-376 part 1, 18.8.30; 27 to 36 and 50 to 58 are dates of East Asian languages). It tells
// percent, dates and others apart.
func builtinFormat(id int) string {
	switch {
	case id == 9 || id == 10:
		return "0%"
	case id >= 14 && id <= 22, id >= 27 && id <= 36, id >= 45 && id <= 47, id >= 50 && id <= 58:
		return "yyyy-mm-dd"
	}
	return "General"
}

// partName normalises the name of a part. Some programs differ in case and slashes between
// a part and the references to it.
func partName(name string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(name, `\`, "/"), "/"))
}

// A relation is a reference from one part to another.
type relation struct {
	ID     string `xml:"Id,attr"`
	Type   string `xml:"Type,attr"`
	Target string `xml:"Target,attr"`
	part   string
}

func (r relation) is(kind string) bool { return strings.HasSuffix(r.Type, "/"+kind) }

type relations []relation

// ofKind gives the first part of a kind, or "".
func (rs relations) ofKind(kind string) string {
	for _, r := range rs {
		if r.is(kind) {
			return r.part
		}
	}
	return ""
}

// relations reads the references of a part; "" is the workbook itself.
func (b *workbook) relations(part string) (relations, error) {
	folder, file := path.Split(part)
	var list struct {
		Relations relations `xml:"Relationship"`
	}
	if err := b.decode(folder+"_rels/"+file+".rels", &list); err != nil {
		return nil, err
	}
	for i := range list.Relations {
		r := &list.Relations[i]
		target := r.Target
		if !strings.HasPrefix(target, "/") {
			target = path.Join(folder, target)
		}
		r.part = partName(target)
	}
	return list.Relations, nil
}

// open gives a decoder of a part.
func (b *workbook) open(part string) (*xml.Decoder, io.Closer, error) {
	file := b.parts[part]
	if file == nil {
		return nil, nil, fmt.Errorf("its part %q is missing", part)
	}
	reader, err := file.Open()
	if err != nil {
		return nil, nil, err
	}
	return xml.NewDecoder(reader), reader, nil
}

func (b *workbook) decode(part string, into any) error {
	decoder, closer, err := b.open(part)
	if err != nil {
		return err
	}
	defer closer.Close()
	return decoder.Decode(into)
}

// A heldCell is a cell as a workbook holds it.
type heldCell struct {
	Address string    `xml:"r,attr"`
	Style   int       `xml:"s,attr"`
	Type    string    `xml:"t,attr"`
	Value   string    `xml:"v"`
	Inline  richText  `xml:"is"`
	Formula *struct{} `xml:"f"`
}

// read gives the rows of a sheet down to the last one that is not empty.
func (b *workbook) read(part string) ([][]cell, error) {
	decoder, closer, err := b.open(part)
	if err != nil {
		return nil, err
	}
	defer closer.Close()
	var rows [][]cell
	var merged []string
	row, column := -1, -1
	for {
		token, err := decoder.Token()
		if err == io.EOF {
			return rows, b.spread(rows, merged)
		}
		if err != nil {
			return nil, err
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		switch start.Name.Local {
		case "row":
			row, column = row+1, -1
			if number := attribute(start, "r"); number != "" {
				n, err := strconv.Atoi(number)
				if err != nil || n <= row || n > maxSheetRows {
					return nil, fmt.Errorf("its row %q is out of place", number)
				}
				row = n - 1
			}
		case "c":
			var held heldCell
			if err := decoder.DecodeElement(&held, &start); err != nil {
				return nil, err
			}
			column++
			if held.Address != "" {
				r, c, ok := parseAddress(held.Address)
				if !ok || r != row || c < column {
					return nil, fmt.Errorf("its cell %q is out of place", held.Address)
				}
				column = c
			}
			if row < 0 || column >= maxSheetColumns {
				return nil, errors.New("it has cells out of place")
			}
			c, err := b.cell(held)
			if err != nil {
				return nil, err
			}
			if c == (cell{}) {
				continue
			}
			if rows, err = b.put(rows, row, column, c); err != nil {
				return nil, err
			}
		case "mergeCell":
			merged = append(merged, attribute(start, "ref"))
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

// put sets a cell, and makes empty rows and cells before it as needed.
func (b *workbook) put(rows [][]cell, row, column int, c cell) ([][]cell, error) {
	empty := max(0, row+1-len(rows)) + column // that are made before it
	if row < len(rows) {
		empty = max(0, column-len(rows[row]))
	}
	if err := b.budget.TakeCells(b.file, empty+1, len(c.text)).Err(); err != nil {
		return nil, err
	}
	for len(rows) <= row {
		rows = append(rows, nil)
	}
	for len(rows[row]) <= column {
		rows[row] = append(rows[row], cell{})
	}
	rows[row][column] = c
	return rows, nil
}

// cell converts a cell of the workbook.
func (b *workbook) cell(held heldCell) (cell, error) {
	value := strings.TrimSpace(held.Value)
	var c cell
	switch held.Type {
	case "s":
		if value == "" {
			break
		}
		i, err := strconv.Atoi(value)
		if err != nil || i < 0 || i >= len(b.shared) {
			return cell{}, fmt.Errorf("its cell %q refers to a text that is missing", held.Address)
		}
		c.text = b.shared[i]
	case "inlineStr":
		c.text = held.Inline.String()
	case "str":
		c.text = unescape(held.Value)
	case "b":
		c.text = map[string]string{"0": "FALSE", "1": "TRUE"}[value]
	case "d":
		c = cell{text: value, fault: faultDate}
	case "e":
		c = cell{text: value, fault: "holds an error of the spreadsheet; correct its formula, or write the value"}
	default:
		number, err := strconv.ParseFloat(value, 64)
		if err != nil || math.IsInf(number, 0) || math.IsNaN(number) {
			c.text = value
			break
		}
		format := ""
		if held.Style >= 0 && held.Style < len(b.formats) {
			format = b.formats[held.Style]
		}
		c = numberCell(number, format)
	}
	if c.text == "" && held.Formula != nil {
		c.fault = "holds a formula that has not been worked out; open and save the workbook in a spreadsheet"
	}
	return c, nil
}

// spread copies the value of merged cells into every row that they span.
func (b *workbook) spread(rows [][]cell, merged []string) error {
	for _, span := range merged {
		from, to, _ := strings.Cut(span, ":")
		first, column, ok1 := parseAddress(from)
		last, _, ok2 := parseAddress(to)
		if !ok1 || !ok2 || first >= len(rows) || column >= len(rows[first]) {
			continue
		}
		for row := first + 1; row < min(last+1, len(rows)); row++ {
			var err error
			if rows, err = b.put(rows, row, column, rows[first][column]); err != nil {
				return err
			}
		}
	}
	return nil
}

// parseAddress reads the name of a cell: B4 is row 3, column 1.
func parseAddress(name string) (row, column int, ok bool) {
	digits := strings.TrimLeft(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	letters := name[:len(name)-len(digits)]
	if letters == "" || len(letters) > 3 {
		return 0, 0, false
	}
	for _, c := range letters {
		column = column*26 + int(c-'A') + 1
	}
	row, err := strconv.Atoi(digits)
	return row - 1, column - 1, err == nil && row >= 1 && row <= maxSheetRows && column <= maxSheetColumns
}

// escaped matches the notation of workbooks for characters that XML cannot hold.
var escaped = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`) })

func unescape(text string) string {
	if !strings.Contains(text, "_x") {
		return text
	}
	return escaped().ReplaceAllStringFunc(text, func(found string) string {
		code, err := strconv.ParseUint(found[2:6], 16, 16)
		if err != nil || utf16.IsSurrogate(rune(code)) {
			return found
		}
		return string(rune(code))
	})
}

// escape protects a text that looks like that notation.
func escape(text string) string {
	return escaped().ReplaceAllStringFunc(text, func(found string) string { return "_x005F" + found })
}
