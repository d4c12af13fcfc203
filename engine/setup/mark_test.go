package setup

import (
	"math"
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/engine/optics"

	"pgregory.net/rapid"
)

// drawFocus draws a shot and a lens as far as focus goes, and gives the record of the shot with
// who focuses.
func drawFocus(t *rapid.T) (at func(facts.Focus) *facts.Record) {
	near := rapid.Float64Range(0.4, 12).Draw(t, "near")
	in := facts.ShotInput{
		Subject: facts.Subject{Person: rapid.Bool().Draw(t, "person"), Height: 1.7, Width: 0.45},
		Near:    near, Far: near * rapid.Float64Range(1, 3).Draw(t, "depth"), Background: math.NaN(),
		Motion:  facts.Motion{KeepsByEye: rapid.Bool().Draw(t, "by eye")},
		Support: rapid.SampledFrom([]facts.Support{facts.Sled, facts.Legs}).Draw(t, "support"),
	}
	focal := rapid.Float64Range(0.008, 0.09).Draw(t, "focal")
	lens := facts.LensInput{
		FocalLow: focal, FocalHigh: focal, WidestStop: 1.2, SmallestStop: 22, WidestT: 1.4, Squeeze: 1,
		Delivered: optics.Window{Frame: optics.FullFrame}, Confusion: math.NaN(), Magnification: math.NaN(),
		CloseFocus: max(4.01*focal, rapid.Float64Range(0.2, 1).Draw(t, "closest")),
	}
	return func(who facts.Focus) *facts.Record {
		var r facts.Record
		in.Focus = who
		facts.FillShot(&r, &in)
		facts.FillLens(&r, &lens, focal)
		facts.Refill(&r, facts.Every())
		return &r
	}
}

// bestEase gives the best focus_ease of the marks at a stop.
func bestEase(r facts.Record, stop float64) float64 {
	best := math.Inf(-1)
	r.Set(facts.Stop, stop)
	for _, m := range marksOf(nil, &r.Value) {
		r.Set(facts.FocusMark, m.from)
		r.SetTruth(facts.Following, m.follows)
		facts.Refill(&r, facts.Every())
		best = max(best, r.Value[facts.FocusEase])
	}
	return best
}

// For the reserve of focus alone, whoever follows never needs a smaller stop than a mark that
// is set once: at no stop is it less easy.
func TestFollowingIsNeverLessEasy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := drawFocus(t)
		stop := rapid.Float64Range(1.2, 22).Draw(t, "stop")
		fixed, pulled, auto := bestEase(*at(facts.Fixed), stop), bestEase(*at(facts.Pulled), stop), bestEase(*at(facts.Auto), stop)
		if pulled < fixed || auto < fixed {
			t.Errorf("at f/%g the ease of focus is %g, pulled %g and by the camera %g", stop, fixed, pulled, auto)
		}
	})
}

// The first mark lies within the plan, or at the closest focus. Where neither end of the plan
// holds it, no other leaves a greater share near and far at once.
func TestBalancedMarkLeavesMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := *drawFocus(t)(facts.Fixed)
		r.Set(facts.Stop, rapid.Float64Range(1.2, 22).Draw(t, "stop"))
		marks := marksOf(nil, &r.Value)
		reserve := func(mark float64) (near, far float64) {
			r.Set(facts.FocusMark, mark)
			r.SetTruth(facts.Following, false)
			facts.Refill(&r, facts.Every())
			return r.Value[facts.ReserveNear], r.Value[facts.ReserveFar]
		}
		for _, m := range marks {
			if m.from < r.Value[facts.CloseFocus] || m.follows {
				t.Errorf("got the mark %+v, with a closest focus of %g", m, r.Value[facts.CloseFocus])
			}
		}
		plan := marks[0].from
		near, far := reserve(plan)
		if low, high := r.Value[facts.SubjectNear], r.Value[facts.SubjectFar]; plan < low-1e-9 || plan > max(high, r.Value[facts.CloseFocus])+1e-9 {
			t.Errorf("the mark at %g m lies outside the plan from %g to %g m", plan, low, high)
		}
		other := plan * rapid.Float64Range(0.8, 1.25).Draw(t, "other")
		closeBy := 10 * r.Value[facts.FocalLength]
		if low := max(r.Value[facts.SubjectNear], r.Value[facts.CloseFocus]); plan > low+1e-9 && plan < r.Value[facts.SubjectFar]-1e-9 && min(low, other) > closeBy {
			// How far the sensor plane lies behind the lens changes a little with the distance.
			const apart, hopeless = 0.02, -0.15
			least := min(near, far)
			if n, f := reserve(other); min(n, f) > hopeless && min(n, f) > least+apart*max(0.1, math.Abs(least)) {
				t.Errorf("the mark at %g m leaves %g, and one at %g m %g", plan, min(near, far), other, min(n, f))
			}
		}
	})
}
