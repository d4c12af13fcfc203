package kit

import "cmp"

// dropReplaced drops from a node's list each lens that another of the list can replace:
// every set with the one and without the other is worse than with the other instead, and
// none with both is worth the floor. The best set of all has no such lens.
//
// A large kit needs this, because its choices hardly touch each other: where either of two
// lenses could serve the same few shots, in each of twenty places, a million sets are worth
// the same, and no bound tells them apart.
//
// The list is in the order of what is above its prices.
func (b *branch) dropReplaced(n *node, room int, list []priced) []priced {
	bound, others := most(list, n.prices.sum, room), most(list, n.prices.sum, room-1)
	level := make([]int32, len(n.row))
	var kept []priced
	for _, l := range list {
		r := replacement{node: n, list: list, old: l.lens, slack: min(bound, others+l.above) - b.floor, level: level}
		if l.above <= r.slack || !b.replaced(&r) {
			kept = append(kept, l)
		}
	}
	return kept
}

// A replacement is the question whether another lens of a node's list can replace an old
// one.
type replacement struct {
	node *node
	list []priced
	old  int

	// How far the bound on the sets with the old lens exceeds the floor. A set stays below
	// that bound by what the best value of a shot lacks of the price, and by what a second
	// lens has above the price too.
	slack int64
	level []int32 // what the best value of each shot must therefore reach
}

// replaced looks for the other lens. A lens whose values exceed their prices by no more than
// the slack cannot have enough in common with the old one.
func (b *branch) replaced(r *replacement) bool {
	for shot, price := range r.node.prices.shot {
		r.level[shot] = max(r.node.row[shot], int32(max(0, int64(price)-r.slack/b.weights[shot])))
	}
	for _, l := range r.list {
		if l.above <= r.slack {
			break
		}
		if b.precedes(l.lens, r.old) && b.replaces(r, l.lens) {
			return true
		}
	}
	return false
}

// precedes compares two lenses that two otherwise equal sets differ by, one in each. It reports
// whether the set with the first comes earlier in the order and keeps every limit that the
// other keeps.
func (t *table) precedes(one, other int) bool {
	a, b := t.loads[one], t.loads[other]
	return (t.limit[onCost] == noLimit || a[onCost] <= b[onCost]) &&
		cmp.Or(cmp.Compare(a[onMass], b[onMass]), cmp.Compare(a[onCost], b[onCost]), cmp.Compare(one, other)) < 0
}

// replaces reports whether every set with the old lens is worth more with the other one
// instead, or as much without more swaps and without an idle lens, and whether no set with
// both is worth the floor. It is sure of that only where, for each shot, both give the same,
// or the old one is never the best and the other one does not come up to the best, or the
// old one is the only best.
func (b *branch) replaces(r *replacement, lens int) bool {
	var gain, common int64
	for shot, value := range b.values[lens] {
		old, price := b.values[r.old][shot], r.node.prices.shot[shot]
		common += b.weights[shot] * int64(max(0, min(value, old)-price))
		switch {
		case value == old:
		case old == 0 || old < r.level[shot]:
			if value > old && value >= r.level[shot] {
				return false
			}
		case value == 0 || !b.onlyBest(r, lens, shot):
			return false
		default:
			gain += b.weights[shot] * int64(value-old)
		}
	}
	return gain >= 0 && common > r.slack
}

// onlyBest reports whether for a shot the old lens is better than any but the other one.
func (b *branch) onlyBest(r *replacement, other, shot int) bool {
	old := b.values[r.old][shot]
	if r.node.row[shot] >= old {
		return false
	}
	for _, l := range r.list {
		if l.lens != r.old && l.lens != other && b.values[l.lens][shot] >= old {
			return false
		}
	}
	return true
}
