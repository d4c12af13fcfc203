package catalog_test

import (
	"slices"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

type shown struct {
	Keyword, Value string
	Known          bool
}

func show(fields []catalog.Field, p lang.Printer) []shown {
	var rows []shown
	for _, f := range fields {
		rows = append(rows, shown{f.Keyword, f.Show(p), f.Known()})
	}
	return rows
}

func TestFieldsOfLens(t *testing.T) {
	lens := lensOf(t, `
have rent 35 EUR
focal 24mm..70mm
engraved 24, 35, 70mm
magnification 1:4
aperture f/2.8..
close_focus 0.405m
focus auto
mass 955g
thread none
distortion -2.5%`)
	want := []shown{
		{"about", "", true},
		{"have", "rent 35 EUR a day", true},
		{"available", "always", true},
		{"mount", "Short", true},
		{"focal", "24 mm to 70 mm", true},
		{"engraved", "24 mm, 35 mm, 70 mm", true},
		{"aperture", "from f/2.8", true},
		{"transmission", "unknown", false},
		{"close_focus", "1ft 4in", true},
		{"magnification", "0.25", true},
		{"pupil", "unknown", false},
		{"breathing", "unknown", false},
		{"circle", "unknown", false},
		{"projection", "rectilinear", true},
		{"squeeze", "1", true},
		{"focus", "auto", true},
		{"scale", "as focus", true},
		{"mass", "2.11 lb", true},
		{"length", "unknown", false},
		{"diameter", "unknown", false},
		{"thread", "none", true},
		{"balance", "unknown", false},
		{"distortion", "-2.5%", true},
		{"falloff", "unknown", false},
		{"correction", "unknown", false},
	}
	if diff := cmp.Diff(want, show(catalog.Fields(lens), lang.Printer{System: lang.Imperial})); diff != "" {
		t.Errorf("fields (-want +got):\n%s", diff)
	}
}

func TestFieldsOfOtherItems(t *testing.T) {
	c := load(t, `
camera "C" {
  mount "Short"
  mode "Open gate" 36mm x 24mm
  mode "Crop" 24mm x 13.5mm "fast"
  iso 4000 or 800
  iso_range ..6400
  built_in_nd 2, 4 stops
}
adapter "A" {
  from "Deep" to "Short"
  contacts
}`)
	camera, _ := c.Cameras.Lookup("C")
	if base := camera.LowestBase(); base.Value != 800 || !slices.Equal(camera.BaseISOs(), []float64{800, 4000}) || !slices.Equal(camera.BuiltInNDs(), []float64{2, 4}) {
		t.Errorf("got base ISOs %v, the lowest %v, and filters of %v stops", camera.BaseISOs(), base.Value, camera.BuiltInNDs())
	}
	adapter, _ := c.Adapters.Lookup("A")
	for _, part := range []struct {
		what      string
		got, want []shown
	}{
		{"camera", show(catalog.Fields(camera), lang.Printer{})[:8], []shown{
			{"about", "", true},
			{"mount", "Short", true},
			{"mode", "Open gate, 36 mm x 24 mm", true},
			{"mode", "Crop, 24 mm x 13.5 mm, fast", true},
			{"iso", "4000, 800", true},
			{"iso_range", "to 6400", true},
			{"built_in_nd", "2 stops, 4 stops", true},
			{"autofocus", "no", true},
		}},
		{"adapter", show(catalog.Fields(adapter), lang.Printer{}), []shown{
			{"about", "", true},
			{"from", "Deep to Short", true},
			{"thickness", "unknown", false},
			{"factor", "none", true},
			{"contacts", "yes", true},
			{"mass", "unknown", false},
		}},
	} {
		if diff := cmp.Diff(part.want, part.got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", part.what, diff)
		}
	}
}

// Every field of every item of the demo can be shown.
func TestFieldsOfDemo(t *testing.T) {
	c := loadDemo(t)
	showAll(t, c.Lenses.All())
	showAll(t, c.Cameras.All())
	showAll(t, c.Rigs.All())
	showAll(t, c.Mounts.All())
	showAll(t, c.Adapters.All())
	showAll(t, c.Filters.All())
}

func showAll[T catalog.Lens | catalog.Camera | catalog.Rig | catalog.Mount | catalog.Adapter | catalog.Filter](t *testing.T, items []*T) {
	t.Helper()
	for _, item := range items {
		for _, f := range catalog.Fields(item) {
			if got := f.Show(lang.Printer{}); got == "" && f.Keyword != "about" {
				t.Errorf("%T: %s shows nothing", item, f.Keyword)
			}
		}
	}
}

func TestFocusScale(t *testing.T) {
	for _, c := range []struct{ lines, want string }{
		{"", ""},
		{"focus auto", ""},
		{"focus manual", catalog.ScaleMarked},
		{"focus wire", catalog.ScaleWire},
		{"focus manual\nscale none", catalog.ScaleNone},
		{"focus auto\nscale wire", catalog.ScaleWire},
		{"scale marked", catalog.ScaleMarked},
	} {
		if got := lensOf(t, "focal 35mm\n"+c.lines).FocusScale(); got != c.want {
			t.Errorf("%q: got %q, want %q", c.lines, got, c.want)
		}
	}
}
