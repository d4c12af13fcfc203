package kit

import (
	"cmp"
	"slices"
)

// Search proves the best set by branch and bound with prices, see [prices]. Greedy choice
// and swaps give a first set; a bound shows which lenses cannot be in a better one; few
// are left as a rule, and the work grows with lenses times shots.
//
// It goes in two stages, because covering counts above everything: first for the most
// weight that a set can cover, then for the highest mean among the sets that cover that.
// In the second each covered shot has a bonus. It is the same for all sets that cover the
// most, so it changes nothing among them, and turns the bound against the others.
//
// Small problems go to the loop of [Exhaustive]. There the runners-up are the next best
// of all sets; otherwise they are neighbours of the best, see [Solution].
type Search struct {
	NodeLimit int // sets looked at in a stage, at most; 0 for no limit
}

// Problems with so few sets go to the plain loop: of two lenses out of a hundred, say.
// Runners-up are worth more work, in sets times shots.
const (
	plainSets  = 5_100
	plainSteps = 1 << 24
)

// The second stage's bonus, in scores; and what covering is worth in the first.
const (
	coverBonus = 1
	coverUnits = 1 << 10
)

// Solve gives the best set and runners more.
func (s Search) Solve(p *Problem, runners int) (Solution, error) {
	t, err := newTable(p)
	if err != nil {
		return Solution{}, err
	}
	if sets := t.sizes(); sets <= plainSets || runners > 0 && sets <= plainSteps/max(1, len(t.weights)) {
		return t.everySet(p, runners), nil
	}
	return t.search(p, runners, s.NodeLimit), nil
}

// search runs both stages and looks for runners-up around the best.
func (t *table) search(p *Problem, runners, budget int) Solution {
	others := t.distinct()
	good, w := t.greedy()
	good, w = t.swap(good, w)

	good, w, covering := t.coverage(others, good, w, budget)
	best, scoring := t.scoring(others, good, w, budget)
	solution := Solution{
		Proven:   covering.open == 0 && scoring.open == 0,
		CoverGap: float64(max(0, covering.open/coverUnits-best.worth.covered)) / weightUnits,
		Nodes:    covering.nodes + scoring.nodes,
	}
	if scoring.open > 0 {
		solution.Gap = float64(scoring.open-scoring.floor) / float64(t.total) / scoreUnits
	}
	found := podium{places: runners + 1}
	found.enter(best)
	if runners > 0 {
		solution.Neighbours = true
		t.neighbours(&best, &found)
	}
	solution.Sets = t.sets(p, &found)
	return solution
}

// sizes counts the sets up to the size, or gives a number above all limits.
func (t *table) sizes() int {
	sets, ofSize := 1, 1
	for i := range t.size - len(t.must) {
		ofSize = ofSize * (len(t.free) - i) / (i + 1)
		sets += ofSize
		if sets > plainSteps {
			break
		}
	}
	return sets
}

// distinct lists the free lenses less those that another can stand in for everywhere:
// same scores, no heavier, no dearer, and before it in the order of the objective.
func (t *table) distinct() []int {
	lenses := slices.Clone(t.free)
	slices.SortFunc(lenses, func(a, b int) int {
		return cmp.Or(
			slices.Compare(t.scores[a], t.scores[b]),
			cmp.Compare(t.loads[a][onMass], t.loads[b][onMass]),
			cmp.Compare(t.loads[a][onCost], t.loads[b][onCost]),
			cmp.Compare(a, b),
		)
	})
	last := -1
	return slices.DeleteFunc(lenses, func(lens int) bool {
		if last >= 0 && slices.Equal(t.scores[last], t.scores[lens]) &&
			(t.limit[onCost] == noLimit || t.loads[last][onCost] <= t.loads[lens][onCost]) {
			return true
		}
		last = lens
		return false
	})
}

// values gives the table of scores in other units; 0 stays.
func (t *table) values(of func(score int32) int32) [][]int32 {
	values := make([][]int32, len(t.scores))
	shots := len(t.weights)
	cells := make([]int32, len(t.scores)*shots)
	for lens, row := range t.scores {
		values[lens] = cells[lens*shots : (lens+1)*shots : (lens+1)*shots]
		for shot, score := range row {
			if score > 0 {
				values[lens][shot] = of(score)
			}
		}
	}
	return values
}

// coverage is the first stage. From a good set it comes to one that covers the most.
func (t *table) coverage(others, good []int, w worth, budget int) ([]int, worth, *branch) {
	_, reach := t.rowOf(slices.Concat(t.must, others))
	b := newBranch(t, nil, coverUnits, budget)
	if w.covered == reach.covered {
		return good, w, b
	}
	b.values = t.values(func(int32) int32 { return coverUnits })
	b.floor = (w.covered + 1) * coverUnits
	b.found = func(lenses []int) {
		good = lenses
		_, w = t.rowOf(lenses)
		b.floor = (w.covered + 1) * coverUnits
		if w.covered == reach.covered {
			b.floor = noLimit
		}
	}
	b.run(others, good)
	good, w = t.swap(good, w)
	return good, w, b
}

// scoring is the second stage. From a good set that covers the most it comes to the best.
func (t *table) scoring(others, good []int, w worth, budget int) (candidate, *branch) {
	const bonus = coverBonus * scoreUnits
	b := newBranch(t, t.values(func(score int32) int32 { return score + bonus }), scoreUnits+bonus, budget)
	var best podium
	best.places = 1
	enter := func(lenses []int, w worth) {
		best.enter(t.newCandidate(lenses, w))
		w = best.best[0].worth
		b.need, b.floor = w.covered, w.score+bonus*w.covered
	}
	enter(good, w)
	b.found = func(lenses []int) {
		_, w := t.rowOf(lenses)
		enter(lenses, w)
	}
	b.run(others, good)
	return best.best[0], b
}

// neighbours enters the sets that differ from one by a lens more, less or other.
func (t *table) neighbours(best *candidate, found *podium) {
	enter := func(lenses []int, w worth) {
		if found.open(w) && t.idle(lenses) < 0 {
			found.enter(t.newCandidate(lenses, w))
		}
	}
	next := make([]int32, len(t.weights))
	grow := func(lenses []int) {
		row, _ := t.rowOf(lenses)
		left := t.limit.minus(t.loadOf(lenses))
		for _, lens := range t.free {
			if t.loads[lens].within(left) && !slices.Contains(best.lenses, lens) {
				enter(append(lenses[:len(lenses):len(lenses)], lens), t.add(next, row, lens))
			}
		}
	}
	if len(best.lenses) < t.size {
		grow(best.lenses)
	}
	for i, lens := range best.lenses {
		if !t.isMust[lens] {
			rest := slices.Delete(slices.Clone(best.lenses), i, i+1)
			_, w := t.rowOf(rest)
			enter(rest, w)
			grow(rest)
		}
	}
}
