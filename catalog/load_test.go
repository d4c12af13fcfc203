package catalog_test

import (
	"math"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

func source(t testing.TB, name, text string) *lang.Source {
	t.Helper()
	src, ds := lang.NewSource(name, []byte(text))
	if ds != nil {
		t.Fatal(ds)
	}
	return src
}

// ground is a catalogue that items under test can lean on.
const ground = `
mount "Short" { flange 18mm }
mount "Deep" { flange 45mm }
`

func load(t *testing.T, text string) *catalog.Catalogue {
	t.Helper()
	c, ds := catalog.Load(source(t, "ground", ground), source(t, "test", text))
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	return c
}

func lensOf(t *testing.T, lines string) *catalog.Lens {
	t.Helper()
	lens, ok := load(t, "lens \"L\" {\n mount \"Short\"\n"+lines+"\n}").Lenses.Lookup("L")
	if !ok {
		t.Fatal("the lens was not read")
	}
	return lens
}

func TestLensDecodes(t *testing.T) {
	zoom := lensOf(t, `
about "A zoom"
have rent 35 EUR
focal 24mm..70mm
aperture f/2.8..f/22
transmission T2.9
close_focus 40.5cm
circle 46.5mm
projection rectilinear
squeeze 1.33
focus auto
mass 955g
length 154mm
diameter 93mm
thread 82mm
balance 66mm
distortion -2.7%
falloff 1 1/2 stops`)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"day rate", zoom.Have.DayRate.Value, 35},
		{"short end", zoom.Focal.Low.Value, 0.024},
		{"long end", zoom.Focal.High.Value, 0.07},
		{"widest stop", zoom.WidestStop().Value, 2.8},
		{"smallest stop", zoom.SmallestStop().Value, 22},
		{"T-number", zoom.Transmission.Value, 2.9},
		{"closest focus", zoom.CloseFocus.Value, 0.405},
		{"circle", zoom.Circle.Value, 0.0465},
		{"squeeze", zoom.SqueezeFactor(), 1.33},
		{"mass", zoom.Mass.Value, 0.955},
		{"length", zoom.Length.Value, 0.154},
		{"diameter", zoom.Diameter.Value, 0.093},
		{"thread", zoom.Thread.Diameter.Value, 0.082},
		{"balance", zoom.Balance.Value, 0.066},
		{"distortion", zoom.Distortion.Value, -0.027},
		{"fall-off", zoom.Falloff.Value, 1.5},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: got %v, want %v", c.what, c.got, c.want)
		}
	}
	if !zoom.IsZoom() || zoom.IsFisheye() || zoom.Have.Kind != catalog.Hired || zoom.Focus.Value != catalog.FocusAuto {
		t.Errorf("got zoom %v, fisheye %v, have %q, focus %q", zoom.IsZoom(), zoom.IsFisheye(), zoom.Have.Kind, zoom.Focus.Value)
	}
}

func TestUnknownStaysUnknown(t *testing.T) {
	bare := lensOf(t, "focal 50mm")
	for _, c := range []struct {
		what  string
		known bool
	}{
		{"holding", bare.Have.Known()},
		{"day rate", bare.Have.DayRate.Known()},
		{"widest stop", bare.WidestStop().Known()},
		{"smallest stop", bare.SmallestStop().Known()},
		{"T-number", bare.Transmission.Known()},
		{"closest focus", bare.CloseFocus.Known()},
		{"circle", bare.Circle.Known()},
		{"mass", bare.Mass.Known()},
		{"thread", bare.Thread.Known()},
		{"balance", bare.Balance.Known()},
		{"distortion", bare.Distortion.Known()},
		{"fall-off", bare.Falloff.Known()},
	} {
		if c.known {
			t.Errorf("%s: got known, want unknown", c.what)
		}
	}
	if !math.IsNaN(bare.Mass.OrNaN()) {
		t.Errorf("mass: got %v, want NaN", bare.Mass.OrNaN())
	}
	if bare.IsZoom() || bare.IsFisheye() || bare.SqueezeFactor() != 1 {
		t.Error("a lens with a focal length alone is a spherical, rectilinear prime")
	}
}

func TestOneStopIsTheWidest(t *testing.T) {
	for _, c := range []struct {
		aperture        string
		widest, smalest bool
	}{
		{"f/2.8", true, false},
		{"f/2.8..", true, false},
		{"..f/22", false, true},
		{"f/2.8..f/22", true, true},
	} {
		lens := lensOf(t, "focal 50mm\naperture "+c.aperture)
		if lens.WidestStop().Known() != c.widest || lens.SmallestStop().Known() != c.smalest {
			t.Errorf("aperture %s: got widest known %v, smallest known %v; want %v, %v",
				c.aperture, lens.WidestStop().Known(), lens.SmallestStop().Known(), c.widest, c.smalest)
		}
	}
}

func TestThreadNoneIsKnown(t *testing.T) {
	lens := lensOf(t, "focal 14mm\nthread none")
	if !lens.Thread.Known() || !lens.Thread.None || lens.Thread.Diameter.Known() {
		t.Errorf("got %+v, want known to be none", lens.Thread)
	}
}

