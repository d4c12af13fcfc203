package sheet_test

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

func readCSV(t *testing.T, text string) *sheet.Sheet {
	t.Helper()
	s, ds := sheet.ReadCSV(nil, "kit.csv", strings.NewReader(text))
	if ds != nil {
		t.Fatal(ds)
	}
	return s
}

// An invented kit list as three houses write it: with units in the titles, below them, and
// in the cells.
func TestMessyListsImportRight(t *testing.T) {
	for _, name := range []string{"titles.csv", "units-row.csv", "cells.tsv"} {
		path := filepath.Join("..", "..", "testdata", "exchange", name)
		raw, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		want, err := os.ReadFile(strings.TrimSuffix(path, filepath.Ext(path)) + ".catalog")
		if err != nil {
			t.Fatal(err)
		}
		s, ds := sheet.ReadCSV(nil, name, bytes.NewReader(raw))
		if ds != nil {
			t.Fatal(ds)
		}
		r, ds := sheet.Understand(s, sheet.Options{Mounts: []string{"Cine collar", "Deep bayonet", "Slim bayonet"}})
		if ds.HasErrors() {
			t.Errorf("%s: %v", name, ds)
			continue
		}
		text, _ := catalog.Compose(r.Drafts)
		if diff := cmp.Diff(string(want), text); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
}

func TestEveryFieldHasAColumn(t *testing.T) {
	for kind, of := range map[string]reflect.Type{
		"lens": reflect.TypeFor[catalog.Lens](), "camera": reflect.TypeFor[catalog.Camera](), "filter": reflect.TypeFor[catalog.Filter](),
	} {
		keywords, _ := lang.Keywords(of)
		for _, keyword := range keywords {
			s := readCSV(t, "Name,Mount,Focal,Kind,Thread,Sensor,Odd\na,b,50,nd,77mm,36x24mm,\n")
			_, ds := sheet.Understand(s, sheet.Options{Kind: kind, Columns: map[string]string{"Odd": keyword}})
			for _, d := range ds {
				if strings.Contains(d.Summary, `"Odd"`) && !strings.Contains(d.Summary, "means the same") {
					t.Errorf("a %s has no column for %q: %v", kind, keyword, d)
				}
			}
		}
	}
}

// Each case is a list with one fault; the finding must stand at its row and column.
func TestFaultsAreLocated(t *testing.T) {
	const head = "Name,Mount,Focal length (mm),Weight (g),MFD,Aperture,Price,Status,Projection,Sensor\n"
	row := func(cells ...string) string {
		full := []string{"Wide", "Short", "18", "", "", "", "", "", "", ""}
		for _, c := range cells {
			at, text, _ := strings.Cut(c, "=")
			full[at[0]-'A'] = text
		}
		for i := range full {
			full[i] = `"` + strings.ReplaceAll(full[i], `"`, `""`) + `"`
		}
		return head + strings.Join(full, ",") + "\n"
	}
	for _, c := range []struct {
		what, text string
		severity   lang.Severity
		code       lang.Code
		at, says   string
	}{
		{"no figure", row("D=heavy"), lang.Error, lang.BadNumber, "kit.csv:2:4", `D2, "Mass", is no figure: "heavy"`},
		{"no unit", row("E=0.45"), lang.Error, lang.MissingUnit, "kit.csv:2:5", "has no unit"},
		{"an unknown unit", row("E=0.45 furlong"), lang.Error, lang.UnknownUnit, "kit.csv:2:5", `not known: "furlong"`},
		{"another unit", row("E=450 g"), lang.Error, lang.UnknownUnit, "kit.csv:2:5", "unit of something else"},
		{"two ways", strings.Replace(row("D=1,250"), "MFD", "MFD (m)", 1) + strings.TrimPrefix(row("A=Two", "E=0,45"), head) + strings.TrimPrefix(row("A=Three", "E=0.45"), head),
			lang.Error, lang.BadNumber, "kit.csv:2:4", `two ways: "1,250" is 1.250 or 1250`},
		{"two numbers", row("D=12 34"), lang.Error, lang.BadNumber, "kit.csv:2:4", "two numbers"},
		{"three marks", row("D=1,2.3,4"), lang.Error, lang.BadNumber, "kit.csv:2:4", "no number"},
		{"no stop", row("F=fast"), lang.Error, lang.BadNumber, "kit.csv:2:6", `is no stop: "fast"`},
		{"a range that runs backwards", row("C=70-24"), lang.Error, lang.BadInterval, "kit.csv:2:3", "runs backwards"},
		{"dollars", row("G=$35"), lang.Error, lang.MissingUnit, "kit.csv:2:7", "several countries"},
		{"a price without currency", row("G=35"), lang.Error, lang.MissingUnit, "kit.csv:2:7", "has no unit"},
		{"owned with price", row("H=own", "G=35 EUR"), lang.Error, lang.Contradiction, "kit.csv:2:7", "is owned and has a price"},
		{"whose", row("H=the lads"), lang.Error, lang.UnknownWord, "kit.csv:2:8", "is not understood"},
		{"which fisheye", row("I=fisheye"), lang.Error, lang.UnknownWord, "kit.csv:2:9", "does not say how"},
		{"no focal length", row("C=tbc"), lang.Error, lang.MissingValue, "kit.csv:2:1", "row 2 has no focal length"},
		{"no name", row("A="), lang.Error, lang.MissingValue, "kit.csv:2:1", "row 2 has no name"},
		{"an unknown column", row(), lang.Warning, lang.UnknownWord, "kit.csv:1:10", `the column "Sensor" is not known`},
		{"a column twice", "Lens,Mount,FL,Weight (g),Mass (g)\nWide,Short,18,1,2\n", lang.Error, lang.DuplicateField, "kit.csv:1:5", "means the same"},
		{"no column of focal lengths", "Lens,Mount,Weight (g)\nWide,Short,18\n", lang.Error, lang.MissingField, "kit.csv:1:1", "is the focal length of a lens"},
		{"no titles", "Wide,Short,18\n", lang.Error, lang.MissingField, "kit.csv:1:1", "no row of titles"},
		{"no rows", "Lens,Mount,FL\n", lang.Warning, lang.MissingValue, "kit.csv:1:1", "no rows below"},
		{"no size", "Camera,Mount,Sensor (mm),ISO\nBody,Short,36,800\n", lang.Error, lang.WrongKind, "kit.csv:2:3", "is no size"},
		{"no sensor", "Camera,Mount,Sensor (mm),ISO\nBody,Short,,800\n", lang.Error, lang.MissingValue, "kit.csv:2:1", "no size of the sensor"},
		{"a list in two ways", "Camera,Mount,Sensor (mm),ISO\nBody,Short,36 x 24,\"800,4000\"\n", lang.Error, lang.BadNumber, "kit.csv:2:4", `two ways: "800,4000"`},
		{"a list with a unit of something else", "Camera,Mount,Sensor (mm),ND\nBody,Short,36 x 24,\"2, 4 mm\"\n", lang.Error, lang.UnknownUnit, "kit.csv:2:4", "unit of something else"},
		{"a list without a unit", "Camera,Mount,Sensor (mm),ND\nBody,Short,36 x 24,\"2, 4\"\n", lang.Error, lang.MissingUnit, "kit.csv:2:4", "has no unit"},
		{"no density", "Filter,Type,Thread,Density\nGrey,ND,77,0.75\n", lang.Error, lang.BadNumber, "kit.csv:2:4", "neither a number of stops nor a density"},
	} {
		_, ds := sheet.Understand(readCSV(t, c.text), sheet.Options{})
		if c.severity == lang.Error {
			ds = slices.DeleteFunc(ds, func(d lang.Diagnostic) bool { return d.Severity == lang.Warning })
		}
		if len(ds) != 1 {
			t.Errorf("%s: got %v, want one finding", c.what, ds)
			continue
		}
		d := ds[0]
		if d.Severity != c.severity || d.Code != c.code || d.Span.String() != c.at || !strings.Contains(d.Summary, c.says) || d.Detail == "" {
			t.Errorf("%s: got %s %s at %s: %s\nwant %s %s at %s with %q", c.what, d.Severity, d.Code, d.Span, d.Summary, c.severity, c.code, c.at, c.says)
		}
	}
}

// Every fault of a list is found in one run.
func TestAllFaultsInOneRun(t *testing.T) {
	r, ds := sheet.Understand(readCSV(t, "Lens,Mount,FL,Weight\nA,Short,18,1\nB,Short,old,2 kg\nC,Short,50,\nD,,50,3 kg\n"), sheet.Options{})
	var places []string
	for _, d := range ds {
		places = append(places, d.Span.String())
	}
	if diff := cmp.Diff([]string{"kit.csv:2:4", "kit.csv:3:3", "kit.csv:5:1"}, places); diff != "" {
		t.Errorf("places (-want +got):\n%s", diff)
	}
	if len(r.Drafts) != 1 {
		t.Errorf("got %d drafts, want the one row without a fault", len(r.Drafts))
	}
}

func TestValues(t *testing.T) {
	for _, c := range []struct{ title, cell, want string }{
		{"Weight (g)", "1.250,5", "mass 1250.5g"},
		{"Weight", "1,25 kg", "mass 1.25kg"},
		{"Weight", "1 250 g", "mass 1250g"},
		{"Weight", "1’250 g", "mass 1250g"},
		{"Weight", "2½ lbs", "mass 2 1/2lb"},
		{"Weight [lb]", "2.5", "mass 2.5lb"},
		{"weight_kg", "2.5", "mass 2.5kg"},
		{"Weight, g", "900", "mass 900g"},
		{"Weight in g", "900", "mass 900g"},
		{"Weight (with hood)", "900 g", "mass 900g"},
		{"Weight", "n/a", ""},
		{"Close focus", `5' 10"`, "close_focus 5ft 10in"},
		{"Close focus", "18″", "close_focus 18in"},
		{"Close focus", "0.5m", "close_focus 0.5m"},
		{"Length", "89,5 mm", "length 89.5mm"},
		{"T-stop", "2.1", "transmission T2.1"},
		{"T-stop", "f/2.8", "aperture f/2.8"},
		{"T-stop", "T2.1-22", "about \"t-stop: down to T22\"; transmission T2.1"},
		{"Aperture", "1:2.8", "aperture f/2.8"},
		{"Aperture", "2.8-22", "aperture f/2.8..f/22"},
		{"Aperture", "ƒ/2", "aperture f/2"},
		{"Aperture", "f/2.8 (T3.1)", "aperture f/2.8; transmission T3.1"},
		{"Aperture", "T1,5/f1,4", "aperture f/1.4; transmission T1.5"},
		{"T-stop", "f/2.8-22 / T3.1", "aperture f/2.8..f/22; transmission T3.1"},
		{"Aperture", "ca. f/2.8 (T3.1)", "aperture about f/2.8; transmission about T3.1"},
		{"Aperture", "2.8 (wide open)", "about \"aperture: wide open\"; aperture f/2.8"},
		{"Weight", "ca.480 g", "mass about 480g"},
		{"Weight", "480 g (approx., with hood)", "about \"mass: with hood\"; mass about 480g"},
		{"Weight", "± 480 g", "mass about 480g"},
		{"Approx. weight (g)", "480", "mass about 480g"},
		{"Weight (ca.)", "480 g", "mass about 480g"},
		{"Close focus", "about 1 1/2 ft", "close_focus about 1 1/2ft"},
		{"Close focus", "env. 0,4 m", "close_focus about 0.4m"},
		{"Filter", "ca. M77x0.75", "thread about 77mm"},
		{"Magnification", "ca. 1:4", "about \"magnification: about 1:4\"; magnification 1:4"},
		{"Price (EUR)", "ca. 35 per day", "have rent about 35 EUR"},
		{"Distortion (%)", "-2,5", "distortion -2.5%"},
		{"Distortion %", "-2,5", "distortion -2.5%"},
		{"La\u0308nge (mm)", "95", "length 95mm"}, // an umlaut in two runes
		{"LAENGE (MM)", "95", "length 95mm"},
		{"Verzeichnung%", "-2,5", "distortion -2.5%"},
		{"Vignetting", "1.5 EV", "falloff 1.5 stops"},
		{"Squeeze", "1.33x", "squeeze 1.33"},
		{"Engraved (mm)", "24, 28, 35", "engraved 24, 28, 35mm"},
		{"Engraved", "24; 28,5; 35", "engraved 24, 28.5, 35mm"},
		{"Zoom marks", "2.4, 3.5 cm", "engraved 2.4, 3.5cm"},
		{"Max. magnification", "1:4", "magnification 1:4"},
		{"Magnification", "0,25x", "magnification 0.25"},
		{"Magnification", "1/4", "magnification 1:4"},
		{"Distance scale", "no", "scale none"},
		{"Focus scale", "fly-by-wire", "scale wire"},
		{"Squeeze", "spherical", ""},
		{"AF", "yes", "focus auto"},
		{"Filter", "None", "thread none"},
		{"Filter", "-", ""},
		{"Hire/day", "€ 35,-", "have rent 35 EUR"},
		{"Notes", "'=1+1", "about \"=1+1\""},
		{"Notes", "one\n\ntwo", "about \"one; two\""},
	} {
		text := "Lens\tMount\tFL\t" + c.title + "\nWide\tShort\t18\t\"" + strings.ReplaceAll(c.cell, `"`, `""`) + "\"\n"
		r, ds := sheet.Understand(readCSV(t, text), sheet.Options{})
		if len(ds) > 0 || len(r.Drafts) != 1 {
			t.Errorf("%s %q: got %v", c.title, c.cell, ds)
			continue
		}
		var lines []string
		for _, line := range r.Drafts[0].Lines {
			if line.Keyword != "mount" && line.Keyword != "focal" {
				lines = append(lines, line.Keyword+" "+line.Value)
			}
		}
		if got := strings.Join(lines, "; "); got != c.want {
			t.Errorf("%s %q: got %s, want %s", c.title, c.cell, got, c.want)
		}
	}
}

func TestValuesOfCameras(t *testing.T) {
	for _, c := range []struct{ title, cell, want string }{
		{"ISO", "800", "iso 800"},
		{"Native ISO", "800/4000", "iso 800, 4000"},
		{"Dual ISO", "800 and 4000", "iso 800, 4000"},
		{"ISO", "800; 4000", "iso 800, 4000"},
		{"Internal ND", "2, 4, 6 stops", "built_in_nd 2, 4, 6 stops"},
		{"Built-in ND (stops)", "2 / 4 / 6", "built_in_nd 2, 4, 6 stops"},
		{"ND", "ND 0.6; ND 1.2", "built_in_nd 2 stops, 4 stops"},
	} {
		text := "Camera\tMount\tSensor (mm)\t" + c.title + "\nBody\tShort\t36 x 24\t" + c.cell + "\n"
		r, ds := sheet.Understand(readCSV(t, text), sheet.Options{})
		if len(ds) > 0 || len(r.Drafts) != 1 {
			t.Errorf("%s %q: got %v", c.title, c.cell, ds)
			continue
		}
		if line := r.Drafts[0].Lines[len(r.Drafts[0].Lines)-1]; line.Keyword+" "+line.Value != c.want {
			t.Errorf("%s %q: got %s %s, want %s", c.title, c.cell, line.Keyword, line.Value, c.want)
		}
	}
}

func TestOptions(t *testing.T) {
	const list = "Was,Wo,Brennweite,Schwere,Preis,Anderes\nWeit,,18,\"1,250\",35,x\n"
	r, ds := sheet.Understand(readCSV(t, list), sheet.Options{
		Kind: "lens", Decimal: ',', Currency: "EUR",
		Columns:  map[string]string{"Was": "name", "Wo": "mount", "Schwere": "mass kg"},
		Defaults: map[string]string{"mount": "deep-bayonet", "focus": "MF", "close-focus": "0.3m"}, Mounts: []string{"Deep bayonet"},
	})
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	text, _ := catalog.Compose(r.Drafts)
	want := `lens "Weit" {
  have      rent 35 EUR
  mount     "Deep bayonet"
  focal     18mm
  close_focus 0.3m
  focus     manual
  mass      1.250kg
}
`
	if diff := cmp.Diff(want, text); diff != "" {
		t.Errorf("text (-want +got):\n%s", diff)
	}
	// The price that stands in the column of who has it is in the same currency.
	r, ds = sheet.Understand(readCSV(t, "Name,Mount,Focal,Have\nWide,Deep,18,rent 35\n"), sheet.Options{Kind: "lens", Currency: "EUR"})
	if text, _ := catalog.Compose(r.Drafts); ds.HasErrors() || !strings.Contains(text, "rent 35 EUR") {
		t.Errorf("got %q with %v, want a lens for 35 EUR", text, ds)
	}
	for _, c := range []struct {
		options sheet.Options
		code    lang.Code
		instead string
	}{
		{sheet.Options{Columns: map[string]string{"Anderes": "mas"}}, lang.UnknownWord, "mass"},
		{sheet.Options{Defaults: map[string]string{"mout": "Deep"}}, lang.UnknownWord, "mount"},
	} {
		_, ds := sheet.Understand(readCSV(t, strings.Replace(list, "Was,Wo", "Name,Mount", 1)), c.options)
		if !slices.ContainsFunc(ds, func(d lang.Diagnostic) bool {
			return d.Severity == lang.Error && d.Code == c.code && d.Instead == c.instead
		}) {
			t.Errorf("%+v: got %v, want an error that suggests %q", c.options, ds, c.instead)
		}
	}
}

// A workbook with merged cells, number formats, and two kinds of sheet.
func TestWorkbook(t *testing.T) {
	book := excelize.NewFile()
	set := func(sheet, at string, value any) {
		t.Helper()
		if err := book.SetCellValue(sheet, at, value); err != nil {
			t.Fatal(err)
		}
	}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	for i, row := range [][]any{
		{"Glass of the yard"},
		{"Lens", "Mount", "FL", "Weight", "Distortion", "Notes", "Aperture"},
		{"Wide", "Deep bayonet", 18, 1.25, 0.025, "on the\nlow shelf", "2.8-22"},
		{"Normal", nil, 35, 0.9, nil, nil, 2},
		{"Long", "Short", 85, 2, nil, nil, nil},
	} {
		for j, value := range row {
			if value != nil {
				at, err := excelize.CoordinatesToCellName(j+1, i+1)
				must(err)
				set("Sheet1", at, value)
			}
		}
	}
	must(book.MergeCell("Sheet1", "A1", "G1"))
	must(book.MergeCell("Sheet1", "B3", "B4"))
	must(book.MergeCell("Sheet1", "F3", "F5"))
	format := func(text string) int {
		style, err := book.NewStyle(&excelize.Style{CustomNumFmt: &text})
		must(err)
		return style
	}
	must(book.SetCellStyle("Sheet1", "D3", "D5", format(`0.0" kg"`)))
	must(book.SetCellStyle("Sheet1", "E3", "E3", format(`0%`)))
	_, err := book.NewSheet("Bodies")
	must(err)
	for i, row := range [][]any{{"Camera", "Mount", "Sensor (mm)", "Native ISO"}, {"Body", "Short", "36 × 24", 800}} {
		must(book.SetSheetRow("Bodies", []string{"B2", "B3"}[i], &row))
	}
	read := func() ([]*sheet.Sheet, lang.Diagnostics) {
		var b bytes.Buffer
		must(book.Write(&b))
		return sheet.ReadXLSX(nil, "kit.xlsx", &b)
	}
	sheets, ds := read()
	if ds != nil {
		t.Fatal(ds)
	}
	want := `lens "Wide" {
  about     "on the; low shelf"
  mount     "Deep bayonet"
  focal     18mm
  aperture  f/2.8..f/22
  mass      1.25kg
  distortion 2.5%
}

lens "Normal" {
  about     "on the; low shelf"
  mount     "Deep bayonet"
  focal     35mm
  aperture  f/2
  mass      0.9kg
}

lens "Long" {
  about     "on the; low shelf"
  mount     "Short"
  focal     85mm
  mass      2kg
}

camera "Body" {
  mount     "Short"
  mode      "Whole sensor" 36mm x 24mm
  iso       800
}
`
	if diff := cmp.Diff(want, takeIn(t, sheets...)); diff != "" {
		t.Errorf("text (-want +got):\n%s", diff)
	}

	// What the spreadsheet has made of a cell is said at the cell.
	for _, c := range []struct {
		what   string
		change func()
		says   string
	}{
		{"a date", func() {
			set("Sheet1", "G4", 44775)
			must(book.SetCellStyle("Sheet1", "G4", "G4", format("d-mmm")))
		}, "is a date or a time"},
		{"a formula that was not worked out", func() {
			must(book.SetCellStyle("Sheet1", "G4", "G4", format("General")))
			must(book.SetCellValue("Sheet1", "G4", nil))
			must(book.SetCellFormula("Sheet1", "G4", "1+1"))
		}, "holds a formula"},
	} {
		c.change()
		sheets, ds := read()
		if ds != nil {
			t.Fatal(ds)
		}
		_, ds = sheet.Understand(sheets[0], sheet.Options{})
		if len(ds) != 1 || ds[0].Span.String() != "kit.xlsx[Sheet1]:4:7" || !strings.Contains(ds[0].Summary, c.says) {
			t.Errorf("%s: got %v, want %q at kit.xlsx[Sheet1]:4:7", c.what, ds, c.says)
		}
	}
}

// No cell of an export is run as a formula.
func TestExportRunsNothing(t *testing.T) {
	c, ds := catalog.Load(source(t, "evil", `mount "=m" { flange 18mm }
lens "=cmd|' /C calc'!A0" {
  about     "+1"
  mount     "=m"
  focal     18mm
  distortion -2.5%
  correction {
    source    "-x"
    crop      1
  }
}
lens "@SUM(1)" {
  mount     "=m"
  focal     18mm
}`))
	if ds != nil {
		t.Fatal(ds)
	}
	var b bytes.Buffer
	if err := sheet.WriteCSV(&b, c, "lens"); err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(b.String(), "\n") {
		for _, field := range strings.Split(line, ",") {
			field = strings.TrimPrefix(field, `"`)
			if field != "" && strings.Contains("=+-@\t\r", field[:1]) && field != "-2.5" {
				t.Errorf("the field %q begins like a formula in %s", field, line)
			}
		}
	}
}
