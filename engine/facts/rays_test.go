package facts

import (
	"math"
	"testing"

	"glassbrief/engine/optics"
	"glassbrief/engine/people"

	"pgregory.net/rapid"
)

// The tests here follow rays, and know none of the formulas of the facts.

// thinLens gives how far before the sensor plane a thin lens stands that focuses a distance from
// that plane, by halving: of its two places the one near the sensor.
func thinLens(focal, fromSensor float64) float64 {
	low, high := focal, fromSensor/2
	for range 200 {
		image := (low + high) / 2
		if object := fromSensor - image; 1/image+1/object > 1/focal { // it would focus nearer
			low = image
		} else {
			high = image
		}
	}
	return (low + high) / 2
}

// seen gives a subject of its own in a shot with a lens of its own.
func seen(t *rapid.T) (ShotInput, LensInput) {
	shot, lens := inputs(t)
	lens.Squeeze = rapid.SampledFrom([]float64{1, 1.33, 1.5, 2}).Draw(t, "squeeze")
	lens.Delivered = optics.Window{Frame: optics.Frame{Width: rapid.Float64Range(0.017, 0.036).Draw(t, "width"), Height: rapid.Float64Range(0.009, 0.024).Draw(t, "height")}}
	shot.Background = shot.Far + rapid.Float64Range(0.1, 30).Draw(t, "behind")
	return shot, lens
}

// A point in the background sends rays through the rim of the pupil, which is an oval of a front
// anamorphic lens: as high as without the squeeze, and narrower by it. They pass the plane in focus
// over a patch, of which the picture shows what it shows of that plane.
func TestBlurOfRaysThroughThePupil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := seen(t)
		stop := lens.WidestStop * rapid.Float64Range(1, 4).Draw(t, "closed")
		mark := rapid.Float64Range(0.8, 20).Draw(t, "mark")
		r := pairAt(shot, lens, lens.FocalLow, map[ID]float64{Stop: stop, FocusMark: mark})

		image := thinLens(lens.FocalLow, mark)
		plane := mark - image
		point := shot.Background - thinLens(lens.FocalLow, shot.Background)
		shown := lens.Delivered.Width * lens.Squeeze * plane / image // of the plane in focus
		patch := func(pupil float64) float64 { return pupil * math.Abs(point-plane) / point }
		pupil := lens.FocalLow / stop
		for id, want := range map[ID]float64{BackgroundBlur: patch(pupil) / shown, BackgroundBlurWidth: patch(pupil/lens.Squeeze) / shown} {
			if got := r.Value[id]; math.Abs(got-want) > 1e-9*want {
				t.Errorf("%s with a squeeze of %g: got %.9g, want %.9g", Table()[id].Name, lens.Squeeze, got, want)
			}
		}
	})
}

// The nose and the middle of the head are planes, and the lens is a pinhole where it stands.
func TestFaceThroughThePinhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := seen(t)
		shot.Near = rapid.Float64Range(0.4, 3).Draw(t, "near")
		shot.Subject = Subject{Person: true, Height: people.Stature.Value(), Width: 0.5}
		r := pair(shot, lens, lens.FocalLow)
		hole := thinLens(lens.FocalLow, shot.Near)
		base := shot.Near + people.NoseProtrusion.Value() - hole
		if want := (base+people.HeadLength.Value()/2)/base - 1; math.Abs(r.Value[FaceStretch]-want) > 1e-9 {
			t.Errorf("face_stretch: got %.9g, want %.9g", r.Value[FaceStretch], want)
		}
	})
}

// ball gives how much longer than wide a small ball looks in the direction at the angle theta off
// the axis, by the rays to its outline; radius is the mapping.
func ball(radius func(theta float64) float64, theta float64) float64 {
	const half = 1e-4
	far, near := radius(theta+half), radius(theta-half)
	// The outline at the sides is off by half across: it lies a little farther off the axis, and around it.
	off := math.Acos(math.Cos(theta) * math.Cos(half))
	around := math.Asin(math.Sin(half) / math.Sin(off))
	return (far-near)/(2*radius(off)*math.Sin(around)) - 1
}

// fisheyes are the mapping functions over the focal length as optics glossaries have them.
var fisheyes = map[optics.Projection]func(theta float64) float64{
	optics.Rectilinear:   math.Tan,
	optics.Stereographic: func(theta float64) float64 { return 2 * math.Tan(theta/2) },
	optics.Equidistant:   func(theta float64) float64 { return theta },
	optics.Equisolid:     func(theta float64) float64 { return 2 * math.Sin(theta/2) },
	optics.Orthographic:  math.Sin,
}