func TestCameraModes(t *testing.T) {
	c := load(t, `camera "C" {
  mount "Short"
  mode "Open gate" 36mm x 24mm
  mode "Crop" 24mm x 13.5mm "fast frame rates only"
  iso 800
  iso_range 100..12800
  autofocus
}`)
	camera, _ := c.Cameras.Lookup("C")
	if diff := cmp.Diff([]string{"Open gate", "Crop"}, camera.ModeNames()); diff != "" {
		t.Errorf("modes (-want +got):\n%s", diff)
	}
	for _, want := range []struct {
		name string
		mode string
	}{{"", "Open gate"}, {"Crop", "Crop"}, {"Open gate", "Open gate"}} {
		if got := camera.Mode(want.name); got == nil || got.Name.Value != want.mode {
			t.Errorf("Mode(%q): got %v, want %s", want.name, got, want.mode)
		}
	}
	if got := camera.Mode("Closed gate"); got != nil {
		t.Errorf("Mode of an unknown name: got %v, want none", got)
	}
	crop := camera.Mode("Crop")
	if crop.Note.Value != "fast frame rates only" || crop.Size.Height.Value != 0.0135 {
		t.Errorf("got note %q, height %v", crop.Note.Value, crop.Size.Height.Value)
	}
	if !camera.Autofocus.Set || camera.ISORange.High.Value != 12800 {
		t.Errorf("got autofocus %v, highest ISO %v", camera.Autofocus.Set, camera.ISORange.High.Value)
	}
}

func TestFilesMerge(t *testing.T) {
	house := source(t, "house.catalog", `lens "Wide" {
  mount "Short"
  focal 18mm
}`)
	hire := source(t, "hire.catalog", `lens "Long" {
  mount "Deep"
  focal 85mm
}
lens "Wide" {
  mount "Deep"
  focal 20mm
}`)
	c, ds := catalog.Load(source(t, "ground", ground), house, hire)
	if diff := cmp.Diff([]string{"Wide", "Long"}, c.Lenses.Names()); diff != "" {
		t.Errorf("lenses (-want +got):\n%s", diff)
	}
	wide, _ := c.Lenses.Lookup("Wide")
	if wide.Span.Source != house || wide.Focal.Low.Span.Text() != "18mm" {
		t.Errorf("got %s from %s; want the first of the two", wide.Focal.Low.Span.Text(), wide.Span)
	}
	if len(ds) != 1 || ds[0].Code != lang.DuplicateName || ds[0].Span.String() != "hire.catalog:5:6" {
		t.Fatalf("got %v; want one duplicate name at hire.catalog:5:6", ds)
	}
	if related := ds[0].Related[0].Span.String(); related != "house.catalog:1:6" {
		t.Errorf("the earlier name: got %s, want house.catalog:1:6", related)
	}
}

func TestResolveSuggests(t *testing.T) {
	c := loadDemo(t)
	text := source(t, "test", `"Wide18"`)
	name := lang.Text{Value: "Wide18", Span: lang.Span{Source: text, End: len(text.Text)}}
	lens, d := c.Lenses.Resolve(name)
	if lens != nil || d == nil {
		t.Fatalf("got %v, %v; want no lens and a diagnostic", lens, d)
	}
	if d.Code != lang.UnknownName || d.Instead != "Wide 18" || d.Span.Text() != "Wide18" {
		t.Errorf("got %s at %q, instead %q", d.Code, d.Span.Text(), d.Instead)
	}
	if lens, d := c.Lenses.Resolve(lang.Text{Value: "Wide 18"}); d != nil || lens.Name.Value != "Wide 18" {
		t.Errorf("got %v, %v; want the lens", lens, d)
	}
	none, _ := catalog.Load()
	if _, d := none.Rigs.Resolve(name); d == nil || d.Instead != "" {
		t.Errorf("in an empty catalogue: got %v; want a diagnostic without suggestion", d)
	}
}

// FuzzLoad feeds any text through reading, checking and fitting: nothing may panic, and
// every finding must have a code and a place inside its text.
func FuzzLoad(f *testing.F) {
	f.Add(catalog.Demo().Text)
	f.Add(ground + `lens "L" { mount "Deep" focal 1m.. have rent 3 }` + "\n" + `camera "" { mode "a" 1mm x 2mm x 3mm }`)
	f.Add("adapter \"a\" {\nfrom \"x\" to \"y\"\nfactor 0.7\n}\nlens \"a\" {\nmount \"x\"\nfocal -2mm\nthread none\n}")
	f.Fuzz(func(t *testing.T, text string) {
		src, ds := lang.NewSource("fuzz", []byte(text))
		if ds != nil {
			return
		}
		c, ds := catalog.Load(src)
		for _, d := range ds {
			if d.Code == "" || d.Severity == 0 || d.Span.Start < 0 || d.Span.End < d.Span.Start || d.Span.End > len(src.Text) {
				t.Errorf("a finding without code or place: %+v", d)
			}
		}
		for _, lens := range c.Lenses.All() {
			catalog.Fields(lens)
			for _, camera := range c.Cameras.All() {
				if fitting, err := c.Fit(lens, camera); err == nil && !(fitting.Factor > 0) {
					t.Errorf("%q on %q: factor %v", lens.Name.Value, camera.Name.Value, fitting.Factor)
				}
			}
		}
	})
}
