package sheet_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

var languages = []string{"en", "de", "fr", "es", "it", "nl"}

const exchange = "../../testdata/exchange"

func read(t *testing.T, name string) string {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(exchange, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

// plainFigure matches what a spreadsheet keeps as a number when it is typed in its language.
var plainFigure = regexp.MustCompile(`^-?\d+([.,]\d+)?$`)

// workbookOf makes a workbook of a list, as a spreadsheet of its language does: what looks like
// a number is one.
func workbookOf(t *testing.T, name, text string) *sheet.Sheet {
	t.Helper()
	book := excelize.NewFile()
	defer book.Close()
	separator := ";"
	if strings.Contains(name, "-en") {
		separator = ","
	}
	for i, line := range strings.Split(strings.TrimSpace(text), "\n") {
		line = strings.ReplaceAll(line, `"1,205.5 g"`, "1205.5 g") // the only quoted cell
		for j, cell := range strings.Split(line, separator) {
			at, err := excelize.CoordinatesToCellName(j+1, i+1)
			if err != nil {
				t.Fatal(err)
			}
			var value any = cell
			if plainFigure.MatchString(cell) {
				if value, err = strconv.ParseFloat(strings.ReplaceAll(cell, ",", "."), 64); err != nil {
					t.Fatal(err)
				}
			}
			if err := book.SetCellValue("Sheet1", at, value); err != nil {
				t.Fatal(err)
			}
		}
	}
	var b bytes.Buffer
	if err := book.Write(&b); err != nil {
		t.Fatal(err)
	}
	sheets, ds := sheet.ReadXLSX(nil, name, &b)
	if ds != nil {
		t.Fatal(ds)
	}
	return sheets[0]
}

// bothForms gives a list as text and as a workbook.
func bothForms(t *testing.T, name string) map[string]*sheet.Sheet {
	t.Helper()
	text := read(t, name)
	plain, ds := sheet.ReadCSV(nil, name, strings.NewReader(text))
	if ds != nil {
		t.Fatal(ds)
	}
	return map[string]*sheet.Sheet{"text": plain, "workbook": workbookOf(t, name, text)}
}

// One list, as crews of six languages keep it, as text and as a workbook.
func TestListsOfSixLanguages(t *testing.T) {
	want := read(t, "list.catalog")
	for _, language := range languages {
		name := "list-" + language + ".csv"
		for form, s := range bothForms(t, name) {
			r, ds := sheet.Understand(s, sheet.Options{Mounts: []string{"Deep bayonet", "Slim bayonet"}})
			if ds != nil {
				t.Errorf("%s as %s: %v", name, form, ds)
				continue
			}
			got, _ := catalog.Compose(r.Drafts)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s as %s (-want +got):\n%s", name, form, diff)
			}
			src, _ := lang.NewSource("got", []byte("mount \"Deep bayonet\" {}\nmount \"Slim bayonet\" {}\n"+got))
			if _, ds := catalog.Load(src); ds.HasErrors() {
				t.Errorf("%s: %v", name, ds)
			}
		}
	}
}

// What cannot be read without a guess is refused at its cell, with what to do about it.
func TestMistakesOfSixLanguages(t *testing.T) {
	for _, language := range languages {
		refused(t, "mistakes-"+language+".csv", sheet.Options{})
	}
}

// refused compares what is found in a list with the text beside it.
func refused(t *testing.T, name string, o sheet.Options) {
	t.Helper()
	s, ds := sheet.ReadCSV(nil, name, strings.NewReader(read(t, name)))
	if ds != nil {
		t.Fatal(ds)
	}
	_, ds = sheet.Understand(s, o)
	var got strings.Builder
	for _, d := range ds.Sorted() {
		if d.Detail == "" {
			t.Errorf("%s has no remedy: %s", d.Span, d.Summary)
		}
		got.WriteString(d.Span.String() + ": " + d.Severity.String() + ": " + d.Summary + "\n  " + d.Detail + "\n")
	}
	path := filepath.Join(exchange, strings.TrimSuffix(name, ".csv")+".txt")
	if os.Getenv("GLASSBRIEF_UPDATE") != "" {
		if err := os.WriteFile(path, []byte(got.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if diff := cmp.Diff(read(t, filepath.Base(path)), got.String()); diff != "" {
		t.Errorf("%s (-want +got):\n%s", name, diff)
	}
}

// levels are some of the names of light that the caller knows.
var levels = []string{"office", "overcast"}

// One list of shots, as crews of six languages keep it, as text and as a workbook.
func TestShotsOfSixLanguages(t *testing.T) {
	want := read(t, "shots.txt")
	for _, language := range languages {
		name := "shots-" + language + ".csv"
		for form, s := range bothForms(t, name) {
			r, ds := sheet.Understand(s, sheet.Options{Kind: sheet.ShotKind, Levels: levels})
			if ds != nil {
				t.Errorf("%s as %s: %v", name, form, ds)
				continue
			}
			got, _ := catalog.Compose(r.Drafts)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s as %s (-want +got):\n%s", name, form, diff)
			}
		}
	}
}

// What is no shot without a guess is refused at its cell.
func TestMistakesInShotsOfSixLanguages(t *testing.T) {
	for _, language := range languages {
		refused(t, "shots-mistakes-"+language+".csv", sheet.Options{Kind: sheet.ShotKind, Levels: levels})
	}
}
