package kit

import (
	"iter"
	"slices"
)

// greedy picks, from the lenses that must come on, the lens that adds most until none
// adds or fits. For coverage alone it reaches at least 1-1/e of the best ("An
// analysis of approximations for maximizing submodular set functions", 1978).
func (t *table) greedy() ([]int, worth) {
	lenses := slices.Clone(t.must)
	w := t.worthOf(t.rowOf(lenses))
	for len(lenses) < t.size {
		lens, better := t.bestAddition(lenses, w)
		if lens < 0 {
			break
		}
		lenses, w = append(lenses, lens), better
	}
	return lenses, w
}

// swap exchanges one lens for a better one until no exchange helps, fills the room that
// this may leave, and takes out what has become idle.
func (t *table) swap(lenses []int, w worth) ([]int, worth) {
	lenses = slices.Clone(lenses)
	for at, unchanged := 0, 0; unchanged < len(lenses); at = (at + 1) % len(lenses) {
		unchanged++
		if t.isMust[lenses[at]] {
			continue
		}
		rest := slices.Delete(slices.Clone(lenses), at, at+1)
		if lens, better := t.bestAddition(rest, w); lens >= 0 {
			lenses[at], w = lens, better
			unchanged = 1
		}
		if len(lenses) < t.size {
			if lens, better := t.bestAddition(lenses, w); lens >= 0 {
				lenses, w = append(lenses, lens), better
				unchanged = 0
			}
		}
	}
	return t.withoutIdle(lenses), w
}

// bestAddition gives the lens that makes most of the lenses given, of those within the
// limits, and what they are then worth; -1 when none makes more than the least asked.
func (t *table) bestAddition(lenses []int, least worth) (int, worth) {
	best := -1
	for lens, w := range t.additions(t.rowOf(lenses), t.limit.minus(t.loadOf(lenses))) {
		if w.compare(least) > 0 {
			best, least = lens, w
		}
	}
	return best, least
}

// thrifty picks as greedy does, but counts a lens for less when it takes more than its share
// of the mass or the money that is left for the places that are left.
func (t *table) thrifty() ([]int, worth) {
	lenses := slices.Clone(t.must)
	row := t.rowOf(lenses)
	w := t.worthOf(row)
	for left := t.limit.minus(t.base); len(lenses) < t.size; {
		best, bestGain := -1, 0.0
		room := float64(t.size - len(lenses))
		for lens, better := range t.additions(row, left) {
			gain := float64(better.score-w.score) + scoreUnits*float64(better.covered-w.covered)
			part := 1.0
			for axis, limit := range left {
				if limit > 0 {
					part = max(part, room*float64(t.loads[lens][axis])/float64(limit))
				}
			}
			if gain /= part; gain > bestGain {
				best, bestGain = lens, gain
			}
		}
		if best < 0 {
			break
		}
		lenses = append(lenses, best)
		raise(row, t.scores[best])
		w = t.worthOf(row)
		left = left.minus(t.loads[best])
	}
	return lenses, w
}

// polish exchanges, adds and takes out lenses while the set with its changes and its money
// becomes better. Where changes are free, [table.swap] does that.
func (t *table) polish(lenses []int) []int {
	toll := t.toll(nil)
	best := t.newCandidate(lenses, t.worthOf(t.rowOf(lenses)).covered)
	for better := true; better; {
		better = false
		for set, bound := range t.around(best.lenses) {
			if bound.score -= toll.of(set); bound.compare(best.worth) <= 0 {
				continue
			}
			if c := t.newCandidate(set, bound.covered); c.worth.compare(best.worth) > 0 {
				best, better = c, true
			}
		}
	}
	return t.withoutIdle(best.lenses)
}

// around goes through the sets within the limits that differ from one by a lens more, less or other,
// with what they are worth where changes and money are free.
func (t *table) around(lenses []int) iter.Seq2[[]int, worth] {
	return func(yield func([]int, worth) bool) {
		grow := func(from []int) bool {
			for lens, w := range t.additions(t.rowOf(from), t.limit.minus(t.loadOf(from))) {
				if !slices.Contains(lenses, lens) && !yield(append(from[:len(from):len(from)], lens), w) {
					return false
				}
			}
			return true
		}
		if len(lenses) < t.size && !grow(lenses) {
			return
		}
		for i, lens := range lenses {
			if t.isMust[lens] {
				continue
			}
			rest := slices.Delete(slices.Clone(lenses), i, i+1)
			if !yield(rest, t.worthOf(t.rowOf(rest))) || !grow(rest) {
				return
			}
		}
	}
}

// withoutIdle takes out one idle lens after another.
func (t *table) withoutIdle(lenses []int) []int {
	for at := t.idle(lenses); at >= 0; at = t.idle(lenses) {
		lenses = slices.Delete(lenses, at, at+1)
	}
	return lenses
}