// A ball at the outer edge of the subject, or at the edge of the frame where the subject reaches past
// it, is stretched as its rays say.
func TestEdgeStretchOfABall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := seen(t)
		lens.Projection = optics.Projection(rapid.IntRange(0, 4).Draw(t, "projection"))
		half := lens.Delivered.Width * lens.Squeeze / 2
		lens.FocalLow = half * rapid.Float64Range(1.05, 3).Draw(t, "focal over half the width")
		lens.FocalHigh = lens.FocalLow
		shot.Near = max(shot.Near, 6*lens.FocalLow)
		shot.Far = max(shot.Far, shot.Near)
		shot.Subject.Offset = rapid.Float64Range(0, 1).Draw(t, "offset")
		shot.Subject.Width = rapid.Float64Range(0.05, 3).Draw(t, "subject width")
		r := pair(shot, lens, lens.FocalLow)

		mapping := fisheyes[lens.Projection]
		image := thinLens(lens.FocalLow, shot.Near)
		distance := shot.Near - image
		// By how much the picture is narrower than at infinity, by the tangents of its angles.
		narrower := lens.FocalLow / image
		at := func(theta float64) float64 {
			return lens.FocalLow * mapping(math.Atan(math.Tan(theta)/narrower))
		}
		angle := func(place float64) float64 { // at which the picture shows it
			low, high := 0.0, math.Pi/2-1e-9
			for range 200 {
				if middle := (low + high) / 2; at(middle) < place {
					low = middle
				} else {
					high = middle
				}
			}
			return (low + high) / 2
		}
		edge := math.Atan(math.Tan(angle(shot.Subject.Offset*half)) + shot.Subject.Width/2/distance)
		edge = min(edge, angle(half))
		if want := ball(at, edge); math.Abs(r.Value[EdgeStretch]-want) > 1e-5 {
			t.Errorf("%s, %g off the axis: got %.7g, want %.7g", lens.Projection, edge, r.Value[EdgeStretch], want)
		}
	})
}

// A thin lens forms no image of what is nearer to the sensor than four focal lengths, wherever it
// stands between them.
func TestNoImageWithinFourFocalLengths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		focal := rapid.Float64Range(0.02, 0.3).Draw(t, "focal")
		fromSensor := focal * rapid.Float64Range(0.1, 3.999).Draw(t, "distance over focal length")
		for share := 0.001; share < 1; share += 0.001 {
			if image := share * fromSensor; 1/image+1/(fromSensor-image) <= 1/focal {
				t.Fatalf("a lens %g m before the sensor does", image)
			}
		}
		shot, lens := walk(), wide()
		shot.Near, shot.Far, lens.FocalLow, lens.FocalHigh, lens.CloseFocus = fromSensor, fromSensor, focal, focal, 4*focal
		r := pair(shot, lens, focal)
		for _, id := range []ID{NearFromLens, FillNear, FieldNear, FramingError, FaceStretch, EdgeStretch} {
			if !r.Unknown.Has(id) {
				t.Errorf("%s is %g, of what gives no image", Table()[id].Name, r.Value[id])
			}
		}
		if !(r.Value[FocusMargin] < 0) {
			t.Errorf("the room to the closest focus is %g m", r.Value[FocusMargin])
		}
	})
}

// A pinhole is a lens for rays: they go on through its pupil without a turn, to a screen behind it as
// far as the angle of the frame at that focus wants it.
type pinhole struct {
	pupil, screen float64 // from the sensor plane, and behind the pupil
	frame         optics.Frame
}

// through gives the place on the screen of a point off the axis, at a distance from the sensor plane.
func (h pinhole) through(off, distance float64) float64 { return off * h.screen / (distance - h.pupil) }

// seenBy gives what the frame shows at a distance, along one side.
func (h pinhole) seenBy(side, distance float64) float64 {
	return side * (distance - h.pupil) / h.screen
}

