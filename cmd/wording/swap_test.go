package wording

import (
	"regexp"
	"strconv"
	"testing"

	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/rig"
)

// The steps that are told add up to the most that a change can take, so that none is left out.
func TestSwapLimitsTellEveryStep(t *testing.T) {
	from, to := &brief.Shot{Support: facts.Legs}, &brief.Shot{Support: facts.Sled, Move: brief.Move{Low: true}}
	sum := 0.0
	for _, number := range regexp.MustCompile(`[0-9]+(\.[0-9]+)?`).FindAllString(SwapLimits(), -1) {
		minutes, err := strconv.ParseFloat(number, 64)
		if err != nil {
			t.Fatal(err)
		}
		sum += minutes
	}
	if most := rig.Most(from, to, true, true).Value(); sum != most {
		t.Errorf("the steps take %g minutes together, and all of a change takes %g: %s", sum, most, SwapLimits())
	}
}
