package sheet_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
	"unicode/utf16"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/lang"

	"github.com/xuri/excelize/v2"
)

// endless gives left bytes of rows without holding them.
type endless struct{ left, at int }

const endlessRow = "Wide,Short,18\n"

func (e *endless) Read(p []byte) (int, error) {
	if e.left == 0 {
		return 0, io.EOF
	}
	n := min(len(p), e.left)
	for i := range n {
		p[i] = endlessRow[(e.at+i)%len(endlessRow)]
	}
	e.left, e.at = e.left-n, e.at+n
	return n, nil
}

func TestCSVRefuses(t *testing.T) {
	for _, c := range []struct {
		what string
		text io.Reader
		code lang.Code
		says string
	}{
		{"200 MB", &endless{left: 200 << 20}, lang.TooLarge, "more than 16MB"},
		{"no text", strings.NewReader("Lens,Mount\x00,FL\n"), lang.NotText, "no text in UTF-8"},
		{"another code page", strings.NewReader("Lens,Mount,\xd8\n"), lang.NotText, "no text in UTF-8"},
		{"a quote left open", strings.NewReader("Lens,Mount,FL\n\"Wide,Short,18\nLong,Short,85\n"), lang.UnclosedText, "never closed"},
		{"too many cells", strings.NewReader("Lens,Mount,FL\n" + strings.Repeat(strings.Repeat(",", 1000)+"\n", 2100)), lang.TooLarge, "cells"},
		{"a broken reader", io.MultiReader(strings.NewReader("Lens"), brokenReader{}), lang.UnreadableFile, "the disk is gone"},
	} {
		_, ds := sheet.ReadCSV(nil, "kit.csv", c.text)
		if len(ds) != 1 || ds[0].Code != c.code || !strings.Contains(ds[0].Summary, c.says) || ds[0].Detail == "" {
			t.Errorf("%s: got %v, want %s with %q", c.what, ds, c.code, c.says)
		}
	}
}

type brokenReader struct{}

func (brokenReader) Read([]byte) (int, error) { return 0, fmt.Errorf("the disk is gone") }

func TestCSVTakesWhatSpreadsheetsWrite(t *testing.T) {
	const list = "Lens,Mount,FL\nWeite 18 Ø,Short,18\n"
	utf16le := []byte{0xff, 0xfe}
	for _, unit := range utf16.Encode([]rune(list)) {
		utf16le = append(utf16le, byte(unit), byte(unit>>8))
	}
	for _, c := range []struct{ what, text string }{
		{"plain", list},
		{"byte-order mark", "\ufeff" + list},
		{"UTF-16", string(utf16le)},
		{"carriage returns", strings.ReplaceAll(list, "\n", "\r\n")},
		{"semicolons", strings.ReplaceAll(list, ",", ";")},
		{"tabs", strings.ReplaceAll(list, ",", "\t")},
		{"no line end", strings.TrimSuffix(list, "\n")},
		{"empty lines", "\n\n" + strings.ReplaceAll(list, "\n", "\n\n")},
	} {
		s, ds := sheet.ReadCSV(nil, "kit.csv", strings.NewReader(c.text))
		if ds != nil {
			t.Errorf("%s: %v", c.what, ds)
			continue
		}
		r, ds := sheet.Understand(s, sheet.Options{})
		if len(ds) > 0 || len(r.Drafts) != 1 || r.Drafts[0].Name != "Weite 18 Ø" {
			t.Errorf("%s: got %+v, %v", c.what, r, ds)
		}
	}
}

// A row keeps the number that a spreadsheet shows, past empty lines and line breaks in cells.
func TestRowsAreNumberedAsSpreadsheetsDo(t *testing.T) {
	s, ds := sheet.ReadCSV(nil, "kit.csv", strings.NewReader("\n\nLens,Mount,FL,Notes\nA,Short,18,\"one\ntwo\"\n\nB,Short,old,\n"))
	if ds != nil {
		t.Fatal(ds)
	}
	_, ds = sheet.Understand(s, sheet.Options{})
	if len(ds) != 1 || ds[0].Span.String() != "kit.csv:6:3" {
		t.Errorf("got %v, want one fault at kit.csv:6:3", ds)
	}
}

