package kit

// everySet looks at every set within the limits. It is the plain form that the search must
// agree with, and the fastest for a few dozen lenses.
func (t *table) everySet(p *Problem, runners int) Solution {
	found := podium{places: runners + 1}
	nodes := t.visit(&found)
	return Solution{Sets: t.sets(p, &found), Proven: true, Nodes: nodes}
}

// visit tries every set within the limits for a place on a podium, and counts them.
func (t *table) visit(found *podium) (nodes int) {
	toll := t.toll(nil)
	rows := make([][]int32, t.size+1)
	for i := range rows {
		rows[i] = make([]int32, len(t.weights))
	}
	var visit func(from int, lenses []int, w worth, left load)
	visit = func(from int, lenses []int, w worth, left load) {
		nodes++
		found.try(t, lenses, w)
		if len(lenses) == t.size {
			return
		}
		row, next := rows[len(lenses)], rows[len(lenses)+1]
		bare := bare(row)
		for i := from; i < len(t.free); i++ {
			lens := t.free[i]
			gain := excess(row, t.scores[lens], t.weights)
			// Where changes are free, a lens that adds nothing to a set adds nothing to a larger one either.
			if gain == 0 && !t.priced() || !t.loads[lens].within(left) {
				continue
			}
			if len(lenses)+1 < t.size {
				copy(next, row)
				raise(next, t.scores[lens])
			}
			visit(i+1, append(lenses, lens), worth{w.covered + t.covers(lens, bare), w.score + gain - toll.on(lens)}, left.minus(t.loads[lens]))
		}
	}
	first := rows[len(t.must)]
	copy(first, t.rowOf(t.must))
	w := t.worthOf(first)
	w.score -= toll.of(t.must)
	visit(0, append(make([]int, 0, t.size), t.must...), w, t.limit.minus(t.base))
	return nodes
}
