package engine

import (
	"math"

	"glassbrief/engine/rules"
)

// Behind says where one lens loses most against another in the same shot: the criterion
// whose weighted score costs it most, with the findings on both. It reports false when
// no criterion that is known for both sets it back.
func Behind(loser, winner *Judgement) (lost, won rules.Finding, ok bool) {
	worst := 0.0
	for i := range loser.Criteria {
		a := &loser.Criteria[i]
		for j := range winner.Criteria {
			b := &winner.Criteria[j]
			if a.Name != b.Name || !(a.Score < b.Score) {
				continue
			}
			if cost := a.Weight * math.Log(b.Score/max(a.Score, 1e-6)); cost > worst {
				worst, lost, won, ok = cost, *a, *b, true
			}
		}
	}
	return lost, won, ok
}

// Find gives the judgement of a lens, or nil.
func (a *ShotAnswer) Find(lens string) *Judgement {
	for i := range a.Ranking {
		if a.Ranking[i].Lens == lens {
			return &a.Ranking[i]
		}
	}
	return nil
}
