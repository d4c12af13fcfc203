package balance

import (
	"testing"

	"pgregory.net/rapid"
)

func TestLiftLimitIsLessAwayFromTheIdeal(t *testing.T) {
	ideal := LiftLimit(0.25, 0.75, 0)
	rapid.Check(t, func(t *rapid.T) {
		reach := rapid.Float64Range(0.1, 0.6).Draw(t, "reach")
		height := rapid.Float64Range(0, 1.75).Draw(t, "height")
		travel := rapid.Float64Range(0, 1.7).Draw(t, "travel")
		got := LiftLimit(reach, height, travel)
		if !(got > 0 && got <= ideal) {
			t.Errorf("got %g kg, want above 0 and at most %g", got, ideal)
		}
		if farther := LiftLimit(reach+0.02, height, travel); farther > got {
			t.Errorf("held farther out: got %g kg, want no more than %g", farther, got)
		}
		if higher := LiftLimit(reach, height, travel+0.05); higher > got {
			t.Errorf("lifted higher: got %g kg, want no more than %g", higher, got)
		}
	})
}

func TestNothingIsLiftedOutOfReach(t *testing.T) {
	if got := LiftLimit(0.64, 0.75, 0.3); got != 0 {
		t.Errorf("beyond the reach: got %g kg, want 0", got)
	}
	if got := LiftLimit(0.25, 0, 1.76); got != 0 {
		t.Errorf("beyond the travel: got %g kg, want 0", got)
	}
}
