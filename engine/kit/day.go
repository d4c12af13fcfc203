package kit

// A state of a day is the best way to have a lens on.
type state struct {
	possible bool
	value    int64
	swaps    int
}

// better reports whether a way is worth more, or as much with fewer changes of lens.
func (s state) better(o state) bool {
	return s.possible && (!o.possible || s.value > o.value || s.value == o.value && s.swaps < o.swaps)
}

// walk goes through the shots in order with a set, giving each the lens with which the day is worth
// most, and then has the fewest changes of lens: a shortest path over the shots and the lenses that
// are on, for which [Changes] must be told the set. A lens that scores less stays on where a change
// costs more than it brings. The lens at place without stays in the bag, -1 for none. Before, when
// not nil, takes the place of the lens that was on before, for each shot and place.
//
// Uncovered shots change nothing. Of equal ways the one that stays with the lens counts, and then
// the first lens.
func (t *table) walk(lenses []int, without int, before []int) (end state, on int) {
	width := len(lenses)
	if cap(t.ways) < 2*width {
		t.ways = make([]state, 2*width)
	}
	now, next := t.ways[:width], t.ways[width:2*width]
	for i := range now {
		now[i] = state{possible: i != without}
	}
	last := -1 // the shot before that is done
	for shot, weight := range t.weights {
		done := false
		for i, lens := range lenses {
			next[i] = state{}
			score := t.scores[lens][shot]
			if score == 0 || i == without {
				continue
			}
			done = true
			best, from := t.after(now[i], last, i, shot, i), i
			for j := range lenses {
				if j == i {
					continue
				}
				if way := t.after(now[j], last, j, shot, i); way.better(best) {
					best, from = way, j
				}
			}
			best.value += weight * int64(score)
			next[i] = best
			if before != nil {
				before[shot*width+i] = from
			}
		}
		if done {
			now, next, last = next, now, shot
		} else if before != nil {
			for i := range lenses {
				before[shot*width+i] = i
			}
		}
	}
	for i := range now {
		if now[i].better(end) {
			end, on = now[i], i
		}
	}
	return end, on
}

// after gives a way on to a lens in a shot; last is the shot done before, -1 for none.
func (t *table) after(way state, last, lens, shot, other int) state {
	if !way.possible || last < 0 {
		way.possible = way.possible && lens == other // the first set-up is made before the day
		return way
	}
	if lens != other {
		way.swaps++
	}
	if t.priced() {
		way.value -= t.each * int64(t.changes.Between(last, lens, shot, other))
	}
	return way
}

// value gives what a set is worth less its changes and its money, and its changes of lens.
func (t *table) value(lenses []int) (v int64, swaps int) {
	if t.priced() {
		t.changes.Kit(lenses)
	}
	end, _ := t.walk(lenses, -1, nil)
	return end.value - t.money(lenses), end.swaps
}

// day gives each shot its lens, -1 where none does it, as [table.walk] does.
func (t *table) day(lenses []int) (used []int) {
	used = make([]int, len(t.weights))
	width := len(lenses)
	if t.priced() {
		t.changes.Kit(lenses)
	}
	before := make([]int, width*len(t.weights))
	_, on := t.walk(lenses, -1, before)
	for shot := len(t.weights) - 1; shot >= 0; shot-- {
		used[shot] = -1
		if width == 0 {
			continue
		}
		if t.scores[lenses[on]][shot] > 0 {
			used[shot] = lenses[on]
		}
		on = before[shot*width+on]
	}
	return used
}
