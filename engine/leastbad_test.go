package engine_test

import (
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
)

// A lens that is excluded whatever is set is shown in a set-up that it has, whichever part of
// the set-up the rules are against.
func TestExcludedLensIsShownInASetup(t *testing.T) {
	const across = "iso * stop < f/1"
	for _, need := range []string{"iso < 10", "filters > 5", "stop > f/90", "near_limit > 1000m", "exposure_error > 40 stops", "focal_length > 1m", "lens_mass > 90kg", across} {
		s := enginetest.Read(t, enginetest.Trial("", "light 300lx\n  need "+need), brief.Files{})
		stage := engine.NewBench(s, s.Cameras[0]).Stage(s.Shots[0])
		for _, lens := range s.Catalogue.Lenses.All() {
			if lens.IsZoom() && need == across {
				continue // it would try every set-up
			}
			j := stage.Explain(lens)
			if len(j.Missing) > 0 {
				continue // a need that reads what is missing excludes nothing
			}
			if j.Standing != engine.Excluded || j.Score != 0 {
				t.Errorf("%s with %q: got %v and a score of %v", lens.Name.Value, need, j.Standing, j.Score)
			}
			focal, stop, iso := j.Fact(facts.FocalLength), j.Fact(facts.Stop), j.Fact(facts.ISO)
			if low, high := lens.Focal.Low.Value, lens.Focal.High.Value; focal < 0.7*low || focal > 1.5*high || stop < 1 || iso < 50 || j.Fact(facts.FocusMark) <= 0 {
				t.Errorf("%s with %q: shown at %v m, f/%v, ISO %v, focus at %v m", lens.Name.Value, need, focal, stop, iso, j.Fact(facts.FocusMark))
			}
			said := false
			for _, veto := range j.Vetoes() {
				said = said || veto.Code == "need-1"
			}
			if !said {
				t.Errorf("%s with %q: the need is not among the vetoes %v", lens.Name.Value, need, j.Vetoes())
			}
		}
	}
}
