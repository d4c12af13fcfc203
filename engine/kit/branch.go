package kit

import "slices"

// branch is one run of branch and bound over a table of values.
type branch struct {
	pricer
	need  int64 // the weight that a set must cover to count
	floor int64 // the value from which a set is of interest
	found func(lenses []int)

	budget, nodes int   // sets that may be looked at, 0 for any number, and that were
	open          int64 // no set left out for want of budget has a higher value
}

// node is a set on the way to larger ones. Its worth and row are in the branch's values.
type node struct {
	lenses []int
	row    []int32
	worth  worth
	left   load
	prices prices
}

// Steps towards better prices: at the root, where they serve the whole search, and below,
// where they start from good ones.
const (
	rootSteps  = 80
	innerSteps = 25
)

func newBranch(t *table, values [][]int32, most int32, budget int) *branch {
	shots := len(t.weights)
	return &branch{
		pricer: pricer{table: t, values: values, most: most, rise: make([]int, shots), exact: make([]float64, shots)},
		budget: budget,
	}
}

// run looks for sets of the lenses that must come with some of the others. The prices
// start from what a good set gives.
func (b *branch) run(others, good []int) {
	root := node{lenses: b.must, left: b.limit.minus(b.base)}
	root.row, root.worth = b.rowIn(b.must)
	root.prices.shot, _ = b.rowIn(good)
	b.offer(root.lenses, root.worth)
	list := make([]priced, len(others))
	for i, lens := range others {
		list[i].lens = lens
	}
	b.expand(&root, list, rootSteps)
}

// rowIn gives the best value for each shot among the lenses, and their worth in values.
func (b *branch) rowIn(lenses []int) ([]int32, worth) {
	row := make([]int32, len(b.weights))
	var w worth
	for _, lens := range lenses {
		w = blend(row, row, b.values[lens], b.weights)
	}
	return row, w
}

// expand looks at the sets that hold a node's set and lenses of the list, each set once:
// under the first of its lenses in the order of the list.
func (b *branch) expand(n *node, list []priced, steps int) {
	room := b.size - len(n.lenses)
	if room < 1 {
		return
	}
	if room == 1 {
		copy(n.prices.shot, n.row) // exact for one lens
		steps = 0
	}
	list, ok := b.coverable(n, room, list)
	if !ok {
		return
	}
	list, ok = b.improve(&n.prices, n.row, room, n.left, list, steps, b.floor)
	if !ok {
		return
	}
	if room == 1 {
		b.last(n, list, n.prices.sum)
		return
	}
	for i, first := range list {
		bound := n.prices.sum
		for _, l := range list[i:min(i+room, len(list))] {
			bound += max(0, l.above)
		}
		if bound < b.floor {
			return
		}
		if b.spent() {
			b.open = max(b.open, bound)
			return
		}
		child := node{
			lenses: append(n.lenses[:len(n.lenses):len(n.lenses)], first.lens),
			row:    make([]int32, len(n.row)),
			left:   n.left.minus(b.loads[first.lens]),
		}
		child.worth = blend(child.row, n.row, b.values[first.lens], b.weights)
		b.nodes++
		// What is idle in a set is idle in every larger one.
		if child.worth == n.worth || b.idle(child.lenses) >= 0 {
			continue
		}
		b.offer(child.lenses, child.worth)
		var rest []priced
		for _, l := range list[i+1:] {
			if b.loads[l.lens].within(child.left) {
				rest = append(rest, l)
			}
		}
		if room == 2 {
			b.last(&child, rest, n.prices.sum+first.above)
			continue
		}
		child.prices = prices{shot: slices.Clone(n.prices.shot), each: n.prices.each}
		b.expand(&child, rest, innerSteps)
	}
}

// last looks at the sets with one lens more than a node's set, in the order of the list.
// None is worth more than sum and what its lens has above the prices that made the list.
func (b *branch) last(n *node, list []priced, sum int64) {
	bare := b.bare(n)
	next := make([]int32, len(n.row))
	for _, l := range list {
		bound := sum + l.above
		if bound < b.floor {
			return
		}
		if b.spent() {
			b.open = max(b.open, bound)
			return
		}
		b.nodes++
		if n.worth.covered+b.gain(l.lens, bare) < b.need {
			continue
		}
		if w := blend(next, n.row, b.values[l.lens], b.weights); w != n.worth {
			b.offer(append(n.lenses[:len(n.lenses):len(n.lenses)], l.lens), w)
		}
	}
}

// spent reports whether the budget is used up.
func (b *branch) spent() bool { return b.budget > 0 && b.nodes >= b.budget }

// offer hands on a set that is of interest.
func (b *branch) offer(lenses []int, w worth) {
	if w.score >= b.floor && w.covered >= b.need && b.idle(lenses) < 0 {
		b.found(lenses)
	}
}

// bare lists the shots that a node's set leaves uncovered, when it must cover more.
func (b *branch) bare(n *node) []int {
	var bare []int
	if n.worth.covered < b.need {
		for shot, value := range n.row {
			if value == 0 {
				bare = append(bare, shot)
			}
		}
	}
	return bare
}

// gain is the weight of the shots, out of some, that a lens covers.
func (b *branch) gain(lens int, shots []int) int64 {
	var gain int64
	for _, shot := range shots {
		if b.values[lens][shot] > 0 {
			gain += b.weights[shot]
		}
	}
	return gain
}

// coverable drops the lenses with which, whatever else comes, too little is covered. It
// gives false when that is so with any.
func (b *branch) coverable(n *node, room int, list []priced) ([]priced, bool) {
	bare := b.bare(n)
	if len(bare) == 0 {
		return list, true
	}
	gains := make([]int64, len(list))
	for i, l := range list {
		gains[i] = b.gain(l.lens, bare)
	}
	order := slices.Clone(gains)
	slices.Sort(order)
	others := n.worth.covered
	for _, gain := range order[max(0, len(order)-room+1):] {
		others += gain
	}
	kept := list[:0]
	for i, l := range list {
		if others+gains[i] >= b.need {
			kept = append(kept, l)
		}
	}
	return kept, len(kept) > 0
}
