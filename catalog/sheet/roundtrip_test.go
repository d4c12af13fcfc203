package sheet_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

func source(t fataler, name, text string) *lang.Source {
	t.Helper()
	src, ds := lang.NewSource(name, []byte(text))
	if ds != nil {
		t.Fatalf("%v", ds)
	}
	return src
}

type fataler interface {
	Helper()
	Fatalf(format string, args ...any)
}

// writer draws the text of a random catalogue.
type writer struct {
	t *rapid.T
	strings.Builder
}

// maybe writes a line half of the time.
func (w *writer) maybe(keyword string, values ...func() string) {
	if !rapid.Bool().Draw(w.t, keyword+"?") {
		return
	}
	w.line(keyword, values...)
}

func (w *writer) line(keyword string, values ...func() string) {
	w.WriteString(keyword)
	for _, value := range values {
		w.WriteString(" " + value())
	}
	w.WriteString("\n")
}

// number draws digits with up to three behind the point, among them those that could be
// thousands.
func (w *writer) number(low, high int) string {
	whole := rapid.IntRange(low, high).Draw(w.t, "whole")
	text := fmt.Sprint(whole)
	if digits := rapid.IntRange(0, 3).Draw(w.t, "digits"); digits > 0 {
		text += "." + fmt.Sprintf("%0*d", digits, rapid.IntRange(1, 9).Draw(w.t, "fraction"))
	}
	return text
}

func (w *writer) in(low, high int, units ...string) func() string {
	return func() string { return w.number(low, high) + rapid.SampledFrom(units).Draw(w.t, "unit") }
}

func (w *writer) word(words ...string) func() string {
	return func() string { return rapid.SampledFrom(words).Draw(w.t, "word") }
}

