package engine

import (
	"cmp"
	"slices"

	"glassbrief/catalog"
)

// Lends reports whether the house may send a lens: nothing keeps it out, and it need not be
// hired.
func (t *Table) Lends(lens int) bool {
	return t.glass[lens].lens.Have.Kind != catalog.Hired && t.KeptOut(lens).By == ""
}

// TriesAll reports whether a lens of several focal lengths is tried in every set-up of a shot,
// thousands of them, because a rule there reads across what a set-up changes.
func (t *Table) TriesAll(shot, lens int) bool {
	return slices.ContainsFunc(t.at(lens).in(t.staged[shot].shot).ways, func(w way) bool {
		return len(w.optics.Focals) > 1 && t.staged[shot].shot.Task.Plain(&w.optics)
	})
}

// mostLooked bounds the lenses of which a set-up is looked for to tell which comes nearest.
const mostLooked = 2000

// Nearest gives the places of the lenses of the house that come nearest to a shot that
// excludes them, the nearest first and so many at most. Those that do not go on the camera
// are not among them.
func (t *Table) Nearest(shot, most int) []int {
	var lenses []int
	for _, k := range t.Ranked(shot) { // equals stay in the order of the ranking
		if len(lenses) < mostLooked && t.outcomes[shot][k].Standing == Excluded && t.glass[k].refusal == "" && t.Lends(k) {
			lenses = append(lenses, k)
		}
	}
	of := judges.Get().(*judge)
	nearestFirst(lenses, func(lens int) float64 { return t.nearness(of, shot, lens) })
	judges.Put(of)
	return lenses[:min(len(lenses), most)]
}

// nearestFirst puts lenses in the order in which they come near to doing a shot.
func nearestFirst(lenses []int, near func(lens int) float64) {
	type candidate struct {
		lens int
		near float64
	}
	all := make([]candidate, len(lenses))
	for i, lens := range lenses {
		all[i] = candidate{lens, near(lens)}
	}
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(b.near, a.near) })
	for i := range all {
		lenses[i] = all[i].lens
	}
}
