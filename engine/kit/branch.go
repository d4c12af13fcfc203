package kit

import "slices"

// branch is a branch and bound over a table of values.
type branch struct {
	pricer
	others []int   // the lenses to choose from
	any    []int32 // the best score for each shot among all lenses
	reach  int64   // the weight that all lenses together cover

	need  int64 // the weight that a set must cover to count
	floor int64 // the value from which a set is of interest
	found func(lenses []int)

	// What is idle in a set is idle in every larger one, and a lens can be replaced by another
	// whatever comes beside them. Neither holds where changes cost.
	hereditary bool

	budget int   // sets that a run may look at; 0 for any number
	stop   int   // the count of nodes at which that is used up
	nodes  int   // sets looked at
	open   int64 // no set left out of the run for want of budget has a higher value
}

// node is a set on the way to larger ones. Its worth and row are in the branch's values, the worth
// less the toll.
type node struct {
	lenses []int
	row    []int32
	toll   int64
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

// rareShare is how many lenses of a list there are for each that covers a rare shot.
const rareShare = 4

func newBranch(t *table, budget int) *branch {
	b := &branch{
		pricer: newPricer(t),
		others: t.distinct(),
		budget: budget,
	}
	b.any = t.rowOf(slices.Concat(t.must, b.others))
	b.reach = t.worthOf(b.any).covered
	return b
}

// run looks for sets of the lenses that must come with some of the others. The prices
// start from what a good set gives.
func (b *branch) run(good []int) {
	b.open, b.stop = 0, b.nodes+b.budget
	shots := len(b.weights)
	root := node{lenses: b.must, left: b.limit.minus(b.base), row: rowIn(b.values, b.must, shots)}
	root.toll = b.toll.of(b.must)
	root.worth = b.worthOf(root.row)
	root.worth.score -= root.toll
	root.prices.shot = rowIn(b.values, good, shots)
	b.offer(root.lenses, root.worth)
	list := make([]priced, len(b.others))
	for i, lens := range b.others {
		list[i].lens = lens
	}
	b.expand(&root, list, rootSteps)
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
	list, ok := b.improve(&n.prices, n.row, room, n.left, list, steps, b.floor+n.toll)
	if !ok {
		return
	}
	if room == 1 {
		b.last(n, list, n.prices.sum-n.toll)
		return
	}
	if b.hereditary {
		list = b.dropReplaced(n, room, list)
	}
	firsts, rare := b.firsts(n, list)
	for _, first := range firsts {
		if first == list[0] {
			list = list[1:]
		} else {
			list = slices.DeleteFunc(list, func(l priced) bool { return l == first })
		}
		sum := n.prices.sum - n.toll + first.above
		bound := most(list, sum, room-1)
		if bound < b.floor {
			continue
		}
		if b.spent() {
			b.open = max(b.open, bound)
			continue
		}
		child := node{
			lenses: append(n.lenses[:len(n.lenses):len(n.lenses)], first.lens),
			row:    slices.Clone(n.row),
			left:   n.left.minus(b.loads[first.lens]),
			toll:   n.toll + b.toll.on(first.lens),
		}
		raise(child.row, b.values[first.lens])
		child.worth = b.worthOf(child.row)
		child.worth.score -= child.toll
		b.nodes++
		if b.hereditary && (child.worth == n.worth || b.idle(child.lenses) >= 0) {
			continue
		}
		b.offer(child.lenses, child.worth)
		others := most(list, sum, room-2)
		var rest []priced
		for _, l := range list {
			if others+l.above < b.floor {
				break
			}
			if b.loads[l.lens].within(child.left) {
				rest = append(rest, l)
			}
		}
		if room == 2 && !rare {
			b.last(&child, rest, sum)
			continue
		}
		rest, ok := b.coverable(&child, room-1, rest)
		if !ok {
			continue
		}
		child.prices = prices{shot: slices.Clone(n.prices.shot), each: n.prices.each}
		b.expand(&child, rest, innerSteps)
	}
}

// firsts lists the lenses that the sets of a node are sorted by. As a rule that is the
// whole list. Where all that can be covered must be, each set has a lens for the rarest
// shot not covered yet, and when that is rare indeed its few lenses are enough: no price
// says as clearly that one of them has to come.
func (b *branch) firsts(n *node, list []priced) (firsts []priced, rare bool) {
	firsts = slices.Clone(list)
	if b.need != b.reach {
		return firsts, false
	}
	for _, shot := range b.bare(n) {
		var covers []priced
		for _, l := range list {
			if b.values[l.lens][shot] > 0 {
				covers = append(covers, l)
			}
		}
		if len(covers) <= min(len(list)/rareShare, len(firsts)-1) {
			firsts, rare = covers, true
		}
	}
	return firsts, rare
}

// most bounds the sets with at most room lenses of a list in the order of the prices.
func most(list []priced, sum int64, room int) int64 {
	for _, l := range list[:min(room, len(list))] {
		sum += max(0, l.above)
	}
	return sum
}

// last looks at the sets with one lens more than a node's set, in the order of the list.
// None is worth more than sum plus what its lens is worth above the prices of the list.
func (b *branch) last(n *node, list []priced, sum int64) {
	bare := b.bare(n)
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
		w := worth{covered: n.worth.covered + b.covers(l.lens, bare)}
		if w.covered < b.need {
			continue
		}
		if w.score = n.worth.score + excess(n.row, b.values[l.lens], b.weights) - b.toll.on(l.lens); w.score >= b.floor {
			b.offer(append(n.lenses[:len(n.lenses):len(n.lenses)], l.lens), w)
		}
	}
}

// spent reports whether the budget is used up.
func (b *branch) spent() bool { return b.budget > 0 && b.nodes >= b.stop }

// offer hands on a set that is of interest.
func (b *branch) offer(lenses []int, w worth) {
	if w.score >= b.floor && w.covered >= b.need && (!b.hereditary || b.idle(lenses) < 0) {
		b.found(lenses)
	}
}

// bare lists the shots that a node's set leaves uncovered and others can cover, when it
// must cover more.
func (b *branch) bare(n *node) []int {
	if n.worth.covered >= b.need {
		return nil
	}
	return slices.DeleteFunc(bare(n.row), func(shot int) bool { return b.any[shot] == 0 })
}

// reached lists the shots that can be covered.
func (b *branch) reached() []int {
	shots := []int{}
	for shot, value := range b.any {
		if value > 0 {
			shots = append(shots, shot)
		}
	}
	return shots
}

// coverable drops the lenses with which too little can be covered, whatever else comes. It
// gives false when none is left.
func (b *branch) coverable(n *node, room int, list []priced) ([]priced, bool) {
	bare := b.bare(n)
	if len(bare) == 0 {
		return list, true
	}
	gains := make([]int64, len(list))
	for i, l := range list {
		gains[i] = b.covers(l.lens, bare)
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
