package audit

import (
	"math"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// A Trial is a made-up lens: a rectilinear, spherical prime without distortion that goes
// onto the camera directly. It is a thin lens, which forms no image of what is nearer than four
// focal lengths: what only a macro lens does is not asked of it.
type Trial [axes]float64

// lossOfGlass is the T-number over the f-number of a made-up lens: a quarter of a stop,
// which is usual (common practice).
const lossOfGlass = 1.09

// smallest is the smallest opening of a made-up lens, as usual.
const smallest = 22

// lens makes the lens. It can be focused by the camera when the shot asks for that.
func (t *Trial) lens(camera *catalog.Camera, shot *brief.Shot) *catalog.Lens {
	length := func(metres float64) lang.Quantity { return lang.NewQuantity(metres, lang.Length) }
	widest := t[WidestT] / lossOfGlass
	lens := &catalog.Lens{
		Mount:        camera.Mount,
		Focal:        lang.Interval{Low: length(t[Focal]), High: length(t[Focal])},
		Aperture:     lang.Interval{Low: lang.NewQuantity(widest, lang.Aperture), High: lang.NewQuantity(max(widest, smallest), lang.Aperture)},
		Transmission: lang.NewQuantity(t[WidestT], lang.Aperture),
		CloseFocus:   length(max(t[CloseFocus], 4*t[Focal])), Circle: length(t[Circle]), Length: length(t[Length]),
		Mass:       lang.NewQuantity(t[Mass], lang.Mass),
		Distortion: lang.NewQuantity(0, lang.Plain),
		Pupil:      catalog.Pupil{Thin: true},
		Have:       catalog.Holding{Kind: catalog.Owned},
		Focus:      lang.Word{Value: catalog.FocusManual},
	}
	if shot.Focus == facts.Auto {
		lens.Focus.Value = catalog.FocusAuto
	}
	return lens
}

// A bench judges made-up lenses in one shot on a camera.
type bench struct {
	thread   lang.Quantity // of the made-up lenses: that which most ND filters of the catalogue go on
	stage    *engine.Stage
	scenario *brief.Scenario
	camera   *catalog.Camera
	shot     *brief.Shot
}

func newBench(on *engine.Bench, s *brief.Scenario, camera *catalog.Camera, shot *brief.Shot) *bench {
	return &bench{filterThread(s.Catalogue), on.Stage(shot), s, camera, shot}
}

// filterThread gives the thread that most ND filters of a catalogue go on, unknown when there
// are none.
func filterThread(c *catalog.Catalogue) lang.Quantity {
	var best lang.Quantity
	most := 0
	for _, f := range c.Filters.All() {
		if f.Kind.Value != catalog.FilterND {
			continue
		}
		if n := len(c.FiltersFor(f.Thread.Value, catalog.FilterND)); n > most {
			best, most = f.Thread, n
		}
	}
	return best
}

func (b *bench) lens(t *Trial) *catalog.Lens {
	lens := t.lens(b.camera, b.shot)
	lens.Thread.Diameter = b.thread
	return lens
}

func (b *bench) try(t *Trial) engine.Outcome { return b.stage.Try(b.lens(t)) }

func (b *bench) passes(t *Trial) bool { return b.stage.Standing(b.lens(t)) == engine.Judged }

// needsThread gives the filter thread of a lens that does the shot with a filter alone, in
// metres; 0 of one that needs none.
func (b *bench) needsThread(t Trial) float64 {
	if b.stage.Standing(t.lens(b.camera, b.shot)) == engine.Judged {
		return 0
	}
	return b.thread.Value
}

// generous is a lens that everything but its focal length speaks for.
func (b *bench) generous() Trial {
	t := Trial{WidestT: 1, CloseFocus: 0.1, Mass: 0.4, Circle: 60e-3, Length: 60e-3}
	// In the middle of what the rig still takes.
	if middle := (b.scenario.Rig.Payload.Low.OrNaN() + b.scenario.Rig.Payload.High.OrNaN()) / 2; !math.IsNaN(middle) {
		carried := b.camera.Mass.Or(0) + b.scenario.Accessories.Mass
		t[Mass] = min(max(middle-carried, 0.1), 2)
	}
	return t
}

// focals gives the focal lengths that made-up lenses are tried at first.
func focals(yield func(float64) bool) {
	const steps = 160
	for step := range steps + 1 {
		if !yield(scales[Focal].domain.at(float64(step) / steps)) {
			return
		}
	}
}

// start finds a made-up lens that does the shot: the best focal length of many, first
// with the widest stop, which light asks for, then with smaller ones, which a background
// in focus may. It reports false when none does.
func (b *bench) start() (Trial, bool) {
	t := b.generous()
	for _, widest := range []float64{1, 2, 2.8, 5.6, 11} {
		t[WidestT] = widest
		best, value := math.NaN(), 0.0
		for focal := range focals {
			t[Focal] = focal
			if o := b.try(&t); o.Acceptable() && o.Score > value {
				best, value = t[Focal], o.Score
			}
		}
		if t[Focal] = best; value > 0 {
			return t, true
		}
	}
	return t, false
}
