package optics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestFieldAtAgreesWithField(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := drawFocal(t)
		s := drawDistance(t, f)
		extent := rapid.Float64Range(0.004, 0.06).Draw(t, "extent")
		if got, want := FieldAt(Rectilinear, f, extent, s), Field(f, extent, s); !near(got, want, 1e-9) {
			t.Errorf("got %g, want %g", got, want)
		}
	})
}

func TestFisheyeSeesMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		extent := rapid.Float64Range(0.01, 0.04).Draw(t, "extent")
		f := extent * rapid.Float64Range(0.7, 4).Draw(t, "focal over extent")
		s := drawDistance(t, f)
		straight := FieldAt(Rectilinear, f, extent, s)
		for _, p := range []Projection{Stereographic, Equidistant, Equisolid, Orthographic} {
			if got := FieldAt(p, f, extent, s); got < straight {
				t.Errorf("%v: got %g, want at least the rectilinear %g", p, got, straight)
			}
		}
	})
	if got := FieldAt(Equidistant, 0.008, 0.036, 2); !math.IsInf(got, 1) {
		t.Errorf("beyond 180 degrees: got %g, want +Inf", got)
	}
}

func TestLongerLensSeesLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProjection(t)
		extent := rapid.Float64Range(0.004, 0.04).Draw(t, "extent")
		f := extent * rapid.Float64Range(0.6, 10).Draw(t, "focal over extent")
		longer := f * rapid.Float64Range(1.01, 3).Draw(t, "factor")
		if wide, long := AngleOfView(p, f, extent, 0), AngleOfView(p, longer, extent, 0); !(long < wide) {
			t.Errorf("%v: got %g with %g and %g with %g, want less with the longer", p, wide, f, long, longer)
		}
		if far, close := AngleOfView(p, f, extent, 0), AngleOfView(p, f, extent, 0.1); !(close < far) {
			t.Errorf("%v: got %g at infinity and %g at 1:10, want less close up", p, far, close)
		}
	})
}

func TestFocalAndDistanceFillTheShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(0.1, 10).Draw(t, "size")
		s := rapid.Float64Range(0.3, 50).Draw(t, "distance")
		extent := rapid.Float64Range(0.004, 0.06).Draw(t, "extent")
		share := rapid.Float64Range(0.02, 2).Draw(t, "share")
		f := FocalFor(s, extent, size, share)
		if got := Share(size, Field(f, extent, s)); !near(got, share, 1e-9) {
			t.Errorf("share: got %g, want %g", got, share)
		}
		if got := DistanceFor(f, share*extent, size); !near(got, s, 1e-9) {
			t.Errorf("distance: got %g, want %g", got, s)
		}
	})
}

func TestLongestFocalJustFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		image := drawFrame(t, "image")
		side := rapid.Float64Range(0.1, 20)
		object := Frame{side.Draw(t, "object width"), side.Draw(t, "object height")}
		s := rapid.Float64Range(0.5, 100).Draw(t, "distance")
		f := LongestFocal(s, image, object)
		wide := Share(object.Width, Field(f, image.Width, s))
		high := Share(object.Height, Field(f, image.Height, s))
		if !near(max(wide, high), 1, 1e-9) {
			t.Errorf("got shares %g and %g, want the greater to be 1", wide, high)
		}
	})
}
