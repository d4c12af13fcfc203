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