// text draws a quoted text that spreadsheets make the most of.
func (w *writer) text() string {
	return lang.Quote(rapid.OneOf(
		rapid.StringMatching(`[A-Za-z][A-Za-z 0-9,.;:'"()/\\|-]{0,24}`),
		rapid.SampledFrom([]string{"=1+1", "+49", "-", "@home", "'=x", `"quoted"`, " lead", "two  blanks", "n/a", "?", "Größe Ø 95", "長い", "a;b", "tab\there", "=cmd|' /C calc'!A0", "1,5", "2.8-22", "'", `\`, "#N/A", "TRUE", "00123", "1e5"}),
	).Draw(w.t, "text"))
}

func (w *writer) lens(name string) {
	w.WriteString("lens " + lang.Quote(name) + " {\n")
	w.maybe("about", w.text)
	w.maybe("have", w.word("owned", "borrowed", "rent 35 EUR", "rent 12.50 EUR", "rent 1250 EUR", "rent about 40 EUR", "rent 70 EUR week 210.50 EUR fetch 40 EUR least 2 days", "rent 9 EUR least 1 days"))
	w.maybe("available", w.word("2027-04-28..2027-05-31", "..2027-05-31", "2027-04-28..", "2027-04-28"))
	w.line("mount", w.word(`"Short"`, `"Deep"`, `"-"`))
	low := rapid.IntRange(10, 200).Draw(w.t, "focal")
	zoom := rapid.Bool().Draw(w.t, "zoom")
	if zoom {
		w.line("focal", func() string { return fmt.Sprintf("%dmm..%dmm", low, low+rapid.IntRange(4, 200).Draw(w.t, "reach")) })
		w.maybe("engraved", func() string {
			return fmt.Sprintf(rapid.SampledFrom([]string{"%d, %d.5mm", "%[1]dmm", "%dmm or %dmm", "%[1]d, %[2]d, %[2]d.125 mm"}).Draw(w.t, "engraved"), low, low+1)
		})
	} else {
		w.line("focal", func() string {
			return fmt.Sprintf("%d%s", low, rapid.SampledFrom([]string{"mm", " mm"}).Draw(w.t, "spelling"))
		})
	}
	w.maybe("aperture", w.word("f/2.8", "f/1.4..f/22", "f/2..f/5.6", "f/3.5..f/8", "f/4..", "..f/16", "f/0.95", "about f/2.8", "about f/2.8..f/22"))
	w.maybe("transmission", w.word("T3.1", "T2", "T1.55"))
	w.maybe("close_focus", func() string {
		return rapid.OneOf(rapid.Just("1ft 6in"), rapid.Just("1ft 6 1/2in"), rapid.Just("about 1ft 6in"), rapid.Custom(func(*rapid.T) string { return w.in(1, 3, "m", "ft", "feet")() }),
			rapid.Custom(func(*rapid.T) string { return w.in(20, 90, "cm", "in", "inches")() })).Draw(w.t, "close")
	})
	w.maybe("magnification", w.word("1:1", "1:4", "0.125", "2:1"))
	switch {
	case rapid.IntRange(0, 3).Draw(w.t, "thin") == 0:
		w.line("pupil", w.word("thin"))
	case zoom:
		w.maybe("pupil", w.word("110mm 62.5mm", "about 90mm 60mm", "70mm -40 mm"))
		w.maybe("breathing", w.word("-4% -9.5%", "-2%", "0.02 -0.125"))
	default:
		w.maybe("pupil", w.word("95mm", "-40 mm", "about 4.5in"))
		w.maybe("breathing", w.word("-8%", "2.5%", "-0.04", "about -8%"))
	}
	w.maybe("circle", w.in(20, 90, "mm"))
	w.maybe("projection", w.word("rectilinear", "equisolid", "stereographic"))
	w.maybe("squeeze", w.word("1.33", "2", "4:3", "1.5", "1.125"))
	w.maybe("focus", w.word("manual", "auto", "wire"))
	w.maybe("scale", w.word("wire"))
	w.maybe("mass", func() string {
		return w.word(w.in(1, 4, "kg", "lb")(), w.in(100, 999, "g", " grams")(), "2lb 3oz", "about 480g", "about 1.25kg")()
	})
	w.maybe("length", w.in(30, 300, "mm"))
	w.maybe("diameter", w.in(78, 120, "mm"))
	w.maybe("thread", w.word("77mm", "none", "3in", "72.5mm", "about 77mm"))
	w.maybe("balance", w.in(1, 25, "mm"))
	w.maybe("distortion", w.word("-2.5%", "3%", "0.01", "-0.025", "0%", "-1.125%", "about -2%"))
	w.maybe("falloff", w.word("1 1/3 stops", "2 stops", "1/3 stop", "0.5stops", "about 1 1/3 stops"))
	if rapid.Bool().Draw(w.t, "correction?") {
		w.WriteString("correction {\n")
		w.line("source", w.text)
		w.maybe("licence", w.text)
		w.line("crop", w.in(1, 5, ""))
		w.maybe("aspect", w.word("4:3", "1.5"))
		for _, focal := range rapid.SliceOfNDistinct(rapid.IntRange(10, 90), 0, 3, rapid.ID).Draw(w.t, "focals") {
			fmt.Fprintf(w, "distortion %dmm ptlens %v %v 0.001\n", focal, w.word("0.01", "-0.01")(), w.word("0.00001", "-0.05")())
			fmt.Fprintf(w, "shading %d.5mm f/2.8 %sm -0.3 -0.2 0.1\n", focal, w.number(1, 100))
		}
		w.WriteString("}\n")
	}
	w.WriteString("}\n")
}

func (w *writer) camera(name string) {
	w.WriteString("camera " + lang.Quote(name) + " {\n")
	w.maybe("about", w.text)
	w.line("mount", w.word(`"Short"`, `"Deep"`))
	for i := range rapid.IntRange(1, 3).Draw(w.t, "modes") {
		fmt.Fprintf(w, "mode %s %s x %s", lang.Quote(fmt.Sprintf("=Mode %d", i)), w.in(10, 40, "mm")(), w.in(7, 30, "mm", " mm")())
		if rapid.Bool().Draw(w.t, "pixels?") {
			fmt.Fprintf(w, " %d x %d", rapid.IntRange(1, 9000).Draw(w.t, "pixels"), rapid.IntRange(1, 9000).Draw(w.t, "pixels"))
		}
		if rapid.Bool().Draw(w.t, "note?") {
			w.WriteString(" " + w.text())
		}
		w.WriteString("\n")
	}
	w.maybe("iso", w.word("800", "640", "800 or 3200", "400, 800 or 1600"))
	w.maybe("built_in_nd", w.word("2, 4, 6 stops", "2 stops", "1 1/3, 2 2/3 stops", "0.5 stops or 2stops"))
	w.maybe("iso_range", w.word("100..12800", "200..", "400..3200"))
	w.maybe("autofocus")
	w.maybe("mass", w.in(1, 4, "kg", "lb"))
	w.maybe("length", w.in(90, 120, "mm"))
	w.maybe("balance", w.in(20, 60, "mm"))
	w.maybe("balance_height", w.in(20, 60, "mm"))
	w.maybe("axis_height", w.in(20, 60, "mm"))
	w.WriteString("}\n")
}

func (w *writer) filter(name string) {
	w.WriteString("filter " + lang.Quote(name) + " {\n")
	w.maybe("about", w.text)
	if rapid.Bool().Draw(w.t, "ring") {
		w.WriteString("kind step-up\nthread 77mm\n")
		w.line("front", w.word("82mm", "95mm", "4in"))
	} else {
		w.line("kind", w.word("nd", "diffusion", "polar"))
		w.line("thread", w.word("77mm", "82mm", "3in"))
		w.maybe("strength", w.word("3 stops", "1 1/3 stops", "2 stops..5 stops", "0.9 stops"))
	}
	w.maybe("mass", w.in(5, 90, "g"))
	w.WriteString("}\n")
}

// mounts is what random catalogues lean on. One mount has a name that means "unknown" in
// lists.
const mounts = "mount \"Short\" { flange 18mm }\nmount \"Deep\" { flange 45mm }\nmount \"-\" { flange 30mm }\n"

func draw(t *rapid.T) string { return describe(t, drawNames(t)) }

func drawNames(t *rapid.T) []string {
	return rapid.SliceOfNDistinct(rapid.Custom(func(t *rapid.T) string {
		name, _ := lang.Unquote((&writer{t: t}).text())
		return name
	}), 3, 9, rapid.ID).Draw(t, "names")
}

// describe draws a catalogue of items with the names.
func describe(t *rapid.T, names []string) string {
	w := &writer{t: t}
	for i, name := range names {
		if name == "" {
			name = "x"
		}
		switch i % 3 {
		case 0:
			w.lens(name)
		case 1:
			w.camera(name)
		case 2:
			w.filter(name)
		}
	}
	return w.String()
}

// told gives all that a catalogue says, without where and in which layout.
func told(c *catalog.Catalogue) map[string][]string {
	all := map[string][]string{}
	tell := func(kind, name string, fields []catalog.Field) {
		for _, f := range fields {
			if reflect.ValueOf(f.Value).IsZero() {
				continue
			}
			all[kind+" "+name] = append(all[kind+" "+name], f.Keyword+" "+tellValue(f.Value))
		}
	}
	for _, l := range c.Lenses.All() {
		tell("lens", l.Name.Value, catalog.Fields(l))
	}
	for _, x := range c.Cameras.All() {
		tell("camera", x.Name.Value, catalog.Fields(x))
	}
	for _, f := range c.Filters.All() {
		tell("filter", f.Name.Value, catalog.Fields(f))
	}
	return all
}

func tellValue(value any) string {
	q := func(q lang.Quantity) string { return fmt.Sprintf("%v %v %v %s", q.Known(), q.Rough, q.Value, q.Unit) }
	switch v := value.(type) {
	case lang.Text:
		return fmt.Sprintf("%q", v.Value)
	case lang.Word:
		return v.Value
	case lang.Flag:
		return fmt.Sprint(v.Set)
	case lang.Quantity:
		return q(v)
	case lang.Interval:
		return q(v.Low) + " to " + q(v.High)
	case lang.List:
		var items []string
		for _, item := range v.Items {
			items = append(items, q(item))
		}
		return strings.Join(items, ", ")
	case lang.Ratio:
		return fmt.Sprint(v.Value)
	case catalog.Holding:
		return v.Kind + " " + q(v.DayRate)
	case catalog.Thread:
		return fmt.Sprint(v.None) + q(v.Diameter)
	case catalog.Mode:
		return fmt.Sprintf("%q %s x %s %s %q", v.Name.Value, q(v.Size.Width), q(v.Size.Height), v.Pixels, v.Note.Value)
	case catalog.Correction:
		return fmt.Sprint(v.Known(), v.Lines())
	}
	return fmt.Sprintf("%T", value)
}

// takeIn reads sheets and gives the text of the catalogue that they make.
func takeIn(t fataler, sheets ...*sheet.Sheet) string {
	t.Helper()
	text, _ := catalog.Compose(draftsOf(t, sheets...))
	return text
}

func draftsOf(t fataler, sheets ...*sheet.Sheet) []catalog.Draft {
	t.Helper()
	var drafts []catalog.Draft
	for _, s := range sheets {
		r, ds := sheet.Understand(s, sheet.Options{})
		if len(ds) > 0 {
			t.Fatalf("%v", ds)
		}
		drafts = append(drafts, r.Drafts...)
	}
	return drafts
}

func TestRandomCataloguesSurvive(t *testing.T) {
	langtest.Draw(t, langtest.Cases(1000))
	rapid.Check(t, func(t *rapid.T) {
		text := draw(t)
		before, ds := catalog.Load(source(t, "before", text), source(t, "mounts", mounts))
		if ds.HasErrors() {
			t.Fatalf("the catalogue that was drawn is faulty: %v\n%s", ds, text)
		}
		sheets := exported(t, before)
		after, ds := catalog.Load(source(t, "after", takeIn(t, sheets...)), source(t, "mounts", mounts))
		if ds.HasErrors() {
			t.Fatalf("%v", ds)
		}
		if diff := cmp.Diff(told(before), told(after)); diff != "" {
			t.Errorf("lost on the way (-before +after):\n%s\n%s", diff, text)
		}
		// Taken in once more, it changes nothing.
		r, ds := before.Revise(source(t, "before", text), draftsOf(t, sheets...))
		if ds != nil || r.Text != text || r.Changes != nil || r.New != nil {
			t.Errorf("the same again changes %+v, with %v:\n%s", r.Changes, ds, cmp.Diff(text, r.Text))
		}
	})
}

// An amended list changes what it gives, and nothing else of the text.
func TestRandomAmendmentsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := drawNames(t)
		text, amended := describe(t, names), describe(t, names)
		text = strings.ReplaceAll(text, "\n", " // kept\n")
		before, _ := catalog.Load(source(t, "before", text), source(t, "mounts", mounts))
		list, _ := catalog.Load(source(t, "list", amended), source(t, "mounts", mounts))
		drafts := draftsOf(t, exported(t, list)...)
		r, ds := before.Revise(source(t, "before", text), drafts)
		if ds != nil || r.New != nil {
			t.Fatalf("got %v and %v new", ds, r.New)
		}
		after, _ := catalog.Load(source(t, "after", r.Text), source(t, "mounts", mounts))
		was, said, is := told(before), told(list), told(after)
		for item := range is {
			for _, line := range was[item] {
				if keyword, _, _ := strings.Cut(line, " "); !known(said[item], keyword) && !slices.Contains(is[item], line) {
					t.Errorf("%s: %s is lost: %v", item, line, is[item])
				}
			}
		}
		// Every line stands where it stood, but for the values that changed.
		lines := strings.Split(r.Text, "\n")
		for _, line := range strings.Split(text, "\n") {
			keyword, _, _ := strings.Cut(line, " ")
			at := slices.IndexFunc(lines, func(now string) bool {
				return strings.HasPrefix(now, keyword) && strings.HasSuffix(now, " // kept") || now == line
			})
			if line == "} // kept" || keyword == "shading" || keyword == "distortion" || keyword == "crop" || keyword == "aspect" || keyword == "source" || keyword == "licence" || keyword == "correction" {
				continue // in a block that is replaced as a whole
			}
			if at < 0 {
				t.Fatalf("%q is gone from\n%s", line, r.Text)
			}
			lines = lines[at+1:]
		}
		// What the list says is so, in whatever unit.
		again, ds := after.Revise(source(t, "after", r.Text), drafts)
		if ds != nil || again.Text != r.Text || again.Changes != nil {
			t.Errorf("a second time it changes %+v, %v", again.Changes, ds)
		}
	})
}

// known reports whether lines of an item give a keyword.
func known(lines []string, keyword string) bool {
	return slices.ContainsFunc(lines, func(line string) bool { return strings.HasPrefix(line, keyword+" ") })
}

// exported gives the sheets of a catalogue, as text or as a workbook.
func exported(t *rapid.T, before *catalog.Catalogue) []*sheet.Sheet {
	if rapid.Bool().Draw(t, "workbook") {
		var b bytes.Buffer
		if err := sheet.WriteXLSX(&b, before); err != nil {
			t.Fatalf("%v", err)
		}
		readByLibrary(t, before, b.Bytes())
		read, ds := sheet.ReadXLSX(nil, "out.xlsx", &b)
		if ds != nil {
			t.Fatalf("%v", ds)
		}
		return read
	}
	var sheets []*sheet.Sheet
	for _, kind := range sheet.KindNames() {
		var b bytes.Buffer
		if err := sheet.WriteCSV(&b, before, kind); err != nil {
			t.Fatalf("%v", err)
		}
		one, ds := sheet.ReadCSV(nil, kind+".csv", &b)
		if ds != nil {
			t.Fatalf("%v", ds)
		}
		sheets = append(sheets, one)
	}
	return sheets
}

// readByLibrary holds a workbook of a catalogue, as a library reads it, against the text of
// the same cells in CSV.
func readByLibrary(t *rapid.T, c *catalog.Catalogue, raw []byte) {
	t.Helper()
	book, err := excelize.OpenReader(bytes.NewReader(raw))
	if err != nil {
		t.Fatalf("%v", err)
	}
	defer book.Close()
	for i, title := range book.GetSheetList() {
		var text bytes.Buffer
		if err := sheet.WriteCSV(&text, c, sheet.KindNames()[i]); err != nil {
			t.Fatalf("%v", err)
		}
		want, err := csv.NewReader(&text).ReadAll()
		if err != nil {
			t.Fatalf("%v", err)
		}
		got, err := book.GetRows(title, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatalf("%v", err)
		}
		for j, row := range got { // the library leaves empty cells at the end of a row out
			got[j] = append(row, make([]string, max(0, len(want[0])-len(row)))...)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s as the library reads it (-CSV +workbook):\n%s", title, diff)
		}
	}
}
