package facts

import (
	"math"
	"testing"

	"glassbrief/engine/optics"

	"pgregory.net/rapid"
)

// drawWindow gives a part of a sensor that stands anywhere in it.
func drawWindow(t *rapid.T, name string, in optics.Frame) optics.Window {
	share := func(of string) float64 { return rapid.Float64Range(0.3, 1).Draw(t, name+" "+of) }
	w := optics.Window{Frame: optics.Frame{Width: in.Width * share("width"), Height: in.Height * share("height")}}
	w.X = (in.Width - w.Width) / 2 * rapid.Float64Range(-1, 1).Draw(t, name+" x")
	w.Y = (in.Height - w.Height) / 2 * rapid.Float64Range(-1, 1).Draw(t, name+" y")
	return w
}

// corners gives the corners of a window on the sensor, those across each other two apart.
func corners(w optics.Window) (all [4][2]float64) {
	for i, side := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		all[i] = [2]float64{w.X + side[0]*w.Width/2, w.Y + side[1]*w.Height/2}
	}
	return all
}

// A frame that stands off the middle of the sensor, by the rays of a pinhole through its sides
// and corners.
func TestFrameOffTheMiddleByRays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := inputs(t)
		sensor := optics.Frame{Width: 0.036, Height: 0.025}
		lens.Squeeze = rapid.SampledFrom([]float64{1, 1.33, 2}).Draw(t, "squeeze")
		lens.Delivered = drawWindow(t, "delivered", sensor)
		lens.Protected = []optics.Window{drawWindow(t, "protected", sensor), drawWindow(t, "also protected", sensor)}
		r, focal := pair(shot, lens, lens.FocalLow), lens.FocalLow

		ray := func(at [2]float64) [3]float64 { return [3]float64{at[0] * lens.Squeeze, at[1], focal} }
		between := func(a, b [3]float64) float64 {
			dot, aa, bb := 0.0, 0.0, 0.0
			for i := range a {
				dot, aa, bb = dot+a[i]*b[i], aa+a[i]*a[i], bb+b[i]*b[i]
			}
			return math.Acos(max(-1, min(1, dot/math.Sqrt(aa*bb))))
		}
		near := func(id ID, want float64) {
			t.Helper()
			if got := r.Value[id]; !(math.Abs(got-want) <= 1e-7*max(1, math.Abs(want))) { // acos loses half of the digits near 0
				t.Errorf("%s: got %v, want %v", Table()[id].Name, got, want)
			}
		}
		w, axis := lens.Delivered, [3]float64{0, 0, 1}
		leftmost, rightmost := w.X-w.Width/2, w.X+w.Width/2
		lowest, highest := w.Y-w.Height/2, w.Y+w.Height/2
		signed := func(at [2]float64, side float64) float64 {
			angle := between(axis, ray(at))
			if side < 0 {
				return -angle
			}
			return angle
		}
		near(AngleLeft, signed([2]float64{leftmost, 0}, -leftmost))
		near(AngleRight, signed([2]float64{rightmost, 0}, rightmost))
		near(AngleAbove, signed([2]float64{0, highest}, highest))
		near(AngleBelow, signed([2]float64{0, lowest}, -lowest))

		// What the picture shows of a plane a metre away, between the rays through its sides.
		at := func(x, y float64) (float64, float64) { d := ray([2]float64{x, y}); return d[0] / d[2], d[1] / d[2] }
		x0, y0 := at(leftmost, lowest)
		x1, y1 := at(rightmost, highest)
		near(SpreadWidth, x1-x0)
		near(SpreadHeight, y1-y0)

		farthest, across := 0.0, 0.0
		all := corners(w)
		for i, corner := range all {
			if angle := between(axis, ray(corner)); angle > farthest {
				farthest, across = angle, between(ray(corner), ray(all[(i+2)%4]))
			}
		}
		near(CornerAngle, farthest)
		near(AngleDiagonal, across)
		if cos := math.Cos(farthest); math.IsNaN(lens.Falloff) {
			near(CornerFalloff, -4*math.Log2(cos))
		}

		lit := 0.0
		for _, w := range lens.Protected {
			for _, corner := range corners(w) {
				lit = max(lit, math.Hypot(corner[0], corner[1]))
			}
		}
		near(ProtectedDiagonal, 2*lit)
		near(CircleMargin, lens.Circle/2/lit-1)
	})
}

// A protection of 10 % leaves an 18 mm lens the picture of a 20 mm lens without.
func TestProtectionMakesALensLonger(t *testing.T) {
	whole := optics.Window{Frame: optics.Frame{Width: 0.036, Height: 0.015}}
	framed := func(focal, protection float64) *Record {
		shot, lens := walk(), wide()
		lens.Protected, lens.Delivered = []optics.Window{whole}, whole
		lens.Delivered.Width, lens.Delivered.Height = whole.Width*(1-protection), whole.Height*(1-protection)
		return pair(shot, lens, focal)
	}
	short, long := framed(0.018, 0.1), framed(0.020, 0)
	for _, id := range []ID{AngleWidth, AngleHeight, AngleDiagonal, CornerFalloff, CornerStretch, SpreadHeight} {
		if got, want := short.Value[id], long.Value[id]; math.Abs(got/want-1) > 1e-12 {
			t.Errorf("%s: got %g with 18 mm and protection, want the %g of 20 mm", Table()[id].Name, got, want)
		}
	}
	if got, want := short.Value[CircleMargin], framed(0.018, 0).Value[CircleMargin]; got != want {
		t.Errorf("the circle reaches %g past the protected corners, want %g", got, want)
	}
}

// A small ball at the edge of a frame off the axis, where a wide subject ends, is stretched by the rays
// through it: along the radius by the square of the distance from the pinhole, and across by the
// distance.
func TestEdgeStretchOffTheMiddle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := seen(t)
		lens.Delivered = drawWindow(t, "delivered", optics.Frame{Width: 0.036, Height: 0.024})
		shot.Near = max(shot.Near, 6*lens.FocalLow)
		shot.Far = max(shot.Far, shot.Near)
		shot.Subject.Width, shot.Subject.Offset = 1000, 0
		r := pair(shot, lens, lens.FocalLow)
		image, want := thinLens(lens.FocalLow, shot.Near), 0.0
		for _, x := range []float64{lens.Delivered.X - lens.Delivered.Width/2, lens.Delivered.X + lens.Delivered.Width/2} {
			ray := math.Sqrt(x*x*lens.Squeeze*lens.Squeeze + lens.Delivered.Y*lens.Delivered.Y + image*image)
			want = max(want, ray/image-1)
		}
		if got := r.Value[EdgeStretch]; math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("got %.9g, want %.9g", got, want)
		}
	})
}
