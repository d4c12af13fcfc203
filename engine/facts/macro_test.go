package facts

import (
	"math"
	"testing"

	"glassbrief/engine/optics"

	"pgregory.net/rapid"
)

// macro is a lens that focuses nearer than four focal lengths, before a thing of 36 by 20 mm.
func macro(focal, closest, magnification, near float64) *Record {
	shot, lens := walk(), wide()
	shot.Subject = Subject{Height: 0.020, Width: 0.036}
	shot.Near, shot.Far, shot.Background = near, near, 3*near
	shot.WantNear, shot.WantFar = Band{0.9, 1.1}, Band{0.9, 1.1}
	lens.FocalLow, lens.FocalHigh, lens.CloseFocus, lens.Magnification = focal, focal, closest, magnification
	lens.Delivered = optics.Window{Frame: optics.FullFrame}
	var r Record
	FillShot(&r, &shot)
	FillLens(&r, &lens, focal)
	r.Set(Stop, 8)
	r.Set(FocusMark, near)
	r.SetTruth(Following, false)
	Refill(&r, Every())
	return &r
}

// At its closest focus a macro has its largest magnification, and the depth that the
// magnification gives; far away it is a thin lens; and between, and back, nothing jumps.
func TestMacroByItsMagnification(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		focal := rapid.Float64Range(0.04, 0.2).Draw(t, "focal")
		closest := focal * rapid.Float64Range(2.4, 3.99).Draw(t, "closest")
		m := rapid.Float64Range(0.3, 1).Draw(t, "magnification")
		r := macro(focal, closest, m, closest)
		if math.Abs(r.Value[FillNear]/m-1) > 1e-9 { // the thing is as wide as the sensor
			t.Fatalf("it fills %g of the width at its closest focus, want %g", r.Value[FillNear], m)
		}
		depth, want := r.Value[FarLimit]-r.Value[NearLimit], 2*8*r.Value[Confusion]*(1+m)/(m*m)
		if depth < 0.98*want || depth > 1.02*want {
			t.Errorf("it is %g m deep, and by its magnification %g m", depth, want)
		}
		if !(r.Value[NearLimit] < closest && closest < r.Value[FarLimit]) {
			t.Errorf("it is sharp from %g to %g, focused at %g", r.Value[NearLimit], r.Value[FarLimit], closest)
		}
		far := macro(focal, closest, m, 50*focal)
		if thin := optics.FromSensor(focal, 50*focal); math.Abs(far.Value[NearFromLens]/thin-1) > 0.01 {
			t.Errorf("at fifty focal lengths it is %g m from the lens, and a thin lens %g m", far.Value[NearFromLens], thin)
		}
		last := math.Inf(-1)
		for i := range 200 {
			at := closest + float64(i)/100*focal
			s := LensDistance(&r.Value, at)
			// At life size a thin lens that moves keeps its object as far from the sensor, so
			// that there a small step of the one is the root of it in the other.
			if !(s > last) || i > 0 && s-last > 0.11*focal {
				t.Fatalf("at %g m it is %g m from the lens, and a little nearer %g m", at, s, last)
			}
			if back := SensorDistance(&r.Value, s); math.Abs(back-at) > 1e-9 {
				t.Fatalf("%g m comes back as %g m", at, back)
			}
			last = s
		}
	})
}

// Without a magnification a macro is judged as one that reaches life size, and where it is sharp
// is not known close by. Nothing jumps where it becomes known.
func TestMacroWithoutMagnification(t *testing.T) {
	r := macro(0.1, 0.28, math.NaN(), 0.28)
	if math.Abs(r.Value[FillNear]-1) > 1e-9 || r.Value[FramingError] != 0 {
		t.Errorf("it fills %g, off by %g, want life size", r.Value[FillNear], r.Value[FramingError])
	}
	for _, id := range []ID{NearLimit, FarLimit, SceneSharp, NeededStop} {
		if !r.Unknown.Has(id) {
			t.Errorf("%s is %g, want unknown", Table()[id].Name, r.Value[id])
		}
	}
	for _, at := range []float64{0.28, 0.3, 0.399, 0.401, 0.6, 3} {
		r, one := macro(0.1, 0.28, math.NaN(), at), macro(0.1, 0.28, 1, at)
		for _, id := range []ID{FillNear, ReserveNear, ReserveFar, FocusEase, BackgroundBlur} {
			if r.Value[id] != one.Value[id] || r.Unknown.Has(id) {
				t.Errorf("at %g m, %s is %g, want %g as at life size", at, Table()[id].Name, r.Value[id], one.Value[id])
			}
		}
		if known := at >= 0.4; r.Unknown.Has(NearLimit) == known || known && r.Value[NearLimit] != one.Value[NearLimit] {
			t.Errorf("at %g m it is sharp from %g m, want %g m, known: %t", at, r.Value[NearLimit], one.Value[NearLimit], known)
		}
	}
	if macro, thin := macro(0.1, 0.4*(1-1e-9), math.NaN(), 0.5), macro(0.1, 0.4, math.NaN(), 0.5); math.Abs(macro.Value[FillNear]/thin.Value[FillNear]-1) > 1e-6 {
		t.Errorf("a lens that focuses a hair nearer than a thin one fills %g, and that %g", macro.Value[FillNear], thin.Value[FillNear])
	}
}

// A framing that changes is held where it lies between its two ends, and not where an end is
// never reached.
func TestFramingThatChanges(t *testing.T) {
	for _, c := range []struct {
		name      string
		near, far Band // of what it fills there, by the bands asked
		held      float64
	}{
		{"both ends met", Band{0.5, 2}, Band{0.5, 2}, 1},
		{"nearer than its tightest", Band{0.25, 0.8}, Band{0.5, 2}, 0},
		{"its far end never reached", Band{0.5, 2}, Band{0.1, 0.5}, 0},
	} {
		shot, lens := walk(), wide()
		r := pair(shot, lens, lens.FocalLow)
		fillNear, fillFar := r.Value[FillNear], r.Value[FillFar]
		shot.WantNear = Band{fillNear * c.near.Low, fillNear * c.near.High}
		shot.WantFar = Band{fillFar * c.far.Low, fillFar * c.far.High}
		got := pair(shot, lens, lens.FocalLow).Value[FramingHeld]
		if c.held == 1 && got != 1 || c.held < 1 && !(got > 0 && got < 1) {
			t.Errorf("%s: got %g held", c.name, got)
		}
	}
}
