package balance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

// timeToHang integrates θ” = -(m g d/I) sin θ from rest at the amplitude, by the classic
// method of fourth order, and gives the time at which θ passes zero.
func timeToHang(inertia, mass, offset, amplitude float64) float64 {
	pull := mass * G * offset / inertia
	step := 1 / (2000 * math.Sqrt(pull))
	angle, rate, t := amplitude, 0.0, 0.0
	for {
		k1, l1 := rate, -pull*math.Sin(angle)
		k2, l2 := rate+step/2*l1, -pull*math.Sin(angle+step/2*k1)
		k3, l3 := rate+step/2*l2, -pull*math.Sin(angle+step/2*k2)
		k4, l4 := rate+step*l3, -pull*math.Sin(angle+step*k3)
		next := angle + step/6*(k1+2*k2+2*k3+k4)
		if next <= 0 {
			// Near the bottom the rate is as good as constant within a step.
			return t + step*angle/(angle-next)
		}
		angle, rate, t = next, rate+step/6*(l1+2*l2+2*l3+l4), t+step
	}
}

func drawSled(t *rapid.T) (inertia, mass, offset float64) {
	return rapid.Float64Range(0.1, 5).Draw(t, "inertia"),
		rapid.Float64Range(2, 30).Draw(t, "mass"),
		rapid.Float64Range(0.002, 0.1).Draw(t, "offset")
}

func TestClosedFormAgreesWithIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inertia, mass, offset := drawSled(t)
		if got, want := DropTime(inertia, mass, offset), timeToHang(inertia, mass, offset, math.Pi/2); !near(got, want, 1e-6) {
			t.Errorf("drop: got %.9g, want %.9g", got, want)
		}
		amplitude := rapid.Float64Range(0.05, 3).Draw(t, "amplitude")
		if got, want := PeriodAt(inertia, mass, offset, amplitude)/4, timeToHang(inertia, mass, offset, amplitude); !near(got, want, 1e-6) {
			t.Errorf("quarter of a swing of %g: got %.9g, want %.9g", amplitude, got, want)
		}
	})
}

func TestDropSolversInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inertia, mass, offset := drawSled(t)
		drop := DropTime(inertia, mass, offset)
		if got := InertiaForDrop(drop, mass, offset); !near(got, inertia, 1e-9) {
			t.Errorf("inertia: got %g, want %g", got, inertia)
		}
		if got := MassForDrop(drop, inertia, offset); !near(got, mass, 1e-9) {
			t.Errorf("mass: got %g, want %g", got, mass)
		}
		if got := OffsetForDrop(drop, inertia, mass); !near(got, offset, 1e-9) {
			t.Errorf("offset: got %g, want %g", got, offset)
		}
		if got := DropTime(inertia, mass, 2*offset); !(got < drop) {
			t.Errorf("heavier below: got %g, want less than %g", got, drop)
		}
	})
}

func TestEllipticK(t *testing.T) {
	if got := EllipticK(0.5); !near(got, quarter, 1e-15) {
		t.Errorf("K(1/2): got %.17g, want %.17g", got, quarter)
	}
	if got := EllipticK(0); got != math.Pi/2 {
		t.Errorf("K(0): got %g, want π/2", got)
	}
	if got := EllipticK(1); !math.IsInf(got, 1) {
		t.Errorf("K(1): got %g, want +Inf", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Float64Range(0, 0.9).Draw(t, "m")
		// π/2 Σ ((2n-1)!!/(2n)!!)² mⁿ, the defining series, knows no mean.
		sum, term := 0.0, 1.0
		for n := 1.0; term > 1e-17; n++ {
			sum += term
			term *= m * (2*n - 1) * (2*n - 1) / (4 * n * n)
		}
		if got := EllipticK(m); !near(got, math.Pi/2*sum, 1e-12) {
			t.Errorf("K(%g): got %.15g, want %.15g", m, got, math.Pi/2*sum)
		}
		// The imaginary modulus, by formula 17.4.17 of the "Handbook of Mathematical Functions".
		if got, want := EllipticK(-m), EllipticK(m/(1+m))/math.Sqrt(1+m); !near(got, want, 1e-12) {
			t.Errorf("K(%g): got %.15g, want %.15g", -m, got, want)
		}
	})
}

func TestSmallSwingsHaveTheSmallPeriod(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inertia, mass, offset := drawSled(t)
		small := Period(inertia, mass, offset)
		if got := PeriodAt(inertia, mass, offset, 0); !near(got, small, 1e-12) {
			t.Errorf("no amplitude: got %g, want %g", got, small)
		}
		amplitude := rapid.Float64Range(0.01, 3).Draw(t, "amplitude")
		if got := PeriodAt(inertia, mass, offset, amplitude); !(got > small) {
			t.Errorf("amplitude %g: got %g, want more than %g", amplitude, got, small)
		}
	})
}

// At rest, the tilted sled's moment about the gimbal is nothing.
func TestTiltIsAtRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, mass, offset := drawSled(t)
		shifted := mass * rapid.Float64Range(0, 0.5).Draw(t, "share shifted")
		across := rapid.Float64Range(-0.2, 0.2).Draw(t, "across")
		angle := Tilt(shifted, across, mass, offset)
		moment := shifted*across*math.Cos(angle) - mass*offset*math.Sin(angle)
		if math.Abs(moment) > 1e-12*mass {
			t.Errorf("tilted by %g: got a moment of %g kg m, want none", angle, moment)
		}
	})
}

func TestOutsideTheDomainIsNaN(t *testing.T) {
	for name, got := range map[string]float64{
		"K beyond 1":               EllipticK(1.1),
		"K without bound":          EllipticK(math.Inf(-1)),
		"top-heavy":                DropTime(1.5, 12, -0.01),
		"balanced to nothing":      DropTime(1.5, 12, 0),
		"no inertia":               Period(0, 12, 0.01),
		"unknown mass":             DropTime(1.5, math.NaN(), 0.01),
		"swing from upside down":   PeriodAt(1.5, 12, 0.01, math.Pi),
		"inertia for no drop time": InertiaForDrop(0, 12, 0.01),
		"mass for a top-heavy one": MassForDrop(1.8, 1.5, -0.01),
		"offset without mass":      OffsetForDrop(1.8, 1.5, 0),
		"tilt without offset":      Tilt(0.3, 0.05, 10, 0),
		"lift behind the back":     LiftLimit(-0.1, 0.75, 0.3),
		"lift above reach":         LiftLimit(0.3, 1.8, 0.1),
		"a zone that is none":      GuidelineMass(Zone(9), false),
		"unknown lift":             LiftLimit(math.NaN(), 0.75, 0),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s: got %g, want NaN", name, got)
		}
	}
}
