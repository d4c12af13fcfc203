package optics

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestNearerStretchesAFaceMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.1, 10).Draw(t, "distance")
		near, far := FaceStretch(d, HeadLength, NoseProtrusion), FaceStretch(d*1.1, HeadLength, NoseProtrusion)
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

func TestLandmarksRunFromTheTopDown(t *testing.T) {
	marks := Landmarks()
	if !slices.IsSortedFunc(marks, func(a, b Landmark) int {
		if a.Height > b.Height {
			return -1
		}
		return 1
	}) {
		t.Errorf("got %v, want them from the top down", marks)
	}
	marks[0].Height = 2
	if got, _ := LandmarkHeight(marks[0].Name); got == 2 {
		t.Error("a change of the list reached the table")
	}
	if _, ok := LandmarkHeight("waist"); ok {
		t.Error("\"waist\" was taken, which no source settles")
	}
}
