package catalog_test

import (
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// Each case is one line put into an item that has what it must; the one finding must
// point at the marked text.
func TestCheckFindsOneFault(t *testing.T) {
	const (
		zoom     = "lens \"L\" {\n mount \"Short\"\n focal 24mm..70mm\n%\n}"
		lens     = "lens \"L\" {\n mount \"Short\"\n focal 35mm\n aperture f/2..f/22\n%\n}"
		bare     = "lens \"L\" {\n mount \"Short\"\n%\n}"
		camera   = "camera \"C\" {\n mount \"Short\"\n mode \"All\" 36mm x 24mm\n iso 800\n%\n}"
		bareBody = "camera \"C\" {\n mount \"Short\"\n mode \"All\" 36mm x 24mm\n%\n}"
		rig      = "rig \"R\" {\n sled_mass 2kg\n%\n}"
		adapter  = "adapter \"A\" {\n%\n}"
		ring     = "filter \"R\" {\n kind step-up\n%\n}"
		filter   = "filter \"F\" {\n kind nd\n%\n}"
	)
	for _, c := range []struct {
		item, line string
		severity   lang.Severity
		code       lang.Code
		at         string
	}{
		{lens, "mass -1kg", lang.Error, lang.OutOfRange, "-1kg"},
		{lens, "mass 0g", lang.Error, lang.OutOfRange, "0g"},
		{lens, "mass 40kg", lang.Warning, lang.Improbable, "40kg"},
		{lens, "mass 3g", lang.Warning, lang.Improbable, "3g"},
		{lens, "transmission T1.8", lang.Warning, lang.Improbable, "T1.8"},
		{lens, "transmission T4.5", lang.Warning, lang.Improbable, "T4.5"},
		{lens, "transmission f/2.2", lang.Error, lang.WrongKind, "f/2.2"},
		{lens, "close_focus 50mm", lang.Warning, lang.Improbable, "50mm"},
		{lens, "close_focus 24m", lang.Warning, lang.Improbable, "24m"},
		{lens, "circle 4mm", lang.Warning, lang.Improbable, "4mm"},
		{lens, "circle 101mm", lang.Warning, lang.Improbable, "101mm"},
		{lens, "circle 43", lang.Error, lang.MissingUnit, "43"},
		{lens, "squeeze 0.5", lang.Warning, lang.Improbable, "0.5"},
		{lens, "distortion 40%", lang.Warning, lang.Improbable, "40%"},
		{lens, "falloff -1 stops", lang.Error, lang.OutOfRange, "-1 stops"},
		{lens, "falloff 9 stops", lang.Warning, lang.Improbable, "9 stops"},
		{lens, "length 3m", lang.Warning, lang.Improbable, "3m"},
		{lens, "diameter 1m", lang.Warning, lang.Improbable, "1m"},
		{lens, "thread 5mm", lang.Warning, lang.Improbable, "5mm"},
		{lens, "thread no", lang.Error, lang.UnknownWord, "no"},
		{lens, "diameter 60mm\n thread 77mm", lang.Warning, lang.Improbable, "77mm"},
		{lens, "length 60mm\n balance 70mm", lang.Warning, lang.Improbable, "70mm"},
		{lens, "have rent 35", lang.Error, lang.MissingUnit, "35"},
		{lens, "have rent -5 EUR", lang.Error, lang.OutOfRange, "-5 EUR"},
		{lens, "have rent 9000 EUR", lang.Warning, lang.Improbable, "9000 EUR"},
		{lens, "have owned 35 EUR", lang.Error, lang.ExtraValue, "35 EUR"},
		{lens, "have ownd", lang.Error, lang.UnknownWord, "ownd"},
		{zoom, "engraved 24, 28, 85mm", lang.Error, lang.Contradiction, "85mm"},
		{zoom, "engraved 2.4cm, 24mm", lang.Error, lang.DuplicateField, "24mm"},
		{zoom, "engraved 28, 35, 28mm", lang.Error, lang.DuplicateField, "28mm"},
		{zoom, "engraved 28, 35", lang.Error, lang.MissingUnit, "28"},
		{zoom, "engraved 28mm..35mm", lang.Error, lang.WrongKind, "28mm..35mm"},
		{lens, "engraved 35mm", lang.Error, lang.Contradiction, "35mm"},
		{lens, "pupil 3m", lang.Warning, lang.Improbable, "3m"},
		{lens, "pupil -100%", lang.Error, lang.WrongDimension, "-100%"},
		{lens, "pupil 60mm 40mm", lang.Error, lang.Contradiction, "40mm"},
		{lens, "breathing -120%", lang.Error, lang.OutOfRange, "-120%"},
		{lens, "breathing 40%", lang.Warning, lang.Improbable, "40%"},
		{lens, "magnification 0:1", lang.Error, lang.OutOfRange, "0:1"},
		{lens, "magnification 1:400", lang.Warning, lang.Improbable, "1:400"},
		{lens, "magnification 8", lang.Warning, lang.Improbable, "8"},
		{lens, "scale printed", lang.Error, lang.UnknownWord, "printed"},
		{lens, "focus wire\n scale marked", lang.Error, lang.Contradiction, "marked"},
		{lens, "projection fisheye", lang.Error, lang.UnknownWord, "fisheye"},
		{lens, "focal 35mm", lang.Error, lang.DuplicateField, "focal"},
		{bare, "focal 0.5mm", lang.Warning, lang.Improbable, "0.5mm"},
		{bare, "focal 70mm..24mm", lang.Error, lang.BadInterval, "70mm..24mm"},
		{bare, "focal 24mm..", lang.Error, lang.BadInterval, "24mm.."},
		{bare, "focal -24mm", lang.Error, lang.OutOfRange, "-24mm"},
		{bare, "focal 24mm\n aperture f/22..f/2.8", lang.Error, lang.BadInterval, "f/22..f/2.8"},
		{bare, "focal 24mm\n aperture T2.2..T22", lang.Error, lang.WrongKind, "T2.2"},
		{bare, "focal 24mm\n aperture f/0.5..f/22", lang.Warning, lang.Improbable, "f/0.5"},
		{bare, "focal 24mm\n aperture f/2..f/90", lang.Warning, lang.Improbable, "f/90"},
		{bare, "focal 8mm\n circle 43mm", lang.Warning, lang.Improbable, "8mm"},
		{bare, "", lang.Error, lang.MissingField, "lens"},
		{"lens \"L\" {\n mount \"Shrot\"\n focal 35mm\n%\n}", "", lang.Error, lang.UnknownName, "Shrot"},
		{"lens \"\" {\n mount \"Short\"\n focal 35mm\n%\n}", "", lang.Error, lang.MissingValue, "\"\""},
		{camera, "mass 40kg", lang.Warning, lang.Improbable, "40kg"},
		{camera, "iso_range 12800..100", lang.Error, lang.BadInterval, "12800..100"},
		{camera, "iso_range 1600..12800", lang.Error, lang.Contradiction, "800"},
		{bareBody, "iso 800 or 4000\n iso_range 200..3200", lang.Error, lang.Contradiction, "4000"},
		{bareBody, "iso 800, 4000, 800", lang.Error, lang.DuplicateField, "800"},
		{bareBody, "iso 800,4000", lang.Error, lang.InvalidCharacter, ","},
		{camera, "built_in_nd 2, 4", lang.Error, lang.MissingUnit, "2"},
		{camera, "built_in_nd 0, 2 stops", lang.Error, lang.OutOfRange, "0"},
		{camera, "built_in_nd 2, 16 stops", lang.Warning, lang.Improbable, "16 stops"},
		{camera, "mode \"All\" 24mm x 13.5mm", lang.Error, lang.DuplicateName, "\"All\""},
		{camera, "mode \"Big\" 300mm x 24mm", lang.Warning, lang.Improbable, "300mm"},
		{camera, "mode \"Odd\" 36mm x 24mm x 2mm", lang.Error, lang.ExtraValue, "2mm"},
		{camera, "mode \"Odd\" 36mm x 24mm 6000 x 4000.5", lang.Error, lang.OutOfRange, "6000 x 4000.5"},
		{camera, "mode \"Odd\" 36mm x 24mm 0 x 4000", lang.Error, lang.OutOfRange, "0 x 4000"},
		{camera, "mode \"Odd\" 36mm x 24mm 6000 x 3000", lang.Warning, lang.Improbable, "6000 x 3000"},
		{camera, "length 60mm\n balance 80mm", lang.Warning, lang.Improbable, "80mm"},
		{bareBody, "iso 10", lang.Warning, lang.Improbable, "10"},
		{"camera \"C\" {\n mount \"Short\"\n%\n}", "", lang.Error, lang.MissingField, "camera"},
		{rig, "payload 3kg..1kg", lang.Error, lang.BadInterval, "3kg..1kg"},
		{rig, "payload -1kg..3kg", lang.Error, lang.OutOfRange, "-1kg"},
		{rig, "payload 3kg..70kg", lang.Warning, lang.Improbable, "70kg"},
		{rig, "wobble 20deg", lang.Warning, lang.Improbable, "20deg"},
		{rig, "isolation 120%", lang.Error, lang.OutOfRange, "120%"},
		{rig, "isolation -20%", lang.Error, lang.OutOfRange, "-20%"},
		{rig, "base_mass 3kg", lang.Error, lang.Contradiction, "3kg"},
		{rig, "plates 2.5", lang.Error, lang.OutOfRange, "2.5"},
		{adapter, "from \"Deep\" to \"Short\"\n thickness 25mm", lang.Warning, lang.Contradiction, "25mm"},
		{adapter, "from \"Short\" to \"Deep\"", lang.Warning, lang.Improbable, "\"A\""},
		{adapter, "from \"Deep\" to \"Shirt\"", lang.Error, lang.UnknownName, "Shirt"},
		{adapter, "from \"Deep\" to \"Short\"\n factor 7", lang.Warning, lang.Improbable, "7"},
		{adapter, "from \"Deep\" to \"Short\"\n factor 0", lang.Error, lang.OutOfRange, "0"},
		{adapter, "from \"Deep\"", lang.Error, lang.MissingValue, ""},
		{adapter, "", lang.Error, lang.MissingField, "adapter"},
		{filter, "thread 67mm\n strength -2 stops", lang.Error, lang.OutOfRange, "-2 stops"},
		{filter, "thread 67mm\n strength 30 stops", lang.Warning, lang.Improbable, "30 stops"},
		{ring, "thread 77mm\n front 67mm", lang.Error, lang.Contradiction, "67mm"},
		{filter, "thread 67kg", lang.Error, lang.WrongDimension, "67kg"},
		{"mount \"M\" {\n%\n}", "flange -18mm", lang.Error, lang.OutOfRange, "-18mm"},
		{"mount \"M\" {\n%\n}", "flange 18cm", lang.Warning, lang.Improbable, "18cm"},
	} {
		t.Run(c.line, func(t *testing.T) {
			text := strings.Replace(c.item, "%", " "+c.line, 1)
			_, ds := catalog.Load(source(t, "ground", ground), source(t, "test", text))
			if len(ds) != 1 {
				t.Fatalf("got %d findings, want 1:\n%v", len(ds), ds)
			}
			if d := ds[0]; d.Severity != c.severity || d.Code != c.code || d.Span.Text() != c.at {
				t.Errorf("got %s %s at %q, want %s %s at %q", d.Severity, d.Code, d.Span.Text(), c.severity, c.code, c.at)
			}
			if ds[0].Detail == "" {
				t.Errorf("%q has no remedy", ds[0].Summary)
			}
		})
	}
}

func TestMisspeltMountIsSuggested(t *testing.T) {
	_, ds := catalog.Load(source(t, "ground", ground), source(t, "test", "lens \"L\" {\n mount \"Shrot\"\n focal 35mm\n}"))
	if len(ds) != 1 || ds[0].Instead != "Short" {
		t.Errorf("got %v; want one finding with \"Short\" instead", ds)
	}
}

func TestOneCurrency(t *testing.T) {
	_, ds := catalog.Load(source(t, "ground", ground), source(t, "test", `
lens "A" {
  mount "Short"
  focal 35mm
  have  rent 35 EUR
}
lens "B" {
  mount "Short"
  focal 50mm
  have  rent 40 USD
}`))
	if len(ds) != 1 || ds[0].Code != lang.Contradiction || ds[0].Span.Text() != "40 USD" || ds[0].Related[0].Span.Text() != "35 EUR" {
		t.Errorf("got %v; want one contradiction at the second price that points to the first", ds)
	}
}

// A warning does not keep the figure from being used.
func TestImprobableIsUsed(t *testing.T) {
	c, ds := catalog.Load(source(t, "ground", ground), source(t, "test", "lens \"L\" {\n mount \"Short\"\n focal 35mm\n mass 40kg\n}"))
	lens, _ := c.Lenses.Lookup("L")
	if ds.HasErrors() || lens.Mass.Value != 40 {
		t.Errorf("got mass %v with %v; want 40 and no error", lens.Mass.Value, ds)
	}
}
