package balance

import "math"

// FromDrops gives what two timed drops tell about a sled or anything else that swings in
// a gimbal: the moment of its mass below the gimbal, in kg m, and its moment of inertia,
// in kg m². The first drop is timed as it is, the second with a small known mass, in kg,
// fixed at a depth below the gimbal, in metres. Divided by the mass on a scale, the moment
// is how far the centre of mass lies below the gimbal.
//
// The added mass must make the drop quicker; the times must differ by more than the hand
// on the watch errs, or the result is worth nothing. NaN when it does not.
//
// From I = a M and I + m r² = b (M + m r), with a and b the squares of the drop times
// times g/K².
func FromDrops(first, second, added, depth float64) (moment, inertia float64) {
	a, b := perOffset(first), perOffset(second)
	if !(added > 0 && depth > 0 && a > b && b > depth) {
		return math.NaN(), math.NaN()
	}
	moment = added * depth * (b - depth) / (a - b)
	return moment, a * moment
}

// A Span is a least and a greatest value.
type Span struct{ Low, High float64 }

// FromDropsWithin gives between what the moment and the inertia of [FromDrops] lie when
// either time may be off by so many seconds, not negative. A first drop that was longer and
// a second that was shorter make both less. High is +Inf where the times may be the same,
// and Low is 0 where the second may be too quick for the mass that was added.
func FromDropsWithin(first, second, added, depth, off float64) (moment, inertia Span) {
	if m, _ := FromDrops(first, second, added, depth); math.IsNaN(m) || !(off >= 0) {
		return Span{math.NaN(), math.NaN()}, Span{math.NaN(), math.NaN()}
	}
	moment, inertia = Span{0, math.Inf(1)}, Span{0, math.Inf(1)}
	if m, i := FromDrops(first+off, second-off, added, depth); !math.IsNaN(m) {
		moment.Low, inertia.Low = m, i
	}
	if m, i := FromDrops(first-off, second+off, added, depth); !math.IsNaN(m) {
		moment.High, inertia.High = m, i
	}
	return moment, inertia
}
