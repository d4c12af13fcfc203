package optics

import (
	"testing"

	"pgregory.net/rapid"
)

func TestNearerStretchesAFaceMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.1, 10).Draw(t, "distance")
		near, far := FaceStretch(d, 0.1995, 0.021), FaceStretch(d*1.1, 0.1995, 0.021)
		if !(near > far && far > 0) {
			t.Errorf("got %g at %g m and %g farther off, want less and above 0", near, d, far)
		}
	})
}

func TestFalloffGrowsFromTheMiddle(t *testing.T) {
	if got := NaturalFalloff(0); got != 0 {
		t.Errorf("in the middle: got %g, want 0", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		theta := rapid.Float64Range(0.01, 1.5).Draw(t, "angle")
		if inner, outer := NaturalFalloff(theta*0.9), NaturalFalloff(theta); !(outer > inner) {
			t.Errorf("got %g and farther out %g, want more", inner, outer)
		}
	})
}
