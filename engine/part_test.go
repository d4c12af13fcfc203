package engine

import (
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// A shot is whole by the standard rules as long as its framing is off by no more than the slack.
func TestFramingSlackIsThatOfTheRules(t *testing.T) {
	for _, test := range []struct {
		off   float64
		bites int
	}{{FramingSlack, 0}, {FramingSlack + 1e-3, 1}} {
		var r facts.Record
		r.Set(facts.FramingError, test.off)
		e := rules.Standard().Explain(&r)
		if got := len(e.Criteria[0].Bites); got != test.bites {
			t.Errorf("a framing that is off by %g: %d limits bite, want %d", test.off, got, test.bites)
		}
	}
}
