package kit

import (
	"cmp"
	"slices"
)

// candidate is a set under comparison.
type candidate struct {
	lenses []int // ascending
	worth  worth
	swaps  int
	load   load
}

// newCandidate fills in what a set is worth beside its scores.
func (t *table) newCandidate(lenses []int, w worth) candidate {
	c := candidate{lenses: slices.Sorted(slices.Values(lenses)), worth: w, load: t.loadOf(lenses)}
	c.swaps, _ = t.day(c.lenses)
	return c
}

// compare orders candidates, best first. Sets that are equal in every respect are
// ordered by their lenses, so that the answer does not depend on the way of the search.
func compare(a, b *candidate) int {
	return cmp.Or(
		b.worth.compare(a.worth),
		cmp.Compare(a.swaps, b.swaps),
		cmp.Compare(a.load[onMass], b.load[onMass]),
		cmp.Compare(a.load[onCost], b.load[onCost]),
		cmp.Compare(len(a.lenses), len(b.lenses)),
		slices.Compare(a.lenses, b.lenses),
	)
}

// podium holds the best candidates so far, best first.
type podium struct {
	places int
	best   []candidate
}

// open reports whether a set of that worth could get a place.
func (d *podium) open(w worth) bool {
	return len(d.best) < d.places || w.compare(d.best[len(d.best)-1].worth) >= 0
}

// enter gives a candidate its place, if it has one.
func (d *podium) enter(c candidate) {
	at, _ := slices.BinarySearchFunc(d.best, c, func(a, b candidate) int { return compare(&a, &b) })
	if at < d.places {
		d.best = slices.Insert(d.best, at, c)
		d.best = d.best[:min(len(d.best), d.places)]
	}
}

// idle gives the place of a lens that need not come and adds nothing to the others, or -1.
func (t *table) idle(lenses []int) int {
	for i, lens := range lenses {
		if t.isMust[lens] {
			continue
		}
		adds := false
		for shot, score := range t.scores[lens] {
			if score > 0 && t.bestOf(lenses, shot, i) < score {
				adds = true
				break
			}
		}
		if !adds {
			return i
		}
	}
	return -1
}

// bestOf gives the best score for a shot among the lenses but the one at place without.
func (t *table) bestOf(lenses []int, shot, without int) int32 {
	var best int32
	for i, lens := range lenses {
		if i != without {
			best = max(best, t.scores[lens][shot])
		}
	}
	return best
}

// set turns a candidate into what a caller reads, in the problem's own scores.
func (t *table) set(p *Problem, c *candidate) Set {
	s := Set{
		Lenses: c.lenses,
		Mass:   float64(c.load[onMass]) / massUnits,
		Cost:   float64(c.load[onCost]) / costUnits,
	}
	s.Swaps, s.Best = t.day(c.lenses)
	var sum, total float64
	for shot, lens := range s.Best {
		total += p.Weights[shot]
		if lens < 0 {
			s.Uncovered += p.Weights[shot]
			continue
		}
		sum += p.Weights[shot] * p.Scores[lens][shot]
	}
	if total > 0 {
		s.Mean = sum / total
	}
	return s
}

// sets turns the candidates of a podium into what a caller reads.
func (t *table) sets(p *Problem, d *podium) []Set {
	sets := make([]Set, len(d.best))
	for i := range d.best {
		sets[i] = t.set(p, &d.best[i])
	}
	return sets
}
