package engine_test

import (
	"fmt"
	"math"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
)

// A shot that asks for a lens is judged with that one as ever, and with no other.
func TestAskedLensAloneMayComeForAShot(t *testing.T) {
	free := enginetest.Recommend(t, enginetest.Read(t, enginetest.Trial("", ""), brief.Files{}), engine.Options{})
	asked := 0
	for _, lens := range free.Shots[0].Doing() {
		r := enginetest.Recommend(t, enginetest.Read(t, enginetest.Trial("", fmt.Sprintf("lens %q", lens)), brief.Files{}), engine.Options{})
		if got := r.Kit.Uses[0]; got != lens {
			t.Errorf("asked for %s, the kit does it with %q", lens, got)
			continue
		}
		for j := range r.Shots[0].All() {
			was := free.Shots[0].Find(j.Lens)
			switch {
			case j.Lens == lens && (j.Score != was.Score || j.Fact(facts.Stop) != was.Fact(facts.Stop) || j.Fact(facts.FocusMark) != was.Fact(facts.FocusMark)):
				t.Errorf("%s is judged otherwise when it is asked for: %v, not %v", lens, j.Score, was.Score)
			case j.Lens != lens && j.Standing != engine.Excluded:
				t.Errorf("%s is %s where %s is asked for", j.Lens, j.Standing, lens)
			}
		}
		asked++
	}
	if asked < 3 {
		t.Errorf("only %d lenses do the shot", asked)
	}
	out := enginetest.Recommend(t, enginetest.Read(t, enginetest.Trial("", `lens "Wide 14"`), brief.Files{}), engine.Options{})
	if first := out.Shots[0].Ranking[0]; out.Kit.Uses[0] != "" || first.Lens != "Wide 14" {
		t.Errorf("with a lens that does not do it, the kit does the shot with %q, and %s comes nearest", out.Kit.Uses[0], first.Lens)
	}
}

// A shot that asks for a stop is done at that stop, with what scores best at it: no more than without,
// and the same at the stop that is best.
func TestAskedStopIsSet(t *testing.T) {
	free := enginetest.Recommend(t, enginetest.Read(t, enginetest.Trial("", "light 320lx"), brief.Files{}), engine.Options{})
	tried := 0
	for _, stop := range []string{"f/2.8", "f/4", "f/5.6", "f/8", "T4.3"} {
		r := enginetest.Recommend(t, enginetest.Read(t, enginetest.Trial("", "light 320lx\nstop "+stop), brief.Files{}), engine.Options{})
		for j := range r.Shots[0].All() {
			if j.Standing != engine.Judged {
				continue
			}
			tried++
			fact, value := facts.Stop, 0.0
			if _, err := fmt.Sscanf(stop, "f/%g", &value); err != nil {
				fact = facts.TStop
				fmt.Sscanf(stop, "T%g", &value)
			}
			if got := j.Fact(fact); math.Abs(got/value-1) > 0.03 {
				t.Errorf("asked for %s, %s is set to %g", stop, j.Lens, got)
			}
			was := free.Shots[0].Find(j.Lens)
			if j.Score > was.Score+1e-9 {
				t.Errorf("%s scores %g at %s, and %g at the best stop", j.Lens, j.Score, stop, was.Score)
			}
			if was.Fact(facts.Stop) == j.Fact(facts.Stop) && math.Abs(j.Score-was.Score) > 1e-9 {
				t.Errorf("%s scores %g at %s, its best stop, and %g without", j.Lens, j.Score, stop, was.Score)
			}
		}
	}
	if tried < 10 {
		t.Errorf("only %d lenses do the shot at a stop", tried)
	}
}
