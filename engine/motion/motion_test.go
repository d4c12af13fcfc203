package motion

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want) }

func TestLimitScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rate := rapid.Float64Range(12, 240).Draw(t, "rate")
		angle := rapid.Float64Range(0.2, math.Pi).Draw(t, "shutter")
		limit := Limit(rate, angle)
		if got := Limit(2*rate, angle); !near(got, limit/2, 1e-12) {
			t.Errorf("twice the rate: got %g, want half of %g", got, limit)
		}
		if got := Limit(rate, 2*angle); !near(got, limit/2, 1e-12) {
			t.Errorf("twice the shutter angle: got %g, want half of %g", got, limit)
		}
		view := rapid.Float64Range(0.05, 3).Draw(t, "angle of view")
		if got := TurnCrossing(view, view/limit); !near(got, limit, 1e-12) {
			t.Errorf("crossing at the fastest turn: got %g, want %g", got, limit)
		}
	})
}

func TestOrbitTurnsOnceAround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(0.3, 20).Draw(t, "radius")
		speed := rapid.Float64Range(0.1, 5).Draw(t, "speed")
		around := 2 * math.Pi * radius / speed
		if got := CircleCrossing(2*math.Pi, OrbitTurn(speed, radius), radius, math.Inf(1)); !near(got, around, 1e-12) {
			t.Errorf("a full turn of view: got %g s, want the %g s once around", got, around)
		}
	})
}

// At a narrow angle the background goes by at the turn of the camera less its parallax, whether it
// stands behind the subject or before it; and where it just no longer leaves the picture nothing jumps.
func TestCircleCrossingByTheParallax(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radius := rapid.Float64Range(0.3, 20).Draw(t, "radius")
		turn := rapid.Float64Range(0.01, 2).Draw(t, "turn")
		background := radius * rapid.Float64Range(0.05, 9).Draw(t, "background")
		const narrow = 1e-4
		want := narrow / math.Abs(turn-turn*radius/background)
		if math.Abs(background/radius-1) > 0.02 {
			if got := CircleCrossing(narrow, turn, radius, background); !near(got, want, 1e-3) {
				t.Errorf("got %g s, want %g", got, want)
			}
		}
		half := rapid.Float64Range(0.05, 1.2).Draw(t, "half the view")
		leaves := radius * (1 + math.Sin(half))
		if a, b := CircleCrossing(2*half, turn, radius, leaves*(1+1e-9)), CircleCrossing(2*half, turn, radius, leaves*(1-1e-9)); !near(a, b, 1e-3) {
			t.Errorf("got %g s of a point that just leaves the picture, and %g s of one that just stays", a, b)
		}
	})
}

func TestStandingStill(t *testing.T) {
	inf := math.Inf(1)
	for name, c := range map[string]struct{ got, want float64 }{
		"no turn":          {TurnCrossing(0.5, 0), inf},
		"no sideways move": {LateralCrossing(2, 0), inf},
		"no orbit":         {CircleCrossing(0.5, 0, 2, 6), inf},
		"blur":             {BlurShare(inf, 0.02), 0},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %g, want %g", name, c.got, c.want)
		}
	}
}

func TestWiderLooksSteadier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		view := rapid.Float64Range(0.05, 2).Draw(t, "angle of view")
		if narrow, wide := WobbleShare(0.001, view), WobbleShare(0.001, view*1.2); !(wide < narrow) {
			t.Errorf("wobble: got %g, and %g wider, want less", narrow, wide)
		}
		if narrow, wide := ShiftShare(0.03, view), ShiftShare(0.03, view*1.2); !(wide < narrow) {
			t.Errorf("shift: got %g, and %g wider, want less", narrow, wide)
		}
	})
}

// The picture of a walk goes up and down with each step and to the sides with every second. Its
// root mean square speed over two steps, summed along the way, is that of a bob alone of the share.
func TestStepShareIsThatOfTheWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bob := rapid.Float64Range(0.001, 0.1).Draw(t, "bob")
		sway := rapid.Float64Range(0.001, 0.1).Draw(t, "sway")
		speed := func(bob, sway float64) float64 {
			const parts = 4000
			place := func(i int) (x, y float64) {
				turn := 2 * math.Pi * float64(i) / parts
				return sway / 2 * math.Sin(turn), bob / 2 * math.Sin(2*turn)
			}
			sum := 0.0
			for i := range parts {
				fromX, fromY := place(i)
				toX, toY := place(i + 1)
				sum += (toX-fromX)*(toX-fromX) + (toY-fromY)*(toY-fromY)
			}
			return math.Sqrt(sum)
		}
		if got, want := speed(StepShare(bob, sway), 0), speed(bob, sway); !near(got, want, 1e-4) {
			t.Errorf("a bob of %g and a sway of %g: got the speed %g, want %g", bob, sway, got, want)
		}
	})
}

func TestPassing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		closest := rapid.Float64Range(0.3, 20).Draw(t, "closest")
		speed := rapid.Float64Range(0.1, 5).Draw(t, "speed")
		at := rapid.Float64Range(-10, 10).Draw(t, "time")
		if got := passing(closest, speed, at); got < closest || got != passing(closest, speed, -at) {
			t.Errorf("got %g after %g s and %g before, want the same and no less than %g", got, at, passing(closest, speed, -at), closest)
		}
	})
}

func TestOutsideTheDomainIsNaN(t *testing.T) {
	nan := math.NaN()
	for name, got := range map[string]float64{
		"no view":                      TurnCrossing(0, 1),
		"turn backwards":               TurnCrossing(1, -1),
		"no field":                     LateralCrossing(0, 1),
		"unknown speed":                LateralCrossing(2, nan),
		"turn on no circle":            OrbitTurn(1, 0),
		"background at the lens":       CircleCrossing(1, 1, 2, 0),
		"no frames":                    Limit(0, math.Pi),
		"closed shutter":               Limit(24, 0),
		"crossed at once":              BlurShare(0, 0.02),
		"no exposure":                  BlurShare(7, 0),
		"negative way":                 ShiftShare(-0.01, 1),
		"wobble without a view":        WobbleShare(0.001, 0),
		"hand-held without a lens":     HandheldTime(0),
		"hand-held with a great scope": HandheldTime(9),
	} {
		if !math.IsNaN(got) {
			t.Errorf("%s: got %g, want NaN", name, got)
		}
	}
}
