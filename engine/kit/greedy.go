package kit

import "slices"

// greedy picks, from the lenses that must come on, the lens that adds most until none
// adds or fits. For coverage alone it reaches at least 1-1/e of the best (Nemhauser,
// Wolsey and Fisher 1978, An analysis of approximations for maximizing submodular set
// functions).
func (t *table) greedy() ([]int, worth) {
	lenses := slices.Clone(t.must)
	_, w := t.rowOf(lenses)
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
	for at := t.idle(lenses); at >= 0; at = t.idle(lenses) {
		lenses = slices.Delete(lenses, at, at+1)
	}
	return lenses, w
}

// bestAddition gives the lens that makes most of the lenses given, of those within the
// limits, and what they are then worth; -1 when none makes more than the least asked.
func (t *table) bestAddition(lenses []int, least worth) (int, worth) {
	row, _ := t.rowOf(lenses)
	next := make([]int32, len(row))
	left := t.limit.minus(t.loadOf(lenses))
	best := -1
	for _, lens := range t.free {
		if !t.loads[lens].within(left) {
			continue
		}
		if w := t.add(next, row, lens); w.compare(least) > 0 {
			best, least = lens, w
		}
	}
	return best, least
}
