package why

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/engine"
)

// A Rescue is what there is to do about a shot that no lens of the house does.
type Rescue struct {
	Nearest *engine.Judgement // of the lenses of the house; nil when none goes on the camera
	Filter  *FilterWant       // with which one of them would do it; nil where too much light is no fault
	Changes []Lift            // of the brief, by which one of them would do it; the smallest first
	// Untried are the lenses of the house with which no change is looked for: a rule of the shot
	// makes every trial of them go through all their set-ups.
	Untried []string
}

// A Lift is a change of the brief by which a lens would do a shot.
type Lift struct {
	Lens string
	BriefChange
}

// Bounds of what is tried and kept of changes: solving takes hundreds of trials for a lens.
const (
	lensesTried  = 24 // those that come nearest to doing the shot
	changesKept  = 3
	timesSmaller = 8 // a change that is so many times the smallest is no remedy beside it
)

// RescueOf looks for the smallest changes by which a lens of the house would do a shot, by its
// place in a table; of each figure it keeps the change with the lens that needs least. It
// gives nil where a lens of the house does the shot, or a hired one that the shot asks for. Of a lens of which each trial goes through all
// set-ups no change is looked for.
func RescueOf(t *engine.Table, shot int) *Rescue {
	for j := range t.Lenses() {
		if asked := t.Scenario.Shots[shot].Lens == t.Lenses()[j].Name.Value; (asked || t.Lends(j)) && t.Outcome(shot, j).Acceptable() {
			return nil
		}
	}
	r := &Rescue{}
	on, asked := t.Bench(), t.Scenario.Shots[shot]
	all := knobs(t.Scenario, t.Camera, asked)
	least := make([]*Lift, len(all))
	var tried []int
	for i, place := range t.Nearest(shot, lensesTried) {
		if i == 0 {
			nearest := t.Explain(shot, place)
			r.Nearest = &nearest
		}
		if t.TriesAll(shot, place) {
			r.Untried = append(r.Untried, t.Lenses()[place].Name.Value)
			continue
		}
		tried = append(tried, place)
	}
	r.Filter = FilterFor(t, shot, tried...)
	for _, place := range tried {
		lens := t.Lenses()[place]
		test := Accepted(on, lens)
		for i := range all {
			below := math.Inf(1)
			if least[i] != nil {
				below = least[i].Size
			}
			if c, ok := all[i].smallest(test, below); ok {
				least[i] = &Lift{lens.Name.Value, c}
			}
		}
	}
	for _, lift := range least {
		if lift != nil {
			r.Changes = append(r.Changes, *lift)
		}
	}
	slices.SortStableFunc(r.Changes, func(a, b Lift) int { return cmp.Compare(a.Size, b.Size) })
	for i := range r.Changes {
		if i == changesKept || r.Changes[i].Size > timesSmaller*max(1, r.Changes[0].Size) {
			r.Changes = r.Changes[:i]
			break
		}
	}
	return r
}
