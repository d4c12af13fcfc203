package catalog_test

import (
	"math"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

const corrected = `focal 20mm..60mm
correction {
  source "a chart on the wall, by hand"
  crop 1.5
  aspect 4:3
  distortion 20mm ptlens 0.01 -0.05 0.02
  distortion 60mm ptlens 0.001 0.002 0
  shading 20mm f/2.8 10m -0.3 -0.2 0.1
}`

func TestCorrectionDecodes(t *testing.T) {
	lens := lensOf(t, corrected)
	c := lens.Correction
	if !c.Known() || c.Crop.Value != 1.5 || math.Abs(c.Aspect.Value-4.0/3) > 1e-12 || len(c.Distortions) != 2 || len(c.Shadings) != 1 {
		t.Fatalf("got %+v", c)
	}
	if got := lensField(t, lens, "correction").Show(lang.Printer{}); !strings.Contains(got, "distortion measured at 2 settings, shading measured at 1 settings, from a chart") {
		t.Errorf("shown as %q", got)
	}
	if lensOf(t, "focal 20mm").Correction.Known() {
		t.Error("a lens without the block: got known")
	}
	again := lensOf(t, "focal 20mm..60mm\ncorrection {\n"+strings.Join(c.Lines(), "\n")+"\n}")
	if got, want := strings.Join(again.Correction.Lines(), "; "), strings.Join(c.Lines(), "; "); got != want {
		t.Errorf("lines read and written again: got %s, want %s", got, want)
	}
}

func TestCorrectionFaults(t *testing.T) {
	for _, c := range []struct {
		old, line string
		code      lang.Code
		at        string
	}{
		{"crop 1.5", "crop 0", lang.OutOfRange, "0"},
		{"crop 1.5", "crop 40", lang.Improbable, "40"},
		{"crop 1.5", "", lang.MissingField, "correction"},
		{`source "a chart on the wall, by hand"`, "", lang.MissingField, "correction"},
		{"aspect 4:3", "aspect 3:4", lang.Improbable, "3:4"},
		{"distortion 60mm ptlens 0.001 0.002 0", "distortion 60mm ptlens 0.001 0.002", lang.MissingValue, ""},
		{"distortion 60mm ptlens 0.001 0.002 0", "distortion 60mm poly3 0.001 0.002", lang.ExtraValue, "0.002"},
		{"distortion 60mm ptlens 0.001 0.002 0", "distortion 60mm ptlense 0 0 0", lang.UnknownWord, "ptlense"},
		{"distortion 60mm ptlens 0.001 0.002 0", "distortion 60mm poly3 1.5", lang.OutOfRange, "60mm"},
		{"shading 20mm f/2.8 10m", "shading 20mm f/2.8 0m", lang.OutOfRange, "0m"},
		{"shading 20mm f/2.8 10m", "shading 20mm 2.8 10m", lang.MissingUnit, "2.8"},
	} {
		text := "lens \"L\" {\nmount \"Short\"\n" + strings.Replace(corrected, c.old, c.line, 1) + "\n}"
		_, ds := catalog.Load(source(t, "ground", ground), source(t, "test", text))
		if len(ds) != 1 || ds[0].Code != c.code || ds[0].Span.Text() != c.at {
			t.Errorf("%s: got %v, want %s at %q", c.line, ds, c.code, c.at)
		}
	}
}

// What holds for the curve whatever was measured: it goes through the settings that were
// measured, the middle of the picture has no distortion, and the edges of a smaller frame
// are points of a larger one.
func TestDistortionCurveProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c catalog.Correction
		c.Crop = lang.NewQuantity(rapid.Float64Range(0.5, 5).Draw(t, "crop"), lang.Plain)
		models := []string{catalog.Poly3, catalog.Poly5, catalog.PTLens}
		model := rapid.SampledFrom(models).Draw(t, "model")
		for _, focal := range rapid.SliceOfNDistinct(rapid.IntRange(8, 400), 1, 6, rapid.ID).Draw(t, "focal") {
			d := catalog.Distortion{Focal: lang.NewQuantity(float64(focal)/1000, lang.Length), Model: model}
			for i := range d.Terms {
				d.Terms[i] = rapid.Float64Range(-0.1, 0.1).Draw(t, "term")
			}
			c.Distortions = append(c.Distortions, d)
		}
		curve, ok := c.DistortionCurve()
		if !ok {
			t.Fatal("no curve")
		}
		for _, d := range c.Distortions {
			if got := curve.Model(d.Focal.Value); got.Terms != d.Terms {
				t.Errorf("at %v m: got %v, want what was measured, %v", d.Focal.Value, got.Terms, d.Terms)
			}
		}
		focal := rapid.Float64Range(0.005, 0.5).Draw(t, "between")
		if got := curve.Share(focal, 0); math.Abs(got) > 1e-12 {
			t.Errorf("in the middle: got %v, want none", got)
		}
		width, height := rapid.Float64Range(0.005, 0.05).Draw(t, "width"), rapid.Float64Range(0.005, 0.05).Draw(t, "height")
		edges := curve.Edges(focal, width, height)
		if got := curve.Edges(focal, height, width); got.Side != edges.Top || got.Top != edges.Side || got.Corner != edges.Corner {
			t.Errorf("turned: got %+v, want %+v with side and top swapped", got, edges)
		}
		for _, x := range []float64{edges.Side, edges.Top, edges.Corner} {
			if math.Abs(x) > math.Abs(edges.Worst()) {
				t.Errorf("worst of %+v: got %v", edges, edges.Worst())
			}
		}
	})
}

// The middle loses no light, and a setting that was measured gives its own figures.
func TestShading(t *testing.T) {
	lens := lensOf(t, corrected)
	c := &lens.Correction
	corner := math.Hypot(36e-3, 24e-3) / 1.5 / 2
	if got := c.Brightness(lens, 0.02, 2.8, 10, 0); got != 1 {
		t.Errorf("in the middle: got %v, want 1", got)
	}
	if got := c.Brightness(lens, 0.02, 2.8, 10, corner); math.Abs(got-0.6) > 1e-12 {
		t.Errorf("in the corner: got %v, want 1 - 0.3 - 0.2 + 0.1", got)
	}
	if got, want := c.Falloff(lens, 0.02, 2.8, 10, corner), -math.Log2(0.6); math.Abs(got-want) > 1e-12 {
		t.Errorf("stops lost: got %v, want %v", got, want)
	}
	bare := lensOf(t, "focal 20mm")
	if got := bare.Correction.Falloff(bare, 0.02, 2.8, 10, corner); !math.IsNaN(got) {
		t.Errorf("not measured: got %v, want unknown", got)
	}
}
