package engine

import (
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// Each veto and limit of the standard rules that excludes a lens has its cause, and the sign of a framing
// tells too wide from too tight.
func TestEveryStandardVetoHasACause(t *testing.T) {
	causes := map[string]Cause{
		"coverage": NoMount, "coverage-2": DarkCorners, "coverage-3": BendsShapes, "coverage-4": FocusesNoNearer, "coverage-5": TooWide,
		"distortion": BendsShapes, "distortion-2": BendsShapes, "depth-of-field": TooShallow,
		"light": TooBright, "light-2": TooDark, "steadiness": Swims,
		"rig-weight": TooLight, "rig-weight-2": TooHeavy,
		"practicality": ElseWrong, "practicality-2": ElseWrong, "practicality-3": NoRoom,
	}
	var r facts.Record
	r.Set(facts.SubjectNear, 1)
	r.Set(facts.CloseFocus, 0.3)
	frame := func(fill float64) {
		for _, id := range []facts.ID{facts.FillNear, facts.FillFar} {
			r.Set(id, fill)
		}
	}
	for id, value := range map[facts.ID]float64{facts.WantNearLow: 0.5, facts.WantNearHigh: 0.6, facts.WantFarLow: 0.5, facts.WantFarHigh: 0.6} {
		r.Set(id, value)
	}
	frame(0.2)
	raise := func(f rules.Finding, code string) *Judgement {
		f.Raised = []rules.Raised{{Code: code}}
		return &Judgement{Standing: Excluded, Facts: &r, Criteria: []rules.Finding{f}}
	}
	seen := 0
	for _, f := range rules.Standard().Explain(&r).Criteria {
		var codes []string
		for i := range f.Vetoes {
			codes = append(codes, f.Vetoes[i].Code)
		}
		for i := range f.Limits {
			codes = append(codes, f.Limits[i].Code)
		}
		for _, code := range codes {
			want, ok := causes[code]
			if got := raise(f, code).Cause(); !ok || got != want {
				t.Errorf("%s: got cause %d, want %d", code, got, want)
			}
			seen++
		}
		if f.Name == "coverage" {
			frame(1.5)
			if got := raise(f, "coverage-5").Cause(); got != TooTight {
				t.Errorf("a subject three times as large as asked: got cause %d, want %d", got, TooTight)
			}
			frame(0.2)
		}
		if f.Name == "depth of field" {
			r.Set(facts.CloseFocus, 1.5)
			if got := raise(f, "depth-of-field").Cause(); got != FocusesNoNearer {
				t.Errorf("a subject nearer than the closest focus: got cause %d, want %d", got, FocusesNoNearer)
			}
		}
	}
	if seen != len(causes) {
		t.Errorf("%d vetoes and limits were seen, want %d", seen, len(causes))
	}
	for want, j := range map[Cause]*Judgement{NoCause: {Standing: Judged}, NoMount: {Refusal: "no adapter"}, Unknown: {Standing: Undecided}} {
		if got := j.Cause(); got != want {
			t.Errorf("got cause %d, want %d", got, want)
		}
	}
}

// The verdict of an aspect is that of its worst criterion: a light that is noisy is fair or poor, whatever
// the framing does, and a limit that bites counts over the whole way and not where it holds.
func TestVerdictOfAnAspect(t *testing.T) {
	explain := func(set map[facts.ID]float64) *Judgement {
		var r facts.Record
		for id, value := range set {
			r.Set(id, value)
		}
		e := rules.Standard().Explain(&r)
		return &Judgement{Standing: Judged, Score: 0.5, Facts: &r, Criteria: e.Criteria}
	}
	for _, c := range []struct {
		name        string
		set         map[facts.ID]float64
		aspect      Aspect
		whole, held Verdict
	}{
		// 1 - 0.05 - 0.75 * (3 - 1) / 3.5 = 0.52: fair.
		{"noise", map[facts.ID]float64{facts.Noise: 3, facts.Pull: 0, facts.Filters: 0, facts.FilterCross: 0}, Light, Fair, Fair},
		{"noise, of framing", map[facts.ID]float64{facts.Noise: 3, facts.Pull: 0, facts.Filters: 0, facts.FilterCross: 0}, Framing, Good, Good},
		// The limit leaves (41 - 30) / 36 = 0.31 of a full score.
		{"framing", map[facts.ID]float64{facts.FramingError: 0.30, facts.FramingLost: 0}, Framing, Poor, Good},
		// 0.1 + 0.9 * (5 - 4) / 4.5 = 0.3.
		{"step", map[facts.ID]float64{facts.Swing: 0, facts.StepShare: 0.04}, Steadiness, Poor, Good},
	} {
		if whole, held := explain(c.set).VerdictOn(c.aspect); whole != c.whole || held != c.held {
			t.Errorf("%s: got %s, and %s where it holds; want %s and %s", c.name, whole, held, c.whole, c.held)
		}
	}
}
