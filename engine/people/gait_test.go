package people

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

var gaits = []Gait{Still, Walking, Running, Climbing}

// The mean lies in its range, nothing moves by less than nothing, and who stands takes no step.
func TestEstimatesLieInTheirRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		gait := rapid.SampledFrom(gaits).Draw(t, "gait")
		speed := rapid.Float64Range(0, 4).Draw(t, "speed")
		for _, e := range []Estimate{gait.Bob(speed), gait.Sway(speed)} {
			if !(0 <= e.Low && e.Low <= e.Mean && e.Mean <= e.High) {
				t.Errorf("got %+v at %g m/s", e, speed)
			}
			if gait == Still && e != (Estimate{}) {
				t.Errorf("got %+v of who stands", e)
			}
		}
	})
	for _, gait := range gaits {
		for _, speed := range []float64{-1, math.NaN()} {
			if b, s, u := gait.Bob(speed).Mean, gait.Sway(speed).High, gait.Unrest(speed); !math.IsNaN(b) || !math.IsNaN(s) || !math.IsNaN(u) {
				t.Errorf("got %g, %g and %g at a speed of %g, want NaN", b, s, u, speed)
			}
		}
	}
}

// A faster walk rises and falls by more, up to a run, and sways by less; a hair of speed changes
// neither by more than a hair.
func TestWalkBySpeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		speed := rapid.Float64Range(0.01, 4).Draw(t, "speed")
		faster := speed + rapid.Float64Range(0, 1).Draw(t, "more")
		slow, fast := Walking.Bob(speed), Walking.Bob(faster)
		if fast.Mean < slow.Mean || fast.High < slow.High || fast.High > RunBob.Value() {
			t.Errorf("a bob of %+v at %g m/s and %+v at %g m/s", slow, speed, fast, faster)
		}
		sways, less := Walking.Sway(speed), Walking.Sway(faster)
		if less.Mean > sways.Mean {
			t.Errorf("a sway of %+v at %g m/s and %+v at %g m/s", sways, speed, less, faster)
		}
		const steepest = 0.08 // m for each m/s
		if fast.High-slow.High > steepest*(faster-speed)+1e-12 || sways.Mean-less.Mean > steepest*(faster-speed)+1e-12 {
			t.Errorf("a step from %+v and %+v to %+v and %+v between %g and %g m/s", slow, sways, fast, less, speed, faster)
		}
	})
}

// Every figure says what it is, where it is from or between what it lies, and what it bears on.
func TestFiguresSayWhatTheyAre(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range Figures() {
		if f.Name == "" || f.Moves == "" || seen[f.Name] {
			t.Errorf("%+v lacks what it is or bears on, or stands twice", f)
		}
		seen[f.Name] = true
		if !(f.Low <= f.Value && f.Value <= f.High) || f.Assumed() && f.Low == f.High {
			t.Errorf("%s: %g lies from %g to %g", f.Name, f.Value, f.Low, f.High)
		}
		if f.Assumed() && f.Persons > 0 || f.Spread <= 0 {
			t.Errorf("%+v says how it was measured, and not where", f)
		}
	}
}
