package why

import "math"

// The search for the nearest value at which a test holds.
const (
	// looks is how many values are tried each way. They lie close to what the brief says
	// first, and ever farther apart.
	looks = 64
	// halvings narrow the place down, well below what rounding leaves of it.
	halvings = 30
)

// solve gives the value nearest to now, towards an end, at which test holds, rounded away
// from now to what can be said in two digits more; NaN when there is none below a size.
func (k *knob) solve(end, below float64, test Test) float64 {
	holds := func(to float64) bool { return test(k.turn(to)) }
	if end == k.now {
		return math.NaN()
	}
	from := k.now
	for look := 1; look <= looks; look++ {
		share := float64(look) / looks
		to := k.at(end, share*share)
		if holds(to) {
			if to = k.narrow(from, to, holds); k.beyond(to, below) {
				return math.NaN()
			}
			return to
		}
		if from = to; k.beyond(to, below) {
			break
		}
	}
	return math.NaN()
}

// beyond reports whether a change to a value is no smaller than a size; none is beyond Inf.
func (k *knob) beyond(to, size float64) bool { return !math.IsInf(size, 1) && k.size(to) >= size }

// narrow finds the smallest value between one at which the test does not hold and one at
// which it does. Between looks the test may have held and failed again: as long as half
// of the change is enough, the search goes on there.
func (k *knob) narrow(from, to float64, holds func(float64) bool) float64 {
	for range halvings {
		for range halvings {
			if middle := (from + to) / 2; holds(middle) {
				to = middle
			} else {
				from = middle
			}
		}
		to = k.round(to, holds)
		half := k.at(to, 0.5)
		if !holds(half) {
			break
		}
		from, to = k.now, half
	}
	return to
}

// round moves a value away from now to a round one: by a tenth of the change or of the
// value at most, less when the test does not hold there.
func (k *knob) round(to float64, holds func(float64) bool) float64 {
	change := to - k.now
	scale := math.Abs(change)
	if to != 0 {
		scale = min(scale, math.Abs(to))
	}
	for digits := 1 - math.Floor(math.Log10(scale)); digits < 9; digits++ {
		unit := math.Pow(10, digits) // of them to one
		rounded := math.Floor(to*unit+1e-9) / unit
		if change > 0 {
			rounded = math.Ceil(to*unit-1e-9) / unit
		}
		if holds(rounded) {
			return rounded
		}
	}
	return to
}