// Framing, perspective and stretch agree with rays through the pupil, whatever the pupil, the focal
// length, the distance, the breathing and the squeeze.
func TestRaysThroughTheEntrancePupil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := seen(t)
		shot.Subject = Subject{Person: rapid.Bool().Draw(t, "person"), Height: rapid.Float64Range(0.1, 2).Draw(t, "height"), Width: rapid.Float64Range(0.1, 2).Draw(t, "subject width")}
		shot.Subject.Offset = rapid.Float64Range(0, 0.9).Draw(t, "offset")
		pupil := rapid.Float64Range(-0.1, 0.2).Draw(t, "pupil")
		lens.CloseFocus = max(pupil, 4*lens.FocalLow) + rapid.Float64Range(0.05, 0.7).Draw(t, "closest beyond the pupil")
		shot.Near = lens.CloseFocus * rapid.Float64Range(1, 20).Draw(t, "near")
		shot.Far = shot.Near + rapid.Float64Range(0, 8).Draw(t, "depth")
		breathing := rapid.Float64Range(-0.4, 0.3).Draw(t, "breathing")
		// A zoom in whose middle they are those.
		apart, narrower := rapid.Float64Range(0, 0.05).Draw(t, "pupil apart"), rapid.Float64Range(0, 0.1).Draw(t, "breathing apart")
		focal := lens.FocalLow
		lens.FocalLow, lens.FocalHigh = focal/2, focal*3/2
		lens.Pupil, lens.Breathing = Ends{pupil + apart, pupil - apart}, Ends{breathing - narrower, breathing + narrower}

		picture := optics.Frame{Width: lens.Delivered.Width * lens.Squeeze, Height: lens.Delivered.Height}
		focused := func(distance float64) pinhole {
			closest := (1 + breathing) / focal // half the tangent over half the frame, at the closest focus
			share := (lens.CloseFocus - pupil) / (distance - pupil)
			return pinhole{pupil, 1 / (1/focal + share*(closest-1/focal)), picture}
		}
		fill := func(distance float64) float64 {
			h := focused(distance)
			return max(2*h.through(shot.Subject.Height/2, distance)/picture.Height, 2*h.through(shot.Subject.Width/2, distance)/picture.Width)
		}
		low, high := lens.CloseFocus, 1e4
		middle := math.Sqrt(shot.WantNear.Low * shot.WantNear.High)
		for range 200 {
			if at := (low + high) / 2; fill(at) > middle {
				low = at
			} else {
				high = at
			}
		}
		near := focused(shot.Near)
		edge := min(picture.Width/2, shot.Subject.Offset*picture.Width/2+near.through(shot.Subject.Width/2, shot.Near))
		want := map[ID]float64{
			FillNear: fill(shot.Near), FillFar: fill(shot.Far),
			FieldNear: near.seenBy(picture.Height, shot.Near), FieldFar: focused(shot.Far).seenBy(picture.Height, shot.Far),
			NearFromPupil: shot.Near - pupil, FarFromPupil: shot.Far - pupil,
			EdgeStretch: 1/math.Cos(math.Atan(edge/near.screen)) - 1,
		}
		if low > lens.CloseFocus*(1+1e-9) && high < 9e3 {
			want[FramingDistance] = low
		}
		if shot.Subject.Person {
			head := people.HeadLength.Value() * shot.Subject.Height / people.Stature.Value()
			base := shot.Near + people.NoseProtrusion.Value()
			want[FaceStretch] = near.through(1, base)/near.through(1, base+head/2) - 1
		}
		r := pair(shot, lens, focal)
		for id, want := range want {
			if got := r.Value[id]; math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
				t.Errorf("%s: got %.12g, want %.12g", Table()[id].Name, got, want)
			}
		}
		// What is nearer than the closest focus is seen by the lens as it stands there.
		at := pupil + (lens.CloseFocus-pupil)*rapid.Float64Range(0.1, 1).Draw(t, "too near")
		if got, want := FieldDistance(&r.Value, at)*r.Value[SpreadHeight], focused(lens.CloseFocus).seenBy(picture.Height, at); math.Abs(got-want) > 1e-9*want {
			t.Errorf("at %g m the picture shows %.12g m, want %.12g m", at, got, want)
		}
		for _, distance := range []float64{at, shot.Near} {
			if got := AtField(&r.Value, FieldDistance(&r.Value, distance)); math.Abs(got-distance) > 1e-9 {
				t.Errorf("%g m comes back as %g m", distance, got)
			}
		}
	})
}

// A lens whose pupil lies where a thin one stands that is focused on the subject, and that narrows at
// its closest focus as that does, is that lens.
func TestThinLensAsAPupil(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := seen(t)
		shot.Far, lens.CloseFocus = shot.Near, shot.Near
		image := thinLens(lens.FocalLow, shot.Near)
		with := lens
		with.Pupil, with.Breathing = Ends{image, image}, Ends{lens.FocalLow/image - 1, lens.FocalLow/image - 1}
		thin, pupil := pair(shot, lens, lens.FocalLow), pair(shot, with, lens.FocalLow)
		for _, id := range []ID{FillNear, FieldNear, FramingError, FaceStretch, EdgeStretch, NearFromPupil} {
			if a, b := thin.Value[id], pupil.Value[id]; math.Abs(a-b) > 1e-8*max(1, math.Abs(a)) {
				t.Errorf("%s: got %.9g of the thin lens and %.9g of its pupil", Table()[id].Name, a, b)
			}
		}
	})
}

// A lens that says "pupil thin" is computed as before pupils were known, to the last bit.
func TestThinIsThinToTheLastBit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shot, lens := seen(t)
		r := pair(shot, lens, lens.FocalLow)
		v, focal := &r.Value, lens.FocalLow
		near, far := optics.FromSensor(focal, shot.Near), optics.FromSensor(focal, shot.Far)
		if optics.TooNear(focal, lens.CloseFocus) {
			return // a macro, of which other tests know
		}
		reach := max(v[SubjectHeight]/v[SpreadHeight], v[SubjectWidth]/v[SpreadWidth])
		for id, want := range map[ID]float64{
			NearFromLens: near, FarFromLens: far, FrameReach: reach,
			FillNear: reach / (near - focal), FillFar: reach / (far - focal),
			FieldNear: v[SpreadHeight] * (near - focal), FieldFar: v[SpreadHeight] * (far - focal),
			FramingDistance: optics.SensorDistance(focal, focal+reach/math.Sqrt(v[WantNearLow]*v[WantNearHigh])),
		} {
			if got := v[id]; math.Float64bits(got) != math.Float64bits(want) {
				t.Errorf("%s: got %.17g, want %.17g", Table()[id].Name, got, want)
			}
		}
	})
}