// archive makes a workbook with one part put in the place of another.
func archive(t *testing.T, replace map[string]string) []byte {
	t.Helper()
	book := excelize.NewFile()
	if err := book.SetSheetRow("Sheet1", "A1", &[]any{"Lens", "Mount", "FL"}); err != nil {
		t.Fatal(err)
	}
	var plain bytes.Buffer
	if err := book.Write(&plain); err != nil {
		t.Fatal(err)
	}
	in, err := zip.NewReader(bytes.NewReader(plain.Bytes()), int64(plain.Len()))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	out := zip.NewWriter(&b)
	for _, part := range in.File {
		w, err := out.Create(part.Name)
		if err != nil {
			t.Fatal(err)
		}
		if text, ok := replace[part.Name]; ok {
			if _, err := io.WriteString(w, text); err != nil {
				t.Fatal(err)
			}
			continue
		}
		r, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(w, r); err != nil {
			t.Fatal(err)
		}
		r.Close()
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestXLSXRefuses(t *testing.T) {
	const part = "xl/worksheets/sheet1.xml"
	xmlOf := func(rows string) string {
		return `<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` + rows + `</sheetData></worksheet>`
	}
	entities := `<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;">]>` +
		strings.TrimPrefix(xmlOf(`<row r="1"><c r="A1" t="inlineStr"><is><t>&c;</t></is></c></row>`), `<?xml version="1.0"?>`)
	for _, c := range []struct {
		what string
		raw  []byte
		code lang.Code
		says string
	}{
		{"no workbook", []byte("Lens,Mount,FL\n"), lang.UnreadableFile, "no workbook"},
		{"nothing", nil, lang.UnreadableFile, "no workbook"},
		{"cut off", archive(t, nil)[:400], lang.UnreadableFile, "no workbook"},
		{"an archive of something else", func() []byte {
			var b bytes.Buffer
			w := zip.NewWriter(&b)
			if _, err := w.Create("readme.txt"); err != nil {
				t.Fatal(err)
			}
			if err := w.Close(); err != nil {
				t.Fatal(err)
			}
			return b.Bytes()
		}(), lang.UnreadableFile, "cannot be read"},
		{"a bomb of blanks", archive(t, map[string]string{part: xmlOf(strings.Repeat(" ", 70<<20))}), lang.TooLarge, "unpacked"},
		{"a bomb of cells", archive(t, map[string]string{part: xmlOf("<row>" + strings.Repeat("<c/>", 9_000_000) + "</row>")}), lang.TooLarge, "cells"},
		{"entities", archive(t, map[string]string{part: entities}), lang.UnreadableFile, "invalid character entity"},
		{"broken XML", archive(t, map[string]string{part: xmlOf(`<row r="1"><c r="A1"`)}), lang.UnreadableFile, "cannot be read"},
		{"an empty sheet", archive(t, map[string]string{part: xmlOf("")}), lang.UnreadableFile, "no sheet with anything in it"},
	} {
		if len(c.raw) > 4<<20 {
			t.Errorf("%s takes %d bytes packed, which is no bomb", c.what, len(c.raw))
		}
		_, ds := sheet.ReadXLSX(nil, "kit.xlsx", bytes.NewReader(c.raw))
		if len(ds) != 1 || ds[0].Code != c.code || !strings.Contains(ds[0].Summary, c.says) || ds[0].Detail == "" {
			t.Errorf("%s: got %v, want %s with %q", c.what, ds, c.code, c.says)
		}
	}
	if _, ds := sheet.ReadXLSX(nil, "kit.xlsx", &endless{left: 200 << 20}); len(ds) != 1 || ds[0].Code != lang.TooLarge {
		t.Errorf("200 MB: got %v", ds)
	}
}

// FuzzCSV feeds any text as a list: nothing may panic, findings have places, and what is
// understood makes text that a catalogue can read.
func FuzzCSV(f *testing.F) {
	f.Add("Lens,Mount,FL,Weight (g),Aperture\nWide,Short,18,\"1,25\",f/2.8-22\n")
	f.Add("Camera;Mount;Sensor;ISO range\nBody;Short;36 × 24 mm;100–3200\n;;;\nBody;Short;24x13mm;\n")
	f.Add("Objectif;Monture;Focale;Ouverture;Poids (ca. g)\nLarge;A;de 24 à 70;T3,1 (f/2,8-22);~480 env.\n")
	f.Add("Filter\tType\tThread\tDensity\nGrey\tND\t77\t0.9\n\"\"\"=x\"\"\"\tpol\t4'6\"\t\n")
	f.Add("Shot,Scene,Framing,Distance,Subject,Move,Light\nA,1,CU to wide,4 m to 1.5 m,2 men 1 x 1.8 m,\"slow pan 8°/s, low mode\",EV 7\n")
	f.Fuzz(func(t *testing.T, text string) {
		if s, ds := sheet.ReadCSV(nil, "fuzz", strings.NewReader(text)); ds == nil {
			understood(t, s)
		}
	})
}

// FuzzXLSX feeds any text as the cells, the shared texts and the number styles of a workbook.
func FuzzXLSX(f *testing.F) {
	const shared, styles = `<si><t>Lens</t></si><si><t>Mount</t></si><si><r><t>F</t></r><r><t>L</t></r></si><si><t>Wide</t></si>`, `<numFmts><numFmt numFmtId="170" formatCode="0 &quot;g&quot;"/></numFmts><cellXfs><xf numFmtId="0"/><xf numFmtId="170"/><xf numFmtId="10"/><xf numFmtId="14"/></cellXfs>`
	const titles = `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>2</v></c><c r="D1" t="inlineStr"><is><t>Weight (g)</t></is></c></row>`
	f.Add(titles+`<row r="2"><c r="A2" t="s"><v>3</v></c><c t="str"><f>x</f><v>Short</v></c><c r="C2"><v>18</v></c><c s="1"><v>470.5</v></c></row>`, shared, styles)
	f.Add(titles+`<row><c t="b"><v>1</v></c><c t="e"><v>#REF!</v></c></row><row r="9"><c r="A9" s="3"><v>45000</v></c></row>`, shared, styles)
	f.Add(titles+`<row r="3"><c r="C3" s="2"><v>1.5E-2</v></c></row></sheetData><mergeCells><mergeCell ref="A2:A9"/></mergeCells><sheetData>`, shared, styles)
	f.Add(`<row r="1048577"><c r="XFE1" t="s"><v>-1</v></c><c r="A0"/></row>`, `<si/><si><t>_x000D_</t></si>`, "")
	f.Fuzz(func(t *testing.T, cells, shared, styles string) {
		var b bytes.Buffer
		archive := zip.NewWriter(&b)
		for _, part := range []struct{ name, text string }{
			{"_rels/.rels", `<Relationships><Relationship Id="1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`},
			{"xl/workbook.xml", `<workbook xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Kit" sheetId="1" r:id="1"/></sheets></workbook>`},
			{"xl/_rels/workbook.xml.rels", `<Relationships><Relationship Id="1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>` +
				`<Relationship Id="2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/>` +
				`<Relationship Id="3" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>`},
			{"xl/worksheets/sheet1.xml", `<worksheet><sheetData>` + cells + `</sheetData></worksheet>`},
			{"xl/sharedStrings.xml", `<sst>` + shared + `</sst>`},
			{"xl/styles.xml", `<styleSheet>` + styles + `</styleSheet>`},
		} {
			w, err := archive.CreateHeader(&zip.FileHeader{Name: part.name, Method: zip.Store})
			if err != nil {
				t.Fatal(err)
			}
			if _, err := io.WriteString(w, part.text); err != nil {
				t.Fatal(err)
			}
		}
		if err := archive.Close(); err != nil {
			t.Fatal(err)
		}
		sheets, ds := sheet.ReadXLSX(nil, "fuzz.xlsx", &b)
		if (sheets == nil) != ds.HasErrors() {
			t.Fatalf("got %d sheets and %v", len(sheets), ds)
		}
		for _, s := range sheets {
			understood(t, s)
		}
	})
}

// understood takes a sheet for shots and for equipment: findings have places, and what is understood
// makes text that can be read.
func understood(t *testing.T, s *sheet.Sheet) {
	t.Helper()
	if shots, ds := sheet.Understand(s, sheet.Options{Kind: sheet.ShotKind, Levels: levels}); shots != nil && !ds.HasErrors() {
		composed, _ := catalog.Compose(shots.Drafts)
		if src, ds := lang.NewSource("composed", []byte(composed)); ds == nil {
			if _, ds := lang.Parse(src); ds != nil {
				t.Errorf("%v in\n%s", ds, composed)
			}
		}
	}
	r, ds := sheet.Understand(s, sheet.Options{})
	for _, d := range ds {
		if d.Code == "" || d.Severity == 0 || d.Summary == "" {
			t.Errorf("an empty finding: %+v", d)
		}
	}
	if r == nil {
		return
	}
	composed, _ := catalog.Compose(r.Drafts)
	src, ds := lang.NewSource("composed", []byte(composed))
	if ds != nil {
		return // a cell of many thousand bytes
	}
	_, ds = catalog.Load(src)
	for _, d := range ds {
		switch d.Code {
		case lang.UnexpectedText, lang.UnclosedText, lang.UnclosedBlock, lang.InvalidCharacter, lang.BadNumber, lang.UnknownUnit, lang.ExtraValue:
			t.Errorf("%v in\n%s", d, composed)
		}
	}
}
