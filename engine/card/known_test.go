package card

import (
	"math"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"

	"pgregory.net/rapid"
)

// A limit of focus is off by what half a millimetre of focal length and three hundredths of the stop
// make of it, as the rays of a thin lens through them show.
func TestLimitsAreOffByWhatTheirInputsAre(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		focal := rapid.Float64Range(0.014, 0.1).Draw(t, "focal")
		mark := rapid.Float64Range(1.5, 10).Draw(t, "mark")
		near := mark * rapid.Float64Range(0.5, 0.95).Draw(t, "near")
		// The blur on the sensor, of all of the cone from the pupil, of what lies at near.
		blur := func(focal, stop, x float64) float64 {
			image := func(s float64) float64 { return 1 / (1/focal - 1/s) }
			return focal / stop * math.Abs(image(x)-image(mark)) / image(x)
		}
		const stop = 4
		confusion := blur(focal, stop, near)
		// Where the blur is the same with a lens that is a little shorter, and stopped down a little more.
		low, high := mark*0.05, mark
		for range 100 {
			if middle := (low + high) / 2; blur(focal-halfMillimetre, stop*(1+blurSlack), middle) > confusion {
				low = middle
			} else {
				high = middle
			}
		}
		c := focalOf(focal, mark)
		if got, want := limitOff(c, near), near-high; !(got > 0.6*want && got < 1.7*want) {
			t.Errorf("f %g m at %g m, near limit %g m: said to be off by %g m, and is by %g", focal, mark, near, got, want)
		}
	})
}

// Every number of a card in a unit is either known to be off by something, or one that is set or given:
// who adds one must say which.
func TestEveryNumberIsKnownOrSet(t *testing.T) {
	exact := map[string]bool{}
	for _, key := range []string{
		"focal_mm", "lens_focal_mm", "aperture", "lens_aperture", "t_stop", "close_stops", "focus_at_m", "confusion_mm", "start_m", "end_m",
		"circle_m", "lens_circle_m", "passage_m", "iso", "shutter_s", "shutter_deg", "rate_fps", "nd_needed_stops", "nd_stops", "built_in_nd_stops",
		"left_stops", "short_stops", "picture.duration_s", "rig.payload_least_kg", "rig.payload_most_kg", "rig.held_kg",
		"rig.post_mm", "rig.post_setting_mm", "rig.shift_mm", "rig.offset_mm", "rig.inertia_kgm2", "rig.drop_shortest_s", "rig.drop_longest_s",
	} {
		exact[key] = true
	}
	s := enginetest.Read(t, enginetest.Trial("", "light 800lx"), brief.Files{})
	deck := floor.Cards(enginetest.Recommend(t, s, engine.Options{}))
	c := &deck[0]
	for _, r := range Setup() {
		value, isNumber := r.Of(c).(float64)
		if !isNumber {
			continue
		}
		if (r.Off == nil) != exact[r.Key] {
			t.Errorf("%s: it says how far it may be off: %t, and is listed as set or given: %t", r.Key, r.Off != nil, exact[r.Key])
		}
		if r.Off != nil && r.Off(c, value) < 0 {
			t.Errorf("%s: %g is off by %g", r.Key, value, r.Off(c, value))
		}
	}
}

// focalOf makes a card with a focal length and a focus mark.
func focalOf(focal, mark float64) *floor.Card {
	j := &engine.Judgement{Facts: &facts.Record{}}
	j.Facts.Value[facts.FocalLength], j.Facts.Value[facts.FocusMark] = focal, mark
	return &floor.Card{Use: j}
}
