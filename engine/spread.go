package engine

import (
	"maps"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
)

// A Spread is what assumed figures leave open of one lens in one shot. It is found by trying:
// each figure at the ends of its range, and between them where it does not act one way, with
// the others at their middle; then all at once at what costs most and at what costs least, and
// all masses at one end. What acts otherwise only in a mixture of figures is not seen: Sampled
// is by how much a score is taken to lie outside of what was tried.
type Spread struct {
	Low, High float64 // of the score; 0 for a lens that is excluded
	Trials    []Trial // the middle first
}

// A Trial is the outcome of a lens in a shot with other values of assumed figures.
type Trial struct {
	Values brief.Values // none for the middle
	Outcome
}

// Sampled is what trying is taken to miss of a range of scores.
const Sampled = 0.01

// Assumed reports whether the outcome rests on assumed figures.
func (s *Spread) Assumed() bool { return len(s.Trials) > 1 }

// Spread tries what the assumed figures leave open of a lens in a shot, by their places.
func (t *Table) Spread(shot, lens int) Spread {
	tried := trier{table: t, shot: shot, lens: lens}
	tried.spread.Trials = []Trial{{Outcome: t.outcomes[shot][lens]}}
	of := t.assumedOf(shot, lens)
	worst, best := brief.Values{}, brief.Values{}
	for _, i := range of {
		low, high := tried.scoreOf(0), tried.scoreOf(0)
		for _, value := range t.Scenario.Assumed[i].Probes() {
			switch score := tried.at(brief.Values{i: value}); {
			case score < low:
				low, worst[i] = score, value
			case score > high:
				high, best[i] = score, value
			}
		}
	}
	if len(of) > 1 {
		tried.at(worst)
		tried.at(best)
		for _, values := range []brief.Values{worst, best} {
			for _, end := range []func(*brief.Assumption) float64{lowEnd, highEnd} {
				all := maps.Clone(values)
				for _, i := range of {
					if a := &t.Scenario.Assumed[i]; a.Keyword == "mass" {
						all[i] = end(a)
					}
				}
				tried.at(all)
			}
		}
	}
	s := tried.spread
	s.Low, s.High = math.Inf(1), 0
	for k := range s.Trials {
		s.Low, s.High = min(s.Low, tried.scoreOf(k)), max(s.High, tried.scoreOf(k))
	}
	if len(of) > 0 {
		s.Low = max(0, s.Low-Sampled)
		if s.High > 0 {
			s.High = min(1, s.High+Sampled)
		}
	}
	return s
}

func lowEnd(a *brief.Assumption) float64  { return a.Low }
func highEnd(a *brief.Assumption) float64 { return a.High }

// assumedOf lists the assumptions that bear on a lens in a shot.
func (t *Table) assumedOf(shot, lens int) []int {
	g := t.glass[lens]
	if g.refusal != "" {
		return nil
	}
	name := map[brief.Owner]string{
		brief.OfShot: t.Scenario.Shots[shot].ID, brief.OfCamera: t.Camera.Name.Value, brief.OfRig: t.Scenario.Rig.Name.Value,
		brief.OfMount: t.Camera.Mount.Value, brief.OfLens: g.lens.Name.Value,
	}
	if g.fitting.Adapter != nil {
		name[brief.OfAdapter] = g.fitting.Adapter.Name.Value
	}
	var all []int
	for i := range t.Scenario.Assumed {
		if a := &t.Scenario.Assumed[i]; name[a.Of] == a.Name {
			all = append(all, i)
		}
	}
	return all
}

// A trier tries values of figures of one lens in one shot.
type trier struct {
	table      *Table
	shot, lens int
	judge      judge
	spread     Spread
}

// at tries values, and gives the score.
func (t *trier) at(values brief.Values) float64 {
	g, st := t.table.under(t.shot, t.lens, values)
	t.spread.Trials = append(t.spread.Trials, Trial{values, t.judge.judge(g, st)})
	return t.scoreOf(len(t.spread.Trials) - 1)
}

func (t *trier) scoreOf(trial int) float64 {
	if o := t.spread.Trials[trial].Outcome; o.Acceptable() {
		return o.Score
	}
	return 0
}

// under gives a lens and a shot with other values of assumed figures.
func (t *Table) under(shot, lens int, values brief.Values) (*glass, *staged) {
	g, st := t.glass[lens], t.staged[shot]
	if len(values) == 0 {
		return g, st
	}
	s := t.Scenario.Under(values)
	camera := cameraOf(s, t.Camera)
	for i := range values {
		switch t.Scenario.Assumed[i].Of {
		case brief.OfShot, brief.OfCamera, brief.OfRig:
			st = stage(s, camera, s.Shots[shot])
		}
	}
	item, _ := s.Catalogue.Lenses.Lookup(g.lens.Name.Value)
	return fit(s, item, camera, t.filters), st
}

// cameraOf gives the camera of a scenario that stands for one of another.
func cameraOf(s *brief.Scenario, camera *catalog.Camera) *catalog.Camera {
	k := slices.IndexFunc(s.Cameras, func(c *catalog.Camera) bool { return c.Name.Value == camera.Name.Value })
	return s.Cameras[k]
}

// Under gives the table with other values of assumed figures.
func (t *Table) Under(values brief.Values) *Table {
	s := t.Scenario.Under(values)
	changed := &Table{Scenario: s, Camera: cameraOf(s, t.Camera), filters: t.filters, glass: slices.Clone(t.glass), staged: slices.Clone(t.staged), outcomes: make([][]Outcome, len(t.outcomes))}
	floor := false
	for i := range values {
		switch t.Scenario.Assumed[i].Of {
		case brief.OfShot, brief.OfCamera, brief.OfRig, brief.OfMount, brief.OfAdapter:
			floor = true
		}
	}
	anew := make([]bool, len(t.glass))
	for j, g := range t.glass {
		item, _ := s.Catalogue.Lenses.Lookup(g.lens.Name.Value)
		if anew[j] = floor || item != g.lens; anew[j] {
			changed.glass[j] = fit(s, item, changed.Camera, t.filters)
		}
	}
	var one judge
	for i, shot := range s.Shots {
		if floor {
			changed.staged[i] = stage(s, changed.Camera, shot)
		}
		changed.outcomes[i] = slices.Clone(t.outcomes[i])
		for j, g := range changed.glass {
			if anew[j] {
				changed.outcomes[i][j] = one.judge(g, changed.staged[i])
			}
		}
	}
	return changed
}
