package merge

import (
	"cmp"
	"slices"

	"glassbrief/engine/textdiff"
)

// mostMoved bounds how many things both sides together may move before their moves are no longer
// compared, which takes time by the square: then all that moved is apart.
const mostMoved = 3000

// An ordering is the merged order of what both sides keep. Things are known by their places in the
// order that both come from.
type ordering struct {
	merged []int
	apart  []int // what the sides put in different places; not in merged
	// Of each thing, whether a side moved it.
	byOurs, byTheirs []bool
}

// Order merges two new orders of things that are known by their places in the old one. It is false where
// the sides put something in different places.
func Order(ours, theirs []int) (merged []int, ok bool) {
	o := order(ours, theirs)
	return o.merged, len(o.apart) == 0
}

// order merges two new orders of things. A pair that one side alone turns round is turned round. A
// thing that both move must come to the same place. Moves that contradict each other, so that no
// order has all pairs as they should be, leave what they move apart.
func order(ours, theirs []int) ordering {
	var o ordering
	o.byTheirs = moved(theirs, moved(ours, make([]bool, len(ours))))
	o.byOurs = moved(ours, o.byTheirs)
	switch {
	case !slices.Contains(o.byTheirs, true) || slices.Equal(ours, theirs):
		o.merged = ours
		return o
	case !slices.Contains(o.byOurs, true):
		o.merged = theirs
		return o
	}
	m := mover{ordering: o, ours: places(ours), theirs: places(theirs)}
	slotOurs, slotTheirs := m.slots(ours), m.slots(theirs)
	var staying, movers []int
	slot := make([]int, len(ours))
	apart := make([]bool, len(ours))
	for x := range ours {
		if m.stays(x) {
			staying = append(staying, x)
			continue
		}
		movers = append(movers, x)
		slot[x] = slotOurs[x]
		if !o.byOurs[x] {
			slot[x] = slotTheirs[x]
		}
		apart[x] = o.byOurs[x] && o.byTheirs[x] && slotOurs[x] != slotTheirs[x]
	}
	if len(movers) > mostMoved {
		for _, x := range movers {
			apart[x] = true
		}
	}
	keep := slices.DeleteFunc(slices.Clone(movers), func(x int) bool { return apart[x] })
	m.sort(keep, slot)
	for i, x := range keep {
		for _, y := range keep[i+1:] {
			if !m.before(x, y) {
				apart[x], apart[y] = true, true
			}
		}
	}
	for _, x := range movers {
		if apart[x] {
			o.apart = append(o.apart, x)
		}
	}
	for i := range len(staying) + 1 {
		for ; len(keep) > 0 && slot[keep[0]] == i; keep = keep[1:] {
			if !apart[keep[0]] {
				o.merged = append(o.merged, keep[0])
			}
		}
		if i < len(staying) {
			o.merged = append(o.merged, staying[i])
		}
	}
	return o
}

// A mover looks at what moves in two orders.
type mover struct {
	ordering
	ours, theirs []int // the places of things in both orders
}

func (m *mover) stays(x int) bool { return !m.byOurs[x] && !m.byTheirs[x] }

// slots gives for each thing behind how many that stay it stands in an order.
func (m *mover) slots(order []int) []int {
	slot, count := make([]int, len(order)), 0
	for _, x := range order {
		slot[x] = count
		if m.stays(x) {
			count++
		}
	}
	return slot
}

// before reports whether of two things the first comes before the second in the merged order.
func (m *mover) before(x, y int) bool {
	ours, theirs := m.ours[x] < m.ours[y], m.theirs[x] < m.theirs[y]
	if ours == theirs {
		return ours
	}
	return x > y // one side turned them round
}

// sort orders things by their slots, and in a slot by how many others there they come before: if
// there is an order that has all pairs as they should be, this is it.
func (m *mover) sort(things, slot []int) {
	slices.SortFunc(things, func(x, y int) int { return cmp.Or(slot[x]-slot[y], x-y) })
	for len(things) > 0 {
		n := 1
		for n < len(things) && slot[things[n]] == slot[things[0]] {
			n++
		}
		group := things[:n]
		first := make(map[int]int, n)
		for i, x := range group {
			for _, y := range group[i+1:] {
				if m.before(x, y) {
					first[x]++
				} else {
					first[y]++
				}
			}
		}
		slices.SortStableFunc(group, func(x, y int) int { return first[y] - first[x] })
		things = things[n:]
	}
}

// moved says of each thing whether an order moved it: the fewest that it must have, and of as few those
// that the other order moved. Two neighbours that changed places say not which of them was meant.
func moved(order []int, byOther []bool) []bool {
	moved := make([]bool, len(order))
	for i := range moved {
		moved[i] = true
	}
	weight := func(i int) int {
		if byOther[order[i]] {
			return 2*len(order) - 1
		}
		return 2 * len(order)
	}
	for _, at := range textdiff.Rising(order, weight) {
		moved[order[at]] = false
	}
	return moved
}

// places gives the place of each thing in an order.
func places(order []int) []int {
	place := make([]int, len(order))
	for i, x := range order {
		place[x] = i
	}
	return place
}
