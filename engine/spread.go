package engine

import (
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
)

// A ScoreSpread is where the score of a lens in a shot lies over the values of the assumed
// figures. It is found by trying: one figure after another is set to the end of its range, or
// where it does not act one way to a value between, that lowers the score most, until none lowers
// it more; and so upwards. What no such path reaches is not seen: Sampled is by how much a score is
// taken to lie outside of what was tried.
type ScoreSpread struct {
	Span           // of the scores with which the lens may be brought; its Low is above its High where it never may
	Known     bool // it was worked out
	Moves     bool // some value makes the score, or whether the lens may be brought, another
	Otherwise bool // some value excludes a lens that may be brought, or lets one be brought that is excluded
}

// Sampled is what trying is taken to miss of a range of scores.
const Sampled = 0.01

// Spread tries what the assumed figures leave open of a lens in a shot, by their places.
func (t *Table) Spread(shot, lens int) ScoreSpread {
	s := ScoreSpread{Span: Span{math.Inf(1), 0}, Known: true}
	middle := &t.outcomes[shot][lens]
	t.tryAll(shot, lens, func(o *Outcome) bool {
		s.Moves = s.Moves || moved(o, middle)
		s.Otherwise = s.Otherwise || o.Acceptable() != middle.Acceptable()
		if o.Acceptable() {
			s.Low, s.High = min(s.Low, o.Score), max(s.High, o.Score)
		}
		return true
	})
	if s.Moves {
		s.Low, s.High = max(0, s.Low-Sampled), min(1, s.High+Sampled)
	}
	return s
}

// Moves gives what [Table.Spread] says of whether the score moves, for less.
func (t *Table) Moves(shot, lens int) (moves bool) {
	middle := &t.outcomes[shot][lens]
	t.tryAll(shot, lens, func(o *Outcome) bool {
		moves = moves || moved(o, middle)
		return !moves
	})
	return moves
}

func moved(o, middle *Outcome) bool {
	return o.Score != middle.Score || o.Acceptable() != middle.Acceptable()
}

// tryAll tries a lens in a shot both ways, and shows the middle and every trial until see says
// that it has seen enough.
func (t *Table) tryAll(shot, lens int, see func(*Outcome) bool) {
	of := t.assumedOf(shot, lens)
	if !see(&t.outcomes[shot][lens]) || t.outWhatever(shot, lens, of) {
		return
	}
	tried := t.tryOut(shot, lens, see)
	tried.end(of, -1)
	tried.end(of, 1)
	tried.done()
}

// Least gives the least that a lens can score in a shot over the values of the assumed figures, 0
// where it may be out.
func (t *Table) Least(shot, lens int) float64 {
	if most, told := t.Ceiling(shot, lens); told {
		return most
	}
	return lowered(t.endOf(shot, lens, -1))
}

// Most gives the most that a lens can score, as Least gives the least.
func (t *Table) Most(shot, lens int) float64 {
	if most, told := t.Ceiling(shot, lens); told {
		return most
	}
	return raised(t.endOf(shot, lens, 1))
}

// Ceiling gives what a lens cannot exceed in a shot, without trying. Where that is told by no
// assumed figure, it is what [Table.Most] and [Table.Least] give.
func (t *Table) Ceiling(shot, lens int) (most float64, told bool) {
	switch of := t.assumedOf(shot, lens); {
	case len(of) == 0:
		return acceptable(t.outcomes[shot][lens]), true
	case t.outWhatever(shot, lens, of):
		return 0, true
	}
	return 1, false
}

func (t *Table) endOf(shot, lens int, sign float64) float64 {
	tried := t.tryOut(shot, lens, func(*Outcome) bool { return true })
	defer tried.done()
	return tried.end(t.assumedOf(shot, lens), sign)
}

func lowered(score float64) float64 { return max(0, score-Sampled) }

func raised(score float64) float64 {
	if score == 0 {
		return 0
	}
	return min(1, score+Sampled)
}

func (t *Table) tryOut(shot, lens int, see func(*Outcome) bool) *trier {
	return &trier{table: t, shot: shot, lens: lens, see: see, judge: judges.Get().(*judge)}
}

// end gives the end of the score's range in a direction.
func (t *trier) end(of []int, sign float64) float64 {
	best := t.climb(of, brief.Values{}, sign)
	if sign < 0 || best <= 0 { // a rig carries too little or too much only by several masses at once
		for _, end := range []func(*brief.Assumption) float64{lowEnd, highEnd} {
			if masses := massesAt(t.table.Scenario.Assumed, of, end); len(masses) > 1 {
				if score := t.climb(of, masses, sign); sign*score > sign*best {
					best = score
				}
			}
		}
	}
	return max(0, best)
}

// climb changes one figure after another to whatever moves the score most in a direction, until
// none does.
func (t *trier) climb(of []int, values brief.Values, sign float64) float64 {
	best := t.at(values, sign)
	for moved, sweep := true, 0; moved && sweep < sweeps; sweep++ {
		moved = false
		for _, i := range of {
			a := &t.table.Scenario.Assumed[i]
			is, set := values[i]
			if !set {
				is = a.Middle
			}
			for _, value := range append(a.Probes(), a.Middle) {
				if t.seen {
					return best
				}
				if value == is {
					continue
				}
				before, had := values[i]
				values[i] = value
				score := t.at(values, sign)
				switch {
				case sign*score > sign*best:
					best, moved = score, true
				case score == best && sweep == 0 && value != a.Middle: // it may matter once another has moved
					moved = true
				case had:
					values[i] = before
				default:
					delete(values, i)
				}
			}
			if a.Peaked && sign > 0 && !t.seen {
				if score := t.peak(i, values, best); score > best {
					best, moved = score, true
				}
			}
		}
	}
	return best
}

