package kit

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// priced is a lens that may still come, with what it is worth above the prices.
type priced struct {
	lens  int
	above int64
}

// prices bound what a set can still become. A price for each shot, not below the best
// value that the set already gives there, stands in for the lenses that are missing: for
// any lenses R within the limits,
//
//	value(set with R) <= sum of prices + sum over R of above,
//	above(lens) = sum over the shots of what the lens gives above the price, less its toll,
//
// and each limit has a price too, which is asked for the whole of what is left of it and
// given back to each lens by its share. Lower prices cost less and let lenses rise above
// them; the least bound lies where, shot by shot, one lens of the best R is above.
// Prices are whole and shares are rounded down, so the bound holds exactly.
type prices struct {
	shot []int32 // for a unit of weight
	each [2]float64
	sum  int64 // the part of the bound that does not depend on the lenses
}

// pricer looks for good prices by subgradient steps, each of which keeps on in part in the
// direction of those before it ("On improving relaxation methods by modified gradient
// techniques", 1975): the plain ones go from side to side of the valley that leads down. One serves a whole search.
type pricer struct {
	*table
	values [][]int32 // lens, shot
	toll   toll      // what sets pay beside their values
	most   int32     // no value is greater
	top    []int     // places of the best lenses, best first
	rise   []int     // how many of them are above the price of a shot
	exact  []float64 // the price of a shot times its weight, before rounding

	// The direction of the last step.
	shotWay []float64
	eachWay [2]float64
}

func newPricer(t *table) pricer {
	shots := len(t.weights)
	return pricer{table: t, rise: make([]int, shots), exact: make([]float64, shots), shotWay: make([]float64, shots)}
}

// mostAsked bounds the price of a limit, so that sums cannot overflow.
const mostAsked = 1 << 60

// keep is how much of the direction of the step before a step keeps.
const keep = 0.7

// stallSteps is how many steps may fail to lower the bound before they get shorter.
const stallSteps = 4

// improve lowers the bound over sets of at most room lenses from the list, above the row
// that the set gives already, in some steps, and drops from the list every lens that
// cannot be in a set worth at least floor. It gives false when there is no such set.
// The list it gives is in the order of what is above the prices, best first.
func (s *pricer) improve(pr *prices, row []int32, room int, left load, list []priced, steps int, floor int64) ([]priced, bool) {
	for shot, value := range row {
		pr.shot[shot] = max(pr.shot[shot], value)
		s.exact[shot] = float64(pr.shot[shot]) * float64(s.weights[shot])
	}
	best, least := prices{shot: slices.Clone(pr.shot)}, int64(math.MaxInt64)
	clear(s.shotWay)
	s.eachWay = [2]float64{}
	length, stalled := 1.0, 0
	for step := 0; ; step++ {
		s.price(pr, left, list)
		bound, atMost := s.topOf(pr, room, list)
		if bound < floor {
			return nil, false
		}
		if bound < least {
			copy(best.shot, pr.shot)
			best.each, least, stalled = pr.each, bound, 0
		} else if stalled++; stalled == stallSteps {
			length, stalled = length/2, 0
		}
		done := step == steps || bound == floor || !s.step(pr, row, left, list, length*float64(bound-floor))
		list = slices.DeleteFunc(list, func(l priced) bool { return atMost+l.above < floor })
		if done {
			if bound > least {
				*pr = best
				s.price(pr, left, list)
			}
			break
		}
	}
	slices.SortFunc(list, func(a, b priced) int {
		return cmp.Or(cmp.Compare(b.above, a.above), cmp.Compare(a.lens, b.lens))
	})
	return list, true
}

// price works out the bound's parts for the prices as they are.
func (s *pricer) price(pr *prices, left load, list []priced) {
	pr.sum = 0
	for shot, price := range pr.shot {
		pr.sum += s.weights[shot] * int64(price)
	}
	var asked load
	for axis := range asked {
		if s.limit[axis] != noLimit && left[axis] > 0 {
			asked[axis] = int64(min(mostAsked, math.Round(pr.each[axis]*float64(left[axis]))))
			pr.sum += asked[axis]
		}
	}
	for i := range list {
		l := &list[i]
		l.above = excess(pr.shot, s.values[l.lens], s.weights) - s.toll.on(l.lens)
		for axis, price := range asked {
			if price > 0 {
				high, low := bits.Mul64(uint64(price), uint64(s.loads[l.lens][axis]))
				back, _ := bits.Div64(high, low, uint64(left[axis]))
				l.above -= int64(back)
			}
		}
	}
}

// topOf finds the lenses that make the bound. It gives the bound, and the bound less what
// one lens adds to it: what any other lens may be added to.
func (s *pricer) topOf(pr *prices, room int, list []priced) (bound, atMost int64) {
	s.top = s.top[:0]
	for i := range list {
		above := list[i].above
		if above <= 0 || (len(s.top) == room && above <= list[s.top[room-1]].above) {
			continue
		}
		at, _ := slices.BinarySearchFunc(s.top, above, func(place int, above int64) int {
			return cmp.Compare(above, list[place].above)
		})
		if len(s.top) == room {
			s.top = s.top[:room-1]
		}
		s.top = slices.Insert(s.top, at, i)
	}
	bound = pr.sum
	for _, place := range s.top {
		bound += list[place].above
	}
	atMost = bound
	if len(s.top) == room {
		atMost -= list[s.top[room-1]].above
	}
	return bound, atMost
}

// step moves the prices against the subgradient of the bound and on in the direction of
// the step before, by the length that would close the distance were the bound linear. It
// gives false where the bound is least.
// The price of a limit weighs against the values of all shots together, so its step is
// longer than a shot's by their number.
func (s *pricer) step(pr *prices, row []int32, left load, list []priced, distance float64) bool {
	clear(s.rise)
	var used load
	for _, place := range s.top {
		lens := list[place].lens
		used = used.plus(s.loads[lens])
		for shot, value := range s.values[lens] {
			if value > pr.shot[shot] {
				s.rise[shot]++
			}
		}
	}
	var square float64
	for shot, rise := range s.rise {
		if rise == 0 && pr.shot[shot] == row[shot] {
			s.shotWay[shot] = 0
			continue
		}
		way := float64(rise-1) + keep*s.shotWay[shot]
		s.shotWay[shot] = way
		square += way * way
	}
	for axis, before := range s.eachWay {
		s.eachWay[axis] = 0
		if s.limit[axis] == noLimit || left[axis] == 0 {
			continue
		}
		share := 1 - float64(used[axis])/float64(left[axis])
		if share < 0 || pr.each[axis] > 0 {
			way := share + keep*before
			s.eachWay[axis] = way
			square += float64(len(s.weights)) * way * way
		}
	}
	if square == 0 {
		return false
	}
	length := distance / square
	for shot, way := range s.shotWay {
		weight := float64(s.weights[shot])
		exact := s.exact[shot] + length*way
		s.exact[shot] = min(max(exact, float64(row[shot])*weight), float64(s.most)*weight)
		pr.shot[shot] = int32(math.Round(s.exact[shot] / weight))
	}
	for axis, way := range s.eachWay {
		if way != 0 {
			pr.each[axis] = max(0, pr.each[axis]-length*float64(len(s.weights))*way/float64(left[axis]))
		}
	}
	return true
}
