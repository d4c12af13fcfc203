package optics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// widest is the angle up to which the properties are tried, short of the end of each
// mapping, where it runs off or turns flat.
var widest = map[Projection]float64{
	Rectilinear: 1.5, Stereographic: 3, Equidistant: 3.1, Equisolid: 3.1, Orthographic: 1.5,
}

func drawProjection(t *rapid.T) Projection {
	return Projection(rapid.IntRange(int(Rectilinear), int(Orthographic)).Draw(t, "projection"))
}

func TestRadiusAndAngleInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, f := drawProjection(t), drawFocal(t)
		theta := rapid.Float64Range(-widest[p], widest[p]).Draw(t, "angle")
		if got := Angle(p, f, Radius(p, f, theta)); math.Abs(got-theta) > 1e-9 {
			t.Errorf("%v: got %g, want %g", p, got, theta)
		}
	})
}

func TestScalesAreThoseOfTheMapping(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProjection(t)
		theta := rapid.Float64Range(0.01, min(widest[p], 3)).Draw(t, "angle")
		const step = 1e-5
		slope := (Radius(p, 1, theta+step) - Radius(p, 1, theta-step)) / (2 * step)
		if got := RadialScale(p, theta); !near(got, slope, 1e-5) {
			t.Errorf("%v, radial: got %g, want %g", p, got, slope)
		}
		if got, want := TangentialScale(p, theta), Radius(p, 1, theta)/math.Sin(theta); !near(got, want, 1e-9) {
			t.Errorf("%v, tangential: got %g, want %g", p, got, want)
		}
	})
}

func TestScalesAreOneInTheMiddle(t *testing.T) {
	for p := range widest {
		if r, s := RadialScale(p, 0), TangentialScale(p, 0); r != 1 || s != 1 {
			t.Errorf("%v: got %g radial and %g tangential, want 1 and 1", p, r, s)
		}
	}
}

func TestEdgeStretchByProjection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		theta := rapid.Float64Range(0.05, 1.5).Draw(t, "angle")
		if got := EdgeStretch(Rectilinear, theta); got <= 0 {
			t.Errorf("rectilinear: got %g, want it drawn out", got)
		}
		if got := EdgeStretch(Stereographic, theta); math.Abs(got) > 1e-12 {
			t.Errorf("stereographic: got %g, want 0, for it keeps shapes", got)
		}
		for _, p := range []Projection{Equidistant, Equisolid, Orthographic} {
			if got := EdgeStretch(p, theta); got >= 0 {
				t.Errorf("%v: got %g, want it flattened", p, got)
			}
		}
	})
}

func TestBend(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, f := drawProjection(t), drawFocal(t)
		theta := rapid.Float64Range(0.05, 1.5).Draw(t, "angle")
		inner, outer := Bend(p, f, Radius(p, f, theta*0.9)), Bend(p, f, Radius(p, f, theta))
		if p == Rectilinear {
			if outer != 0 {
				t.Errorf("rectilinear: got %g, want 0", outer)
			}
			return
		}
		if !(outer < inner && inner < 0 && outer > -1) {
			t.Errorf("%v: got %g and farther out %g, want barrel that grows", p, inner, outer)
		}
	})
	if got := Bend(Equidistant, 0.008, Radius(Equidistant, 0.008, 2)); got != -1 {
		t.Errorf("beyond 90 degrees: got %g, want -1", got)
	}
	if got := Bend(Equidistant, 0.008, 0); got != 0 {
		t.Errorf("in the middle: got %g, want 0", got)
	}
}
