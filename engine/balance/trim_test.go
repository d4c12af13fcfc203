package balance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func drawLoad(t *rapid.T, name string) Load {
	return Load{
		Mass:    rapid.Float64Range(0.05, 15).Draw(t, name+" mass"),
		Height:  rapid.Float64Range(-0.8, 0.4).Draw(t, name+" height"),
		Forward: rapid.Float64Range(-0.3, 0.3).Draw(t, name+" forward"),
		Inertia: rapid.Float64Range(0, 0.2).Draw(t, name+" inertia"),
	}
}

// Two loads made into one must act as they did apart.
func TestCombineInParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := drawLoad(t, "a"), drawLoad(t, "b"), drawLoad(t, "c")
		mass, offset, inertia := Combine(a, b, c)
		gotMass, gotOffset, gotInertia := Combine(Join(a, b), c)
		if !near(gotMass, mass, 1e-12) || math.Abs(gotOffset-offset) > 1e-12 || !near(gotInertia, inertia, 1e-9) {
			t.Errorf("got %g kg, %g m, %g kg m², want %g, %g, %g", gotMass, gotOffset, gotInertia, mass, offset, inertia)
		}
	})
}

// A camera on top and a battery below, as point masses.
func TestCombineBarbell(t *testing.T) {
	mass, offset, inertia := Combine(Load{Mass: 6, Height: 0.2}, Load{Mass: 3, Height: -0.5})
	if !near(mass, 9, 1e-12) || !near(offset, 0.3/9, 1e-12) || !near(inertia, 0.99, 1e-12) {
		t.Errorf("got %g kg, %g m, %g kg m², want 9, 0.0333, 0.99", mass, offset, inertia)
	}
}

func TestJoinPutsTheCentreBetween(t *testing.T) {
	got := Join(Load{Mass: 3, Height: 0.1, Forward: 0.2}, Load{Mass: 1, Height: 0.1, Forward: -0.2})
	want := Load{Mass: 4, Height: 0.1, Forward: 0.1, Inertia: 3*0.01 + 0.09}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"mass", got.Mass, want.Mass}, {"height", got.Height, want.Height},
		{"forward", got.Forward, want.Forward}, {"inertia", got.Inertia, want.Inertia},
	} {
		if !near(c.got, c.want, 1e-12) {
			t.Errorf("%s: got %g, want %g", c.what, c.got, c.want)
		}
	}
}

func TestCombineNothing(t *testing.T) {
	if got := Join(); !math.IsNaN(got.Height) || !math.IsNaN(got.Forward) {
		t.Errorf("nothing joined: got its centre at %g, %g, want none", got.Height, got.Forward)
	}
	if mass, offset, inertia := Combine(); mass != 0 || !math.IsNaN(offset) || inertia != 0 {
		t.Errorf("got %g kg, %g m, %g kg m², want no mass, no centre, no inertia", mass, offset, inertia)
	}
}

func TestCombineDoesNotAllocate(t *testing.T) {
	a, b := Load{Mass: 6, Height: 0.2}, Load{Mass: 3, Height: -0.5}
	if got := testing.AllocsPerRun(100, func() { Combine(a, b) }); got != 0 {
		t.Errorf("got %g allocations, want none", got)
	}
}
