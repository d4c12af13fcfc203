package kit

import (
	"cmp"
	"slices"
)

// Search proves the best set by branch and bound with prices, see [prices]. Greedy choice
// and swaps give a first set; a bound shows which lenses cannot be in a better one, and
// some can be replaced by another where changes are free, see [branch.dropReplaced]; few are
// left as a rule, and the work grows with lenses times shots. Where changes cost, the bound is on
// the scores less the least that the changes of any set take, see [table.toll], and a set whose
// bound is not beaten is worked out, see [table.walk].
//
// It goes in two stages, because covering counts above everything: first for the most
// weight that a set can cover, then for the highest mean among the sets that cover that.
// Where not all can be covered, each covered shot has a bonus in the second. It is the
// same for all sets that cover the most, so it changes nothing among them, and turns the
// bound against the others.
//
// Small problems go to a plain loop over all sets. There the runners-up are the next best
// of all sets; otherwise they are neighbours of the best, see [Solution].
type Search struct {
	NodeLimit int // sets looked at in a stage, at most; 0 for no limit
}

// Problems with so few sets go to the plain loop: of two lenses out of a hundred, say.
// Runners-up are worth more work, in sets times shots.
const (
	plainSets  = 5_100
	plainSteps = 1 << 23
)

// The second stage's bonus, in scores; and what covering is worth in the first.
const (
	coverBonus = 1
	coverUnits = 1 << 10
)

// Solve gives the best set and at most runners more. It fails with a [*LimitError] when the
// limits leave nothing to bring.
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

// Of gives a set of some lenses of a problem, whatever its limits: which is put on for each shot,
// and what that is worth. It panics on a problem without meaning, which [Search.Solve] refuses.
func Of(p *Problem, lenses []int) Set {
	t, err := newScores(p)
	if err != nil {
		panic(err)
	}
	c := t.newCandidate(lenses, t.worthOf(t.rowOf(lenses)).covered)
	return t.set(p, &c)
}

// search runs both stages and looks for runners-up around the best.
func (t *table) search(p *Problem, runners, budget int) Solution {
	good, w := t.swap(t.greedy())
	if t.limit != (load{noLimit, noLimit}) {
		if other, v := t.swap(t.thrifty()); v.compare(w) > 0 {
			good, w = other, v
		}
	}
	best, solution := t.prove(good, w, budget)
	found := podium{places: runners + 1}
	found.enter(best)
	if runners > 0 {
		solution.Neighbours = true
		t.neighbours(&best, &found)
	}
	solution.Sets = t.sets(p, &found)
	return solution
}

// prove goes through both stages from a good set, and says what it proved.
func (t *table) prove(good []int, w worth, budget int) (candidate, Solution) {
	b := newBranch(t, budget)
	coverOpen := int64(0)
	if w.covered < b.reach {
		good, w = b.covering(good, w)
		coverOpen = b.open
	}
	if t.priced() {
		good = t.polish(good)
		w = t.worthOf(t.rowOf(good))
	}
	best := b.scoring(good, w)
	solution := Solution{
		CoverGap: float64(max(0, coverOpen-best.worth.covered)) / weightUnits,
		Nodes:    b.nodes,
	}
	solution.Proven = solution.CoverGap == 0 && b.open == 0
	if b.open > 0 {
		solution.Gap = float64(b.open-b.floor) / float64(t.total) / scoreUnits
	}
	return best, solution
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

// distinct lists the free lenses without those that another can always replace: one with the
// same scores that comes earlier in the order of the objective and keeps every limit that the
// lens keeps.
func (t *table) distinct() []int {
	lenses := slices.Clone(t.free)
	if t.priced() && t.alike == nil { // lenses of the same scores may hang on the rig otherwise
		return lenses
	}
	sums := make([]int64, len(t.scores)) // equal for equal scores, and quicker to compare
	nothing := make([]int32, len(t.weights))
	for _, lens := range lenses {
		sums[lens] = excess(nothing, t.scores[lens], t.weights)
	}
	slices.SortFunc(lenses, func(a, b int) int {
		if sums[a] != sums[b] {
			return cmp.Compare(sums[a], sums[b])
		}
		return cmp.Or(
			slices.Compare(t.scores[a], t.scores[b]),
			cmp.Compare(t.loads[a][onMass], t.loads[b][onMass]),
			cmp.Compare(t.loads[a][onCost], t.loads[b][onCost]),
			cmp.Compare(a, b),
		)
	})
	last := -1
	lenses = slices.DeleteFunc(lenses, func(lens int) bool {
		if last >= 0 && slices.Equal(t.scores[last], t.scores[lens]) && t.precedes(last, lens) &&
			(!t.priced() || t.charges[last] <= t.charges[lens] && t.alike(last, lens)) {
			return true
		}
		last = lens
		return false
	})
	slices.Sort(lenses) // rows are read in the order in which they lie in memory
	return lenses
}

// covering is the first stage. From a good set it comes to one that covers the most.
func (b *branch) covering(good []int, w worth) ([]int, worth) {
	b.values, b.most = b.inUnits(func(int32) int32 { return coverUnits }), coverUnits
	b.toll, b.hereditary = toll{}, true
	b.need, b.floor = 0, (w.covered+1)*coverUnits
	b.found = func(lenses []int) {
		good, w = lenses, b.worthOf(b.rowOf(lenses))
		b.floor = (w.covered + 1) * coverUnits
		if w.covered == b.reach {
			b.floor = noLimit
		}
	}
	b.run(good)
	b.open /= coverUnits
	return b.swap(good, w)
}

// scoring is the second stage. From a good set that covers the most it comes to the best.
func (b *branch) scoring(good []int, w worth) candidate {
	bonus := int32(0)
	b.values, b.hereditary = b.scores, !b.priced()
	if w.covered < b.reach {
		bonus = coverBonus * scoreUnits
		b.values = b.withBonus(bonus)
		b.toll = b.table.toll(nil)
	} else {
		b.toll = b.table.toll(b.reached())
	}
	b.most = scoreUnits + bonus
	best := podium{places: 1}
	b.found = func(lenses []int) {
		bound := b.worthOf(b.rowOf(lenses))
		best.try(b.table, lenses, bound)
		w := best.best[0].worth
		b.need, b.floor = w.covered, w.score+int64(bonus)*w.covered
	}
	b.found(good)
	b.run(good)
	return best.best[0]
}

// withBonus gives the table of scores with a bonus for each shot that is covered.
func (t *table) withBonus(bonus int32) [][]int32 {
	return t.inUnits(func(score int32) int32 { return score + bonus })
}

// inUnits gives the table of scores in other units; 0 stays.
func (t *table) inUnits(of func(score int32) int32) [][]int32 {
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

// neighbours enters the sets that differ from one by a lens more, less or other.
func (t *table) neighbours(best *candidate, found *podium) {
	toll := t.toll(nil)
	for set, bound := range t.around(best.lenses) {
		bound.score -= toll.of(set)
		found.try(t, set, bound)
	}
}
