package people

import (
	"slices"
	"testing"
)

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
