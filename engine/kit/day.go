package kit

import "math"

// day goes through the shots in order with a set, giving each the lens that scores best
// there, and counts the changes. Where several score the same it stays with the lens
// that is on, or takes the one that will be wanted longest: the fewest changes over the
// day, by a dynamic programme over the lens that is on. Uncovered shots change nothing,
// and are given to no lens (-1).
func (t *table) day(lenses []int) (swaps int, used []int) {
	used = make([]int, len(t.weights))
	if len(lenses) == 0 {
		for shot := range used {
			used[shot] = -1
		}
		return 0, used
	}
	const never = math.MaxInt
	width := len(lenses)
	swapsTo := make([]int, width)               // fewest swaps so far with that lens on
	before := make([]int, width*len(t.weights)) // the place of the lens that was on before
	fewest := func() int {
		on := 0
		for i := range swapsTo {
			if swapsTo[i] < swapsTo[on] {
				on = i
			}
		}
		return on
	}
	for shot := range t.weights {
		best := t.bestOf(lenses, shot, -1)
		from := fewest()
		least := swapsTo[from]
		for i, lens := range lenses {
			before[shot*width+i] = i
			switch {
			case best == 0:
			case t.scores[lens][shot] != best:
				swapsTo[i] = never
			case least+1 < swapsTo[i]:
				swapsTo[i] = least + 1
				before[shot*width+i] = from
			}
		}
	}
	on := fewest()
	swaps = swapsTo[on]
	for shot := len(t.weights) - 1; shot >= 0; shot-- {
		used[shot] = lenses[on]
		if t.bestOf(lenses, shot, -1) == 0 {
			used[shot] = -1
		}
		on = before[shot*width+on]
	}
	return swaps, used
}
