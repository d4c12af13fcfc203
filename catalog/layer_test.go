package catalog_test

import (
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// The hire house's list that the layers of these tests lie over.
const hireList = `lens "Wide" {
  mount     "Short"
  focal     18mm
  mass      655g
  circle    44mm
}
camera "Body" {
  mount     "Short"
  mode      "Open" 36mm x 24mm
  mode      "Crop" 24mm x 13.5mm
}
`

func lensField(t *testing.T, lens *catalog.Lens, keyword string) catalog.Field {
	t.Helper()
	for _, f := range catalog.Fields(lens) {
		if f.Keyword == keyword {
			return f
		}
	}
	t.Fatalf("a lens has no field %q", keyword)
	return catalog.Field{}
}

func TestAmendChangesSingleLines(t *testing.T) {
	mine := source(t, "mine.catalog", `amend lens "Wide" {
  mass      640g
  thread    77mm
}
amend camera "Body" {
  mode      "Only" 30mm x 20mm
}`)
	// A file may amend what a file named after it describes.
	c, ds := catalog.Load(mine, source(t, "hire.catalog", hireList), source(t, "ground", ground))
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	wide, _ := c.Lenses.Lookup("Wide")
	var places []string
	for _, keyword := range []string{"focal", "mass", "circle", "thread"} {
		f := lensField(t, wide, keyword)
		places = append(places, f.Show(lang.Printer{})+" from "+f.Origin().String())
	}
	want := []string{
		"18 mm from hire.catalog:3:13", "640 g from mine.catalog:2:13",
		"44 mm from hire.catalog:5:13", "77 mm from mine.catalog:3:13",
	}
	if diff := cmp.Diff(want, places); diff != "" {
		t.Errorf("values and their origins (-want +got):\n%s", diff)
	}
	if wide.Span.String() != "hire.catalog:1:1" {
		t.Errorf("the lens comes from %s, want hire.catalog:1:1", wide.Span)
	}
	body, _ := c.Cameras.Lookup("Body")
	if diff := cmp.Diff([]string{"Only"}, body.ModeNames()); diff != "" {
		t.Errorf("modes (-want +got):\n%s", diff)
	}
}

func TestAmendFaults(t *testing.T) {
	for _, c := range []struct {
		text     string
		severity lang.Severity
		code     lang.Code
		at       string
		instead  string
	}{
		{`amend lens "Wid" { mass 640g }`, lang.Error, lang.UnknownName, `"Wid"`, "Wide"},
		{`amend lense "Wide" { mass 640g }`, lang.Error, lang.UnknownName, "lense", "lens"},
		{`amend camera "Wide" { mass 640g }`, lang.Error, lang.UnknownName, "camera", "lens"},
		{`amend lens "Wide"`, lang.Error, lang.MissingValue, `amend lens "Wide"`, ""},
		{`amend lens { mass 640g }`, lang.Error, lang.MissingValue, `amend lens { mass 640g }`, ""},
		{`amend "Wide" { mass 640g }`, lang.Error, lang.MissingValue, `amend "Wide" { mass 640g }`, ""},
		{`amend lens "Wide" { mas 640g }`, lang.Error, lang.UnknownKeyword, "mas", "mass"},
		{`amend lens "Wide" { mass 640mm }`, lang.Error, lang.WrongDimension, "640mm", ""},
		{`amend lens "Wide" { mass 40kg }`, lang.Warning, lang.Improbable, "40kg", ""},
		{"amend lens \"Wide\" {\nmass 640g\nmass 650g\n}", lang.Error, lang.DuplicateField, "mass", ""},
		{"amend lens \"Wide\" { mass 640g }\namend lens \"Wide\" { mass 650g }", lang.Warning, lang.Contradiction, "mass 650g", ""},
	} {
		_, ds := catalog.Load(source(t, "mine", c.text), source(t, "hire", hireList), source(t, "ground", ground))
		if len(ds) != 1 {
			t.Errorf("%s: got %v, want one finding", c.text, ds)
			continue
		}
		d := ds[0]
		if d.Severity != c.severity || d.Code != c.code || d.Span.Text() != c.at || d.Instead != c.instead {
			t.Errorf("%s: got %s %s at %q, instead %q; want %s %s at %q, instead %q",
				c.text, d.Severity, d.Code, d.Span.Text(), d.Instead, c.severity, c.code, c.at, c.instead)
		}
		if d.Span.Source.Name != "mine" {
			t.Errorf("%s: got a place in %s, want it in the file that amends", c.text, d.Span.Source.Name)
		}
	}
}

func TestCataloguesThatAgreeAreNoConflict(t *testing.T) {
	same := strings.NewReplacer("655g", "0.655kg", "44mm", "4.4cm").Replace(hireList)
	c, ds := catalog.Load(source(t, "a", hireList), source(t, "b", same), source(t, "ground", ground), source(t, "ground 2", ground))
	if len(ds) > 0 {
		t.Errorf("got %v, want no finding: the catalogues say the same", ds)
	}
	if got := len(c.Lenses.All()); got != 1 {
		t.Errorf("got %d lenses, want 1", got)
	}
}

func TestConflictShowsBothPlaces(t *testing.T) {
	mine := source(t, "mine", strings.Replace(hireList, "655g", "640g", 1))
	c, ds := catalog.Load(mine, source(t, "hire", hireList), source(t, "ground", ground))
	if len(ds) != 1 || ds.HasErrors() {
		t.Fatalf("got %v, want one warning", ds)
	}
	var places []string
	for _, r := range ds[0].Related {
		places = append(places, r.Span.String()+": "+r.Note)
	}
	want := []string{
		"mine:1:6: this one holds",
		`mine:4:13: "mass" is 640 g here`,
		`hire:4:13: "mass" is 655 g here`,
	}
	if diff := cmp.Diff(want, places); diff != "" {
		t.Errorf("places (-want +got):\n%s", diff)
	}
	wide, _ := c.Lenses.Lookup("Wide")
	if wide.Mass.Value != 0.64 {
		t.Errorf("got a mass of %v kg, want that of the catalogue named first", wide.Mass.Value)
	}
}

func TestOneFileCannotNameTwice(t *testing.T) {
	_, ds := catalog.Load(source(t, "hire", hireList+hireList), source(t, "ground", ground))
	if !ds.HasErrors() || ds[0].Code != lang.DuplicateName {
		t.Errorf("got %v, want an error of a duplicate name", ds)
	}
}

func TestWithLeavesTheCatalogueAsItIs(t *testing.T) {
	c, _ := catalog.Load(source(t, "hire", hireList), source(t, "ground", ground))
	wide, _ := c.Lenses.Lookup("Wide")
	changed := *wide
	changed.Mass = lang.NewQuantity(1, lang.Mass)
	with := c.With(&changed)
	if got, _ := with.Lenses.Lookup("Wide"); got.Mass.Value != 1 || with.Lenses.All()[0].Mass.Value != 1 {
		t.Errorf("got a mass of %v, want the changed one", got.Mass.Value)
	}
	if got, _ := c.Lenses.Lookup("Wide"); got.Mass.Value != 0.655 {
		t.Errorf("the first catalogue was changed: %v", got.Mass.Value)
	}
}

func TestAmended(t *testing.T) {
	lens := lensOf(t, "focal 50mm\nmass 300g\nthread 77mm")
	changed, err := catalog.Amended(lens, "mass 640g")
	if err != nil {
		t.Fatal(err)
	}
	if changed.Mass.Value != 0.64 || changed.Thread.Diameter.Value != 0.077 || changed.Mount.Value != "Short" || lens.Mass.Value != 0.3 {
		t.Errorf("got mass %v, thread %v, mount %q; and the first lens now weighs %v", changed.Mass.Value, changed.Thread.Diameter.Value, changed.Mount.Value, lens.Mass.Value)
	}
	for _, line := range []string{"mas 640g", "mass 640mm", "mass", "mass 640g }"} {
		if _, err := catalog.Amended(lens, line); err == nil {
			t.Errorf("%s: got no error", line)
		}
	}
}
