package engine_test

import (
	"math"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
	"glassbrief/engine/optics"

	"pgregory.net/rapid"
)

// onFaces is one shot on a body of 24.89 mm by 18.67 mm, delivered whole.
const onFaces = `use demo
scenario "Faces" {
  camera "House body A"
  rig    "Short sled"
}
shot "1A" {
  subject  person 1.8m
  frame    full
  distance 2m..3m
  light    320lx
}
`

func recommended(t *testing.T, text string) *engine.Recommendation {
	t.Helper()
	return enginetest.Recommend(t, enginetest.Read(t, text, brief.Files{}), engine.Options{})
}

func pictureOf(t *testing.T, r *engine.Recommendation, lens string) (engine.Picture, *engine.Judgement) {
	t.Helper()
	j := r.Shots[0].Find(lens)
	if j == nil {
		t.Fatalf("there is no %q", lens)
	}
	return r.Picture(r.Shots[0].Shot, j), j
}

// The height of a subject in the picture, as a share of the frame, is the fact that the
// lens is judged by.
func TestPictureFillsAsJudged(t *testing.T) {
	r := recommended(t, onFaces)
	for _, lens := range []string{"Wide 18", "Normal 50", "Squeeze 35", "Zoom 16-35"} {
		picture, j := pictureOf(t, r, lens)
		for _, end := range []struct {
			distance float64
			fill     facts.ID
		}{{2, facts.FillNear}, {3, facts.FillFar}} {
			// Near the axis distortion does nothing.
			const small = 1e-3
			_, y := picture.At(0, small*1.8/2, end.distance)
			got, want := 2*y/picture.Delivered.Height/small, j.Fact(end.fill)
			if math.Abs(got-want) > 1e-6*want {
				t.Errorf("%s at %g m: fills %.6f, want %.6f", lens, end.distance, got, want)
			}
		}
	}
}

func TestPictureFollowsTheProjection(t *testing.T) {
	r := recommended(t, onFaces)
	for _, c := range []struct {
		lens       string
		projection optics.Projection
		focal      float64
	}{
		{"Fisheye 15", optics.Equisolid, 0.015},
		{"Fisheye 8", optics.Stereographic, 0.008},
	} {
		picture, j := pictureOf(t, r, c.lens)
		const x, y, distance = 0.6, -0.9, 2 // that of the nearest subject
		off := math.Hypot(x, y)
		// What the frame shows there, and at infinity a metre off, has the same place in the picture.
		scale := j.Fact(facts.FieldNear) / j.Fact(facts.SpreadHeight)
		radius := optics.Radius(c.projection, c.focal, math.Atan(off/scale))
		px, py := picture.At(x, y, distance)
		if wantX, wantY := radius*x/off, radius*y/off; math.Abs(px-wantX) > 1e-9 || math.Abs(py-wantY) > 1e-9 {
			t.Errorf("%s: got %g, %g, want %g, %g", c.lens, px, py, wantX, wantY)
		}
	}
}

// The catalogue gives 1.7 % of barrel at the edge of a circle of 46.9 mm.
func TestPictureDistorts(t *testing.T) {
	picture, _ := pictureOf(t, recommended(t, onFaces), "Wide 18")
	const distance = 2.0
	m := 0.018 / picture.FieldDistance(distance)
	for _, c := range []struct {
		name            string
		undistorted, by float64
	}{
		{"at the edge of the circle", 0.02345, -0.017},
		{"half way", 0.011725, -0.017 / 4},
		{"past the circle", 0.06, -0.017},
	} {
		x, _ := picture.At(c.undistorted/m, 0, distance)
		if want := c.undistorted * (1 + c.by); math.Abs(x-want) > 1e-9 {
			t.Errorf("%s: got %g, want %g", c.name, x, want)
		}
	}
	if !picture.Bends {
		t.Error("the picture does not say that it bends lines")
	}
}

// What lies farther out in the scene lies farther out in the picture: no outline folds.
func TestPictureKeepsOrder(t *testing.T) {
	r := recommended(t, onFaces)
	rapid.Check(t, func(rt *rapid.T) {
		lens := rapid.SampledFrom([]string{"Wide 14", "Zoom 10-18", "Portrait 85", "Fisheye 8", "Squeeze 35"}).Draw(rt, "lens")
		picture := r.Picture(r.Shots[0].Shot, r.Shots[0].Find(lens))
		distance := rapid.Float64Range(0.35, 20).Draw(rt, "distance") // four focal lengths of the longest, and more
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(rt, "angle")
		off := rapid.Float64Range(0.01, 10).Draw(rt, "off")
		radius := func(off float64) float64 {
			return math.Hypot(picture.At(off*math.Cos(angle), off*math.Sin(angle), distance))
		}
		if near, far := radius(off), radius(off*1.01); !(near < far) {
			rt.Errorf("%s: %g m off the axis lies at %g, and 1 %% more at %g", lens, off, near, far)
		}
	})
}
