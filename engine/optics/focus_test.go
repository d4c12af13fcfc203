package optics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func drawStop(t *rapid.T) float64      { return rapid.Float64Range(0.9, 32).Draw(t, "stop") }
func drawConfusion(t *rapid.T) float64 { return rapid.Float64Range(5e-6, 6e-5).Draw(t, "confusion") }

func TestFocusLiesWithinItsLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, n, c := drawFocal(t), drawStop(t), drawConfusion(t)
		s := drawDistance(t, f)
		from, to := Limits(f, n, c, s)
		if !(from <= s && s <= to) {
			t.Errorf("got %g to %g, want %g within", from, to, s)
		}
		if got, want := math.IsInf(to, 1), s >= Hyperfocal(f, n, c); got != want && !near(s, Hyperfocal(f, n, c), 1e-9) {
			t.Errorf("far limit %g: infinity sharp %t, want %t by the hyperfocal distance", to, got, want)
		}
		// A point at either limit makes a disc of just the circle of confusion, by the
		// formula of blur, which knows nothing of limits.
		if got := Blur(f, n, s, from); !near(got, c, 1e-6) {
			t.Errorf("blur at the near limit: got %g, want %g", got, c)
		}
		if got := Blur(f, n, s, to); !math.IsInf(to, 1) && !near(got, c, 1e-6) {
			t.Errorf("blur at the far limit: got %g, want %g", got, c)
		}
		if got := Blur(f, n, s, s); got != 0 {
			t.Errorf("blur of the plane in focus: got %g, want 0", got)
		}
	})
}

func TestStoppingDownHoldsMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, n, c := drawFocal(t), drawStop(t), drawConfusion(t)
		s := drawDistance(t, f)
		from, to := Limits(f, n, c, s)
		closerFrom, fartherTo := Limits(f, n*1.1, c, s)
		if closerFrom > from || fartherTo < to {
			t.Errorf("stopped down: got %g to %g, want it to hold %g to %g", closerFrom, fartherTo, from, to)
		}
	})
}

func TestStopForHoldsTheRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, c := drawFocal(t), drawConfusion(t)
		from := drawDistance(t, f)
		to := from * rapid.Float64Range(1.01, 100).Draw(t, "far over near")
		n := StopFor(f, c, from, to)
		gotFrom, gotTo := Limits(f, n, c, FocusMark(from, to))
		if !near(gotFrom, from, 1e-9) || !near(gotTo, to, 1e-6) {
			t.Errorf("at f/%g: got %g to %g, want %g to %g", n, gotFrom, gotTo, from, to)
		}
		if far := StopFor(f, c, from, math.Inf(1)); !(far > n) {
			t.Errorf("up to infinity: got f/%g, want more than f/%g", far, n)
		}
	})
}

func TestFocusToInfinity(t *testing.T) {
	const f, n, c = 0.05, 8, 3e-5
	inf := math.Inf(1)
	h := Hyperfocal(f, n, c)
	from, to := Limits(f, n, c, inf)
	if !near(from, h-f, 1e-12) || to != inf {
		t.Errorf("set to infinity: got %g to %g, want %g to +Inf", from, to, h-f)
	}
	// Half the hyperfocal distance to infinity is what it holds.
	mark := FocusMark(h/2, inf)
	if !near(mark, h, 1e-12) {
		t.Errorf("mark: got %g, want the hyperfocal distance %g", mark, h)
	}
	if got := StopFor(f, c, h/2, inf); !near(got, n, 1e-9) {
		t.Errorf("stop: got %g, want %d", got, n)
	}
	if got := StopFor(f, c, inf, inf); got != 0 {
		t.Errorf("stop for infinity alone: got %g, want 0", got)
	}
	if got := FocusMark(inf, inf); got != inf {
		t.Errorf("mark for infinity alone: got %g, want +Inf", got)
	}
	if got, want := Blur(f, n, inf, 10), f*f/(n*10.0); !near(got, want, 1e-12) {
		t.Errorf("blur at 10 m, set to infinity: got %g, want %g", got, want)
	}
	if got := Blur(f, n, inf, inf); got != 0 {
		t.Errorf("blur of infinity, set to it: got %g, want 0", got)
	}
}

func TestSinglePlaneNeedsNoStop(t *testing.T) {
	if got := StopFor(0.05, 3e-5, 2, 2); got != 0 {
		t.Errorf("stop: got %g, want 0", got)
	}
	if got := FocusMark(2, 2); got != 2 {
		t.Errorf("mark: got %g, want 2", got)
	}
}

// As the focal length goes to nothing, the handbook forms without it become exact.
func TestLimitsOfShortFocalLength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const f, n = 1e-8, 2
		h := rapid.Float64Range(1, 100).Draw(t, "hyperfocal")
		s := h * rapid.Float64Range(0.01, 0.9).Draw(t, "share")
		from, to := Limits(f, n, f*f/(n*h), s)
		if want := h * s / (h + s); !near(from, want, 1e-6) {
			t.Errorf("near: got %g, want %g", from, want)
		}
		if want := h * s / (h - s); !near(to, want, 1e-6) {
			t.Errorf("far: got %g, want %g", to, want)
		}
	})
}

func TestDiffractionStopFillsTheCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawConfusion(t)
		if got := Airy(Wavelength, DiffractionStop(Wavelength, c)); !near(got, c, 1e-12) {
			t.Errorf("got %g, want %g", got, c)
		}
	})
}

// The balanced mark leaves the same share of the distance from the sensor plane near and far.
func TestBalancedMark(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f, n, c := drawFocal(t), drawStop(t), drawConfusion(t)
		near := f * rapid.Float64Range(3, 300).Draw(t, "near")
		far := near * rapid.Float64Range(1, 5).Draw(t, "depth")
		offset := f * rapid.Float64Range(1, 2).Draw(t, "offset")
		from, to := Limits(f, n, c, BalancedMark(f, n, c, near, far, offset))
		nearer, farther := (near-from)/(near+offset), (to-far)/(far+offset)
		if math.Abs(nearer-farther) > 1e-6*max(1, farther*farther) {
			t.Errorf("%g of the distance is in reserve near, and %g far", nearer, farther)
		}
		if at, inf := BalancedMark(f, n, c, near, math.Inf(1), offset), Hyperfocal(f, n, c); at != inf {
			t.Errorf("with infinity in the plan it is %g, want the hyperfocal distance %g", at, inf)
		}
	})
}
