package sheet_test

import (
	"bytes"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"

	"github.com/xuri/excelize/v2"
)

// A few bytes that ask for much memory, and cells that are not where they say.
func TestXLSXRefusesWhatAsksForMuch(t *testing.T) {
	const text = `<c t="inlineStr" r="%s"><is><t>x</t></is></c>`
	row := func(number, address string) string {
		return `<row r="` + number + `">` + fmt.Sprintf(text, address) + `</row>`
	}
	wide := &strings.Builder{}
	for i := range 1000 {
		wide.WriteString(row(fmt.Sprint(i+1), fmt.Sprintf("XFD%d", i+1)))
	}
	merged := &strings.Builder{}
	for range 3000 {
		merged.WriteString(`<mergeCell ref="A1:A1000"/>`)
	}
	for _, c := range []struct{ what, rows, after, says string }{
		{"a row past the last", row("2000000000", "A2000000000"), "", "row \"2000000000\" is out of place"},
		{"a row past any number", row("9999999999999999999", "A1"), "", "is out of place"},
		{"rows that go back", row("3", "A3") + row("2", "A2"), "", "row \"2\" is out of place"},
		{"a column past the last", row("1", "XFE1"), "", "cell \"XFE1\" is out of place"},
		{"a cell of another row", row("1", "A2"), "", "cell \"A2\" is out of place"},
		{"a cell of no place", row("1", "?"), "", "cell \"?\" is out of place"},
		{"cells that go back", `<row r="1">` + fmt.Sprintf(text+text, "B1", "A1") + `</row>`, "", "cell \"A1\" is out of place"},
		{"wide rows", wide.String(), "", "more than 1000000 cells"},
		{"merged over and over", tall(1000), "<mergeCells>" + merged.String() + "</mergeCells>", "more than 1000000 cells"},
		{"a long text spread", `<row r="1"><c r="A1" t="inlineStr"><is><t>` + strings.Repeat("x", 1<<20) + `</t></is></c></row><row r="100"><c r="B100"><v>1</v></c></row>`,
			`<mergeCells><mergeCell ref="A1:A100"/></mergeCells>`, "more than 64MB once a workbook is unpacked"},
		{"a text that is missing", `<row r="1"><c r="A1" t="s"><v>7</v></c></row>`, "", "refers to a text that is missing"},
	} {
		raw := archive(t, map[string]string{"xl/worksheets/sheet1.xml": `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` +
			c.rows + `</sheetData>` + c.after + `</worksheet>`})
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, ds := sheet.ReadXLSX(nil, "kit.xlsx", bytes.NewReader(raw))
		runtime.ReadMemStats(&after)
		if len(ds) != 1 || !strings.Contains(ds[0].Summary, c.says) {
			t.Errorf("%s: got %v, want %q", c.what, ds, c.says)
		}
		if grown := (after.TotalAlloc - before.TotalAlloc) >> 20; grown > 1000 {
			t.Errorf("%s: took %d MB", c.what, grown)
		}
	}
}

// What the own reader is for: a library builds whatever a few bytes ask for.
func TestLibraryHoldsWhatIsRefused(t *testing.T) {
	var rows strings.Builder
	for i := range 300 {
		fmt.Fprintf(&rows, `<row r="%d"><c r="XFD%[1]d"><v>1</v></c></row>`, i+1)
	}
	raw := archive(t, map[string]string{"xl/worksheets/sheet1.xml": `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` +
		rows.String() + `</sheetData></worksheet>`})
	// held gives the megabytes that what is read keeps.
	held := func(read func() any) int64 {
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		result := read()
		runtime.GC()
		runtime.ReadMemStats(&after)
		runtime.KeepAlive(result)
		return (int64(after.HeapAlloc) - int64(before.HeapAlloc)) >> 20
	}
	ours := held(func() any {
		sheets, ds := sheet.ReadXLSX(nil, "kit.xlsx", bytes.NewReader(raw))
		if !ds.HasErrors() {
			t.Error("the workbook is not refused")
		}
		return sheets
	})
	library := held(func() any {
		book, err := excelize.OpenReader(bytes.NewReader(raw), excelize.Options{UnzipSizeLimit: 64 << 20, UnzipXMLSizeLimit: 64 << 20})
		if err != nil {
			t.Fatal(err)
		}
		defer book.Close()
		cells, err := book.GetRows("Sheet1")
		if err != nil {
			t.Fatal(err)
		}
		return cells
	})
	t.Logf("of %d bytes the library holds %d MB, and the own reader %d MB", len(raw), library, ours)
	if len(raw) > 16<<10 || ours > 4 || library < 10*max(ours, 1) {
		t.Error("the own reader has lost its reason: let the library read")
	}
}

// tall gives rows of one cell each.
func tall(n int) string {
	var rows strings.Builder
	for i := range n {
		fmt.Fprintf(&rows, `<row r="%d"><c r="A%[1]d"><v>1</v></c></row>`, i+1)
	}
	return rows.String()
}

// A workbook that is written is one to another reader too: with the titles bold and kept in
// view, numbers as numbers, and the same bytes each time.
func TestWorkbookForOthers(t *testing.T) {
	c, ds := catalog.Load(source(t, "list", `mount "Short" { flange 18mm }
lens "Wide _x0041_" {
  mount     "Short"
  focal     18.5mm
}`))
	if ds != nil {
		t.Fatal(ds)
	}
	var first, second bytes.Buffer
	for _, b := range []*bytes.Buffer{&first, &second} {
		if err := sheet.WriteXLSX(b, c); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("two runs give two files")
	}
	book, err := excelize.OpenReader(&first)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	title := book.GetSheetList()[0]
	panes, err := book.GetPanes(title)
	if err != nil || !panes.Freeze || panes.YSplit != 1 || panes.TopLeftCell != "A2" {
		t.Errorf("got panes %+v, %v, want the first row frozen", panes, err)
	}
	styleOf := func(at string) *excelize.Style {
		t.Helper()
		id, err := book.GetCellStyle(title, at)
		if err != nil {
			t.Fatal(err)
		}
		style, err := book.GetStyle(id)
		if err != nil {
			t.Fatal(err)
		}
		return style
	}
	if style := styleOf("A1"); style.Font == nil || !style.Font.Bold {
		t.Errorf("got %+v, want the titles bold", style.Font)
	}
	if style := styleOf("A2"); style.Font != nil && style.Font.Bold {
		t.Errorf("got %+v, want the rows plain", style.Font)
	}
	rows, err := book.GetRows(title, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 2 || rows[1][0] != "Wide _x0041_" {
		t.Fatalf("got %q, want the titles and one lens", rows)
	}
	column := slices.Index(rows[1], "18.5")
	at, err := excelize.CoordinatesToCellName(column+1, 2)
	if err != nil {
		t.Fatalf("got %q, want 18.5 among it", rows[1])
	}
	if kind, err := book.GetCellType(title, at); err != nil || kind != excelize.CellTypeUnset {
		t.Errorf("%s is of kind %v, %v, want none, which is a number", at, kind, err)
	}
}
