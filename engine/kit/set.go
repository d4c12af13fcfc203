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

// newCandidate works out what a set that covers so much is worth.
func (t *table) newCandidate(lenses []int, covered int64) candidate {
	c := candidate{lenses: slices.Sorted(slices.Values(lenses)), load: t.loadOf(lenses)}
	c.worth.covered = covered
	c.worth.score, c.swaps = t.value(c.lenses)
	return c
}

// try enters a set that covers so much and is worth no more than the bound, if it can get a place.
func (d *podium) try(t *table, lenses []int, bound worth) {
	if !d.open(bound) || !t.priced() && t.idle(lenses) >= 0 || t.tighter != nil && !d.open(t.tighter(lenses, bound)) {
		return
	}
	if c := t.newCandidate(lenses, bound.covered); !t.priced() || d.open(c.worth) && t.idleOf(c.lenses, c.worth.score+t.money(c.lenses)) < 0 {
		d.enter(c)
	}
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

// idle gives the place of a lens that need not come and adds nothing to the others, or -1. Where
// changes cost, the day is then worth as much with the lens in the bag, all trimmed as it is.
func (t *table) idle(lenses []int) int {
	whole := int64(0)
	if t.priced() {
		t.changes.Kit(lenses)
		with, _ := t.walk(lenses, -1, nil)
		whole = with.value
	}
	return t.idleOf(lenses, whole)
}

// idleOf is idle for a set of which it is known what the day is worth with all of it.
func (t *table) idleOf(lenses []int, whole int64) int {
	for i, lens := range lenses {
		if t.isMust[lens] {
			continue
		}
		lifts, alone := t.lifts(lenses, i)
		if alone {
			continue
		}
		if t.priced() {
			without, _ := t.walk(lenses, i, nil)
			lifts = without.value < whole
		}
		if !lifts {
			return i
		}
	}
	return -1
}

// lifts reports whether the lens at a place scores more in some shot than the others, and whether it
// alone does one.
func (t *table) lifts(lenses []int, place int) (lifts, alone bool) {
	for shot, score := range t.scores[lenses[place]] {
		if score > 0 {
			others := t.bestOf(lenses, shot, place)
			if others == 0 {
				return true, true
			}
			lifts = lifts || others < score
		}
	}
	return lifts, false
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
	s.Swaps, s.Best = c.swaps, t.day(c.lenses)
	if t.changes != nil {
		t.changes.Kit(c.lenses)
	}
	var sum, total float64
	before := -1
	for shot, lens := range s.Best {
		total += p.Weights[shot]
		if lens < 0 {
			s.Uncovered += p.Weights[shot]
			continue
		}
		sum += p.Weights[shot] * p.Scores[lens][shot]
		if before >= 0 && t.changes != nil {
			s.Takes += t.changes.Between(before, slices.Index(c.lenses, s.Best[before]), shot, slices.Index(c.lenses, lens))
		}
		before = shot
	}
	if total == 0 {
		return s
	}
	value := sum
	if t.priced() {
		value -= p.Price*float64(s.Takes) + p.Charge*s.Cost
	}
	s.Mean, s.Value = sum/total, value/total
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
