package taste

import (
	"math"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// A Duel says for which share of all weightings one lens scores more than another in a shot, with the
// set-ups of both held. Weightings are drawn as for [Shares], evenly from all there are.
type Duel struct {
	Wins, Loses float64 // as shares of 1; what is left are draws
	// Exact says that they are worked out. Otherwise the criteria whose scores are known differ between
	// the two, and so do the sums that their scores are divided by: [Draws] weightings were drawn.
	Exact bool
}

// Duel gives how two lenses compare in a shot, by their places. Neither may be excluded.
func (h *Held) Duel(shot, lens, other int) Duel {
	a, b := h.cells[shot][lens], h.cells[shot][other]
	if edges, ok := h.edges(a, b); ok {
		wins := AboveZero(edges)
		for k := range edges {
			edges[k] = -edges[k]
		}
		return Duel{wins, AboveZero(edges), true}
	}
	wins, loses := 0, 0
	d := newDrawing(h, Draws)
	for i := range Draws {
		switch mine, theirs := a.Judge(d.taste(i)).Score, b.Judge(d.taste(i)).Score; {
		case mine > theirs:
			wins++
		case mine < theirs:
			loses++
		}
	}
	return Duel{float64(wins) / Draws, float64(loses) / Draws, false}
}

// DuelOf gives how two lenses of a table compare in a shot, by their places; nil where one of them may not
// be brought.
func DuelOf(t *engine.Table, shot, lens, other int) *Duel {
	if lens == other || !t.Outcome(shot, lens).Acceptable() || !t.Outcome(shot, other).Acceptable() {
		return nil
	}
	h := &Held{Table: t, Criteria: t.Scenario.Rules.Criteria(), cells: [][]*rules.Unweighed{make([]*rules.Unweighed, 2)}}
	var record facts.Record
	for i, of := range []int{lens, other} {
		u := t.Unweighed(shot, of, &record)
		h.cells[0][i] = &u
	}
	d := h.Duel(0, 0, 1)
	return &d
}

// edges gives for each criterion that is drawn what its weight brings to one lens over another: their
// scores compare as the sum of these by weight does with 0. It reports false where the two have other
// scores known.
func (h *Held) edges(a, b *rules.Unweighed) (edges []float64, ok bool) {
	limits := math.Log(a.Limit / b.Limit)
	all, constant := 0.0, 0.0 // the weight that is shared out, and what does not hang on it
	for k := range a.Aspects {
		mine, theirs := &a.Aspects[k], &b.Aspects[k]
		if mine.Known() != theirs.Known() {
			return nil, false
		}
		edge := 0.0
		if known := mine.Known(); known > 0 {
			edge = mine.Log - theirs.Log + limits*float64(known)
		}
		switch {
		case k >= len(h.Criteria):
			constant += mine.Weight * edge
		case len(h.Criteria[k].Scores) > 0:
			edges, all = append(edges, edge), all+mine.Weight
		}
	}
	for k := range edges {
		edges[k] += constant / all // since the weights are all of it
	}
	return edges, true
}

// AboveZero gives the share of a simplex on which Σ aᵢwᵢ is above 0, for weights wᵢ that are not below 0
// and sum to 1. For different aᵢ it is
//
//	Σ over aᵢ > 0 of aᵢⁿ⁻¹ / Π over j ≠ i of (aᵢ − aⱼ)
//
// ("Volume of slices and sections of the simplex in closed form", 2015), which loses all digits where
// two are nearly equal. So it is worked out as the race that it also is: even weights are lengths of
// waiting, each as likely as the next, so that those above 0 and those below are two runners who take
// aᵢ times one waiting each for every leg. Whoever is at the end first loses. The first to end a leg is
// found by how quick the two are, and the other has still a whole leg to wait; so all is sums of products
// of shares, without a difference.
func AboveZero(a []float64) float64 {
	var above, below []float64
	for _, x := range a {
		switch {
		case x > 0:
			above = append(above, x)
		case x < 0:
			below = append(below, -x)
		}
	}
	if len(above) == 0 {
		return 0
	}
	// share[s] is that of the first so many above against the first s below.
	share := make([]float64, len(below)+1)
	for _, x := range above {
		share[0] = 1
		for s, y := range below {
			// With x times a waiting against y times one, the first is over first in y/(x+y) of cases.
			first := 1 / (1 + x/y)
			share[s+1] = first*share[s+1] + (1-first)*share[s]
		}
	}
	return share[len(below)]
}
