package kit

import (
	"cmp"
	"math"
	"slices"
)

// candidate is a set under comparison.
type candidate struct {
	lenses []int
	value  int64
	swaps  int
	mass   float64
	cost   float64
}

// compare orders candidates, best first. Sets that are equal in every respect are
// ordered by their lenses, so that the answer does not depend on the way of the search.
func compare(a, b *candidate) int {
	return cmp.Or(
		cmp.Compare(b.value, a.value),
		cmp.Compare(a.swaps, b.swaps),
		cmp.Compare(a.mass, b.mass),
		cmp.Compare(a.cost, b.cost),
		cmp.Compare(len(a.lenses), len(b.lenses)),
		slices.Compare(a.lenses, b.lenses),
	)
}

// value sums, over the shots, the best value among the lenses.
func (t *table) valueOf(lenses []int) int64 {
	var sum int64
	for shot := range t.weights {
		var best int64
		for _, lens := range lenses {
			best = max(best, t.value[lens][shot])
		}
		sum += best
	}
	return sum
}

// complete fills in what a set is worth beside its value.
func (p *Problem) complete(t *table, c *candidate) {
	c.mass, c.cost = p.load(c.lenses)
	c.swaps, _ = t.day(c.lenses)
}

// load gives mass and cost of a set; an unknown mass counts as none.
func (p *Problem) load(lenses []int) (mass, cost float64) {
	for _, lens := range lenses {
		if p.Mass != nil && !math.IsNaN(p.Mass[lens]) {
			mass += p.Mass[lens]
		}
		if p.Cost != nil && !math.IsNaN(p.Cost[lens]) {
			cost += p.Cost[lens]
		}
	}
	return mass, cost
}

// limitSlack keeps sums of decimal masses and prices that meet a limit exactly within it.
const limitSlack = 1e-9

// allowed reports whether a set keeps within the limits.
func (p *Problem) allowed(lenses []int) bool {
	mass, cost := p.load(lenses)
	return (p.MaxMass <= 0 || mass <= p.MaxMass+limitSlack) && (p.MaxCost < 0 || cost <= p.MaxCost+limitSlack)
}

// day goes through the shots in order with a set, giving each the lens that scores best
// there, and counts the changes. Where several score the same it stays with the lens
// that is on, or takes the one that will be wanted longest: the fewest changes over the
// day, by a dynamic programme over the lens that is on. Uncovered shots change nothing.
func (t *table) day(lenses []int) (swaps int, used []int) {
	shots := len(t.weights)
	used = make([]int, shots)
	const never = math.MaxInt32
	cost := make([]int, len(lenses)) // fewest swaps so far with that lens on
	from := make([][]int, shots)     // the place of the lens that was on before
	for shot := range shots {
		var best int64
		for _, lens := range lenses {
			best = max(best, t.value[lens][shot])
		}
		from[shot] = make([]int, len(lenses))
		cheapest := 0
		for i := range lenses {
			if cost[i] < cost[cheapest] {
				cheapest = i
			}
		}
		next := make([]int, len(lenses))
		for i, lens := range lenses {
			from[shot][i] = i
			next[i] = cost[i]
			if best == 0 {
				continue
			}
			if t.value[lens][shot] != best {
				next[i] = never
				continue
			}
			if cost[cheapest] != never && cost[cheapest]+1 < cost[i] {
				next[i], from[shot][i] = cost[cheapest]+1, cheapest
			}
		}
		cost = next
	}
	if len(lenses) == 0 {
		for shot := range used {
			used[shot] = -1
		}
		return 0, used
	}
	on := 0
	for i := range lenses {
		if cost[i] < cost[on] {
			on = i
		}
	}
	swaps = cost[on]
	for shot := shots - 1; shot >= 0; shot-- {
		used[shot] = lenses[on]
		if t.bestOf(lenses, shot) == 0 {
			used[shot] = -1
		}
		on = from[shot][on]
	}
	return swaps, used
}

func (t *table) bestOf(lenses []int, shot int) int64 {
	var best int64
	for _, lens := range lenses {
		best = max(best, t.value[lens][shot])
	}
	return best
}

// set turns a candidate into what a caller reads, in the problem's own scores.
func (p *Problem) set(t *table, c *candidate) Set {
	s := Set{Lenses: c.lenses, Swaps: c.swaps, Mass: c.mass, Cost: c.cost}
	_, s.Best = t.day(c.lenses)
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
