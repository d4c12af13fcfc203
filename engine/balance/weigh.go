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
