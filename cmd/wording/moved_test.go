package wording

import (
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
)

// A sentence that begins with a name leaves it as it is, whatever its first letter.
func TestMovedLeavesNamesAsTheyAre(t *testing.T) {
	plan := func(lens string) *engine.Recommendation {
		j := engine.Judgement{Lens: lens, Score: 0.9}
		r := &engine.Recommendation{Scenario: new(brief.Scenario), Choice: engine.Choice{Kit: engine.Kit{Lenses: []string{lens}}}}
		shot := engine.ShotAnswer{Shot: &brief.Shot{ID: "1A"}}
		if lens != "" {
			shot.Use = &j
		}
		r.Shots = []engine.ShotAnswer{shot}
		return r
	}
	for _, c := range []struct{ was, is, want string }{
		{"Wide 24", "öse 35", "öse 35 replaces Wide 24 in 1A; score "},
		{"", "wide 24", "wide 24 does 1A, which no lens did; score "},
		{"Wide 24", "", "No lens of the kit does 1A; score "},
	} {
		if got := Moved(plan(c.was), plan(c.is)); !strings.HasPrefix(got, c.want) {
			t.Errorf("got %q, want it to begin with %q", got, c.want)
		}
	}
}
