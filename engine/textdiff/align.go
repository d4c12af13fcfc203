package textdiff

import "slices"

// mostPairs bounds the table in which two lists without a line that stands once in each are
// compared; longer ones have nothing in common then.
const mostPairs = 1 << 20

// Align matches equal entries of two lists in their order: for each of a its place in b, or -1.
// What is unique in both is matched first, so that a moved block is not torn apart.
func Align(a, b []string) []int {
	numbers := map[string]int{}
	numbered := func(list []string) []int {
		out := make([]int, len(list))
		for i, text := range list {
			n, ok := numbers[text]
			if !ok {
				n = len(numbers)
				numbers[text] = n
			}
			out[i] = n
		}
		return out
	}
	at := make([]int, len(a))
	for i := range at {
		at[i] = -1
	}
	alignRange(numbered(a), numbered(b), 0, 0, at)
	return at
}

// alignRange matches a with b, which begin at the given places of the whole lists.
func alignRange(a, b []int, atA, atB int, at []int) {
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		at[atA] = atB
		a, b, atA, atB = a[1:], b[1:], atA+1, atB+1
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		at[atA+len(a)-1] = atB + len(b) - 1
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	if len(a) == 0 || len(b) == 0 {
		return
	}
	anchorsA, anchorsB := anchors(a, b)
	if len(anchorsA) == 0 {
		alignTable(a, b, atA, atB, at)
		return
	}
	fromA, fromB := 0, 0
	for i := range anchorsA {
		at[atA+anchorsA[i]] = atB + anchorsB[i]
		alignRange(a[fromA:anchorsA[i]], b[fromB:anchorsB[i]], atA+fromA, atB+fromB, at)
		fromA, fromB = anchorsA[i]+1, anchorsB[i]+1
	}
	alignRange(a[fromA:], b[fromB:], atA+fromA, atB+fromB, at)
}

// anchors gives the places of entries that stand once in each of two lists, as many as have one
// order in both.
func anchors(a, b []int) (inA, inB []int) {
	place := map[int][2]int{} // of an entry that stands once: places in a and b, counted from 1
	once := func(list []int, side int) {
		for i, n := range list {
			p := place[n]
			if p[side] != 0 {
				p[side] = -1
			} else {
				p[side] = i + 1
			}
			place[n] = p
		}
	}
	once(a, 0)
	once(b, 1)
	var candidates, order []int
	for i, n := range a {
		if p := place[n]; p[0] > 0 && p[1] > 0 {
			candidates, order = append(candidates, i), append(order, p[1]-1)
		}
	}
	for _, i := range Rising(order, func(int) int { return 1 }) {
		inA, inB = append(inA, candidates[i]), append(inB, order[i])
	}
	return inA, inB
}

// Rising gives the places of the rising run in a list of different numbers that weighs most, with the
// weight of each place.
func Rising(list []int, weight func(int) int) []int {
	type run struct{ last, weight int }                                      // place of its last number, counted from 1
	best := make([]run, slices.Max(append(list[:len(list):len(list)], 0))+2) // a tree over the numbers
	before := make([]int, len(list))                                         // as last
	most := run{}
	for i, n := range list {
		var r run
		for k := n; k > 0; k &= k - 1 { // of those that end below n
			if best[k].weight > r.weight {
				r = best[k]
			}
		}
		before[i] = r.last
		r = run{i + 1, r.weight + weight(i)}
		for k := n + 1; k < len(best); k += k & -k {
			if r.weight > best[k].weight {
				best[k] = r
			}
		}
		if r.weight > most.weight {
			most = r
		}
	}
	var places []int
	for last := most.last; last > 0; last = before[last-1] {
		places = append(places, last-1)
	}
	slices.Reverse(places)
	return places
}

// alignTable matches as many entries as can be, by a table of all pairs.
func alignTable(a, b []int, atA, atB int, at []int) {
	if len(a) > mostPairs/len(b) {
		return
	}
	width := len(b) + 1
	common := make([]int32, (len(a)+1)*width) // most matches behind each pair of places
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			switch {
			case a[i] == b[j]:
				common[i*width+j] = common[(i+1)*width+j+1] + 1
			default:
				common[i*width+j] = max(common[(i+1)*width+j], common[i*width+j+1])
			}
		}
	}
	for i, j := 0, 0; i < len(a) && j < len(b); {
		switch {
		case a[i] == b[j]:
			at[atA+i] = atB + j
			i, j = i+1, j+1
		case common[(i+1)*width+j] >= common[i*width+j+1]:
			i++
		default:
			j++
		}
	}
}