// closings is how often the search for a peak closes in on it: to a fiftieth of the range.
const closings = 7

// peak looks by the golden section for a better value of a figure between the probes beside the one
// that it has, and sets it if there is one; it gives the score.
func (t *trier) peak(i int, values brief.Values, best float64) float64 {
	a := &t.table.Scenario.Assumed[i]
	before, had := values[i]
	is := a.Middle
	if had {
		is = before
	}
	low, high := a.Low, a.High
	for _, probe := range append(a.Probes(), a.Middle) {
		if probe < is {
			low = max(low, probe)
		}
		if probe > is {
			high = min(high, probe)
		}
	}
	at := func(value float64) float64 {
		values[i] = value
		return t.at(values, 1)
	}
	const golden = 0.6180339887498949
	left, right := high-golden*(high-low), low+golden*(high-low)
	atLeft, atRight := at(left), at(right)
	for range closings {
		if atLeft > atRight {
			high, right, atRight = right, left, atLeft
			left = high - golden*(high-low)
			atLeft = at(left)
		} else {
			low, left, atLeft = left, right, atRight
			right = low + golden*(high-low)
			atRight = at(right)
		}
	}
	if values[i] = left; atRight > atLeft {
		values[i] = right
	}
	if score := max(atLeft, atRight); score > best {
		return score
	}
	if delete(values, i); had {
		values[i] = before
	}
	return best
}

// sweeps bounds how often all figures are gone through.
const sweeps = 3

// massesAt gives those of some assumptions that are masses at an end of their ranges.
func massesAt(assumed []brief.Assumption, of []int, end func(*brief.Assumption) float64) brief.Values {
	values := brief.Values{}
	for _, i := range of {
		if a := &assumed[i]; a.Keyword == "mass" {
			values[i] = end(a)
		}
	}
	return values
}

func lowEnd(a *brief.Assumption) float64  { return a.Low }
func highEnd(a *brief.Assumption) float64 { return a.High }

// assumedOf lists the assumptions that bear on a lens in a shot.
func (t *Table) assumedOf(shot, lens int) []int {
	g := t.glass[lens]
	if g.refusal != "" || len(t.Scenario.Assumed) == 0 {
		return nil
	}
	s, adapter := t.Scenario, ""
	if g.fitting.Adapter != nil {
		adapter = g.fitting.Adapter.Name.Value
	}
	return slices.Concat(
		s.AssumedAbout(brief.OfShot, s.Shots[shot].ID), s.AssumedAbout(brief.OfCamera, t.Camera.Name.Value),
		s.AssumedAbout(brief.OfRig, s.Rig.Name.Value), s.AssumedAbout(brief.OfMount, t.Camera.Mount.Value),
		s.AssumedAbout(brief.OfAdapter, adapter), s.AssumedAbout(brief.OfLens, g.lens.Name.Value),
	)
}

// A trier tries values of figures of one lens in one shot.
type trier struct {
	table      *Table
	shot, lens int
	judge      *judge
	see        func(*Outcome) bool
	seen       bool // enough
	anew       trial
}

// A trial is a lens with other values of its figures, and as it goes on a camera with them: the memory
// of one trial after another.
type trial struct {
	lens  catalog.Lens
	glass glass
}

func (t *trier) done() { judges.Put(t.judge) }

// at tries values, and gives the score; on the way up, for a lens that is excluded, how near it
// comes to doing the shot, less 1: several figures may have to change before it does.
func (t *trier) at(values brief.Values, sign float64) float64 {
	if t.seen {
		return 0
	}
	g, st := t.table.under(t.shot, t.lens, values, &t.anew)
	o := t.table.outcomes[t.shot][t.lens]
	if len(values) > 0 {
		o = t.judge.judge(g, st)
		t.seen = !t.see(&o)
	}
	score := acceptable(o)
	if score > 0 || sign < 0 || g.refusal != "" || t.seen {
		return score
	}
	_, near := t.judge.leastBad(g, st)
	return near - 1
}

// acceptable gives the score of a lens that may be brought, and 0 otherwise.
func acceptable(o Outcome) float64 {
	if o.Acceptable() {
		return o.Score
	}
	return 0
}

// under gives a lens and a shot with other values of assumed figures. What differs of the lens it
// puts in the place of the last trial.
func (t *Table) under(shot, lens int, values brief.Values, anew *trial) (*glass, *staged) {
	g, st := t.glass[lens], t.staged[shot]
	if len(values) == 0 {
		return t.at(lens), st
	}
	if t.ofLenses(values) {
		anew.lens = *g.lens
		t.Scenario.PutUnder(&anew.lens, values)
		anew.glass.fit(t.Scenario, &anew.lens, t.Camera, t.filters)
		return &anew.glass, st
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
	anew.glass.fit(s, item, camera, t.filters)
	return &anew.glass, st
}

// ofLenses reports whether all values are of figures of lenses.
func (t *Table) ofLenses(values brief.Values) bool {
	for i := range values {
		if t.Scenario.Assumed[i].Of != brief.OfLens {
			return false
		}
	}
	return true
}

// cameraOf gives the camera of a scenario that stands for one of another.
func cameraOf(s *brief.Scenario, camera *catalog.Camera) *catalog.Camera {
	k := slices.IndexFunc(s.Cameras, func(c *catalog.Camera) bool { return c.Name.Value == camera.Name.Value })
	return s.Cameras[k]
}
