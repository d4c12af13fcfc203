package catalog_test

import (
	"math"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"
)

func loadDemo(t *testing.T) *catalog.Catalogue {
	t.Helper()
	c, ds := catalog.Load(catalog.Demo())
	if len(ds) > 0 {
		t.Fatalf("the demo catalogue has findings:\n%v", ds)
	}
	return c
}

func TestDemoHoldsWhatItPromises(t *testing.T) {
	c := loadDemo(t)
	var zooms, anamorphics, hired, borrowed, incomplete int
	projections := map[string]bool{}
	for _, lens := range c.Lenses.All() {
		if lens.IsZoom() {
			zooms++
		}
		if lens.SqueezeFactor() > 1 {
			anamorphics++
		}
		if lens.IsFisheye() {
			projections[lens.Projection.Value] = true
		}
		switch lens.Have.Kind {
		case catalog.Hired:
			hired++
			if lens.Have.DayRate.Unit != "EUR" {
				t.Errorf("%s: the day rate is in %q, want EUR", lens.Name.Value, lens.Have.DayRate.Unit)
			}
		case catalog.Borrowed:
			borrowed++
		}
		if !lens.Mass.Known() || !lens.Circle.Known() {
			incomplete++
		}
	}
	formats := map[float64]bool{}
	severalModes := 0
	for _, camera := range c.Cameras.All() {
		formats[camera.Modes[0].Size.Width.Value] = true
		if len(camera.Modes) > 1 {
			severalModes++
		}
	}
	reducers := 0
	for _, adapter := range c.Adapters.All() {
		if adapter.IsOptical() && adapter.Factor.Value == 0.71 {
			reducers++
		}
	}
	threads := map[float64]bool{}
	for _, filter := range c.Filters.All() {
		if filter.Kind.Value == catalog.FilterND {
			threads[filter.Thread.Value] = true
		}
	}
	for _, count := range []struct {
		what      string
		got, want int
	}{
		{"lenses", len(c.Lenses.All()), 18},
		{"zooms", zooms, 4},
		{"projections of fisheyes", len(projections), 2},
		{"anamorphic lenses", anamorphics, 1},
		{"lenses for hire", hired, 3},
		{"borrowed lenses", borrowed, 1},
		{"lenses with unknown mass or circle", incomplete, 2},
		{"cameras", len(c.Cameras.All()), 4},
		{"formats", len(formats), 4},
		{"cameras with several modes", severalModes, 2},
		{"rigs", len(c.Rigs.All()), 2},
		{"mounts", len(c.Mounts.All()), 5},
		{"adapters", len(c.Adapters.All()), 3},
		{"reducers", reducers, 1},
		{"threads with ND filters", len(threads), 2},
	} {
		if count.got < count.want {
			t.Errorf("%s: got %d, want at least %d", count.what, count.got, count.want)
		}
	}
}

func TestDemoIsTidy(t *testing.T) {
	if got := lang.Tidy(catalog.Demo()); got != catalog.Demo().Text {
		t.Errorf("the demo catalogue is not in canonical layout; want\n%s", got)
	}
}

// Most of the glass must go onto the first camera, and every lens onto some camera, or
// the demo would show little but vetoes.
func TestDemoFits(t *testing.T) {
	c := loadDemo(t)
	first := c.Cameras.All()[0]
	onFirst := 0
	for _, lens := range c.Lenses.All() {
		if _, err := c.Fit(lens, first); err == nil {
			onFirst++
		}
		somewhere := false
		for _, camera := range c.Cameras.All() {
			_, err := c.Fit(lens, camera)
			somewhere = somewhere || err == nil
		}
		if !somewhere {
			t.Errorf("%s goes onto no camera", lens.Name.Value)
		}
	}
	if all := len(c.Lenses.All()); 2*onFirst <= all {
		t.Errorf("%d of %d lenses go onto %s, want most", onFirst, all, first.Name.Value)
	}
}

// Each rig must be able to carry some camera with some lens.
func TestDemoRigsCarrySomething(t *testing.T) {
	c := loadDemo(t)
	for _, rig := range c.Rigs.All() {
		loads := 0
		for _, camera := range c.Cameras.All() {
			for _, lens := range c.Lenses.All() {
				fitting, err := c.Fit(lens, camera)
				if err != nil {
					continue
				}
				mass := camera.Mass.OrNaN() + lens.Mass.OrNaN() + fitting.Mass
				if mass >= rig.Payload.Low.Value && mass <= rig.Payload.High.Value {
					loads++
				}
			}
		}
		if loads == 0 {
			t.Errorf("%s carries none of the cameras with any lens", rig.Name.Value)
		}
	}
}

// A lens whose circle is given must light at least one sensor that it fits.
func TestDemoCirclesLightSomething(t *testing.T) {
	c := loadDemo(t)
	for _, lens := range c.Lenses.All() {
		if !lens.Circle.Known() {
			continue
		}
		lights := false
		for _, camera := range c.Cameras.All() {
			fitting, err := c.Fit(lens, camera)
			for _, mode := range camera.Modes {
				diagonal := math.Hypot(mode.Size.Width.Value, mode.Size.Height.Value)
				lights = lights || err == nil && lens.Circle.Value*fitting.Factor >= diagonal
			}
		}
		if !lights {
			t.Errorf("%s lights no sensor mode to the corners", lens.Name.Value)
		}
	}
}
