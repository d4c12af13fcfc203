package kit

// Exhaustive looks at every set. It is the plain form that any other solver must agree
// with, and the fastest for a few dozen lenses.
type Exhaustive struct{}

// Solve gives the best set and runners more.
func (Exhaustive) Solve(p *Problem, runners int) (Solution, error) {
	t, err := newTable(p)
	if err != nil {
		return Solution{}, err
	}
	return t.everySet(p, runners), nil
}

// everySet is the plain loop over all sets within the limits.
func (t *table) everySet(p *Problem, runners int) Solution {
	found := podium{places: runners + 1}
	nodes := 0
	rows := make([][]int32, t.size+1)
	for i := range rows {
		rows[i] = make([]int32, len(t.weights))
	}
	var visit func(from int, lenses []int, row []int32, w worth, spent load)
	visit = func(from int, lenses []int, row []int32, w worth, spent load) {
		nodes++
		if found.open(w) && t.idle(lenses) < 0 {
			found.enter(t.newCandidate(lenses, w))
		}
		if len(lenses) == t.size {
			return
		}
		next := rows[len(lenses)+1]
		for i := from; i < len(t.free); i++ {
			lens := t.free[i]
			sum := spent.plus(t.loads[lens])
			if !sum.within(t.limit) {
				continue
			}
			// A lens that adds nothing to a set adds nothing to a larger one either.
			if better := t.add(next, row, lens); better != w {
				visit(i+1, append(lenses, lens), next, better, sum)
			}
		}
	}
	row, w := t.rowOf(t.must)
	visit(0, append(make([]int, 0, t.size), t.must...), row, w, t.base)
	return Solution{Sets: t.sets(p, &found), Proven: true, Nodes: nodes}
}
