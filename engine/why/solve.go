package why

import "math"

// The search for the nearest value at which a test holds.
const (
	// looks is how many values are tried each way. They lie close to what the brief says
	// first, and ever farther apart. More of the light are tried, at which a test may hold in
	// one third of a stop and fail in the next, as ISO and filters go.
	looks        = 64
	looksAtLight = 256
	// halvings narrow a place down, and finer is into how many parts a change is cut, to see
	// whether one of them is enough.
	halvings = 30
	finer    = 64
	// toDigits and saidDigits are to how many digits after the first a change is given, and said.
	toDigits, saidDigits = 3, 1
)

// solve gives the value nearest to now, towards an end, at which test holds; NaN when there is
// none below a size.
func (k *knob) solve(end, below float64, test Test) float64 {
	holds := func(to float64) bool { return test(k.turn(to)) }
	if end == k.now {
		return math.NaN()
	}
	all := looks
	if k.figure == Light {
		all = looksAtLight
	}
	from := k.now
	for look := 1; look <= all; look++ {
		share := float64(look) / float64(all)
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
// which it does. Between looks the test may have held and failed again: as long as a part
// of the change is enough, the search goes on before the first that is.
func (k *knob) narrow(from, to float64, holds func(float64) bool) float64 {
	for range halvings {
		for range halvings {
			if middle := (from + to) / 2; holds(middle) {
				to = middle
			} else {
				from = middle
			}
		}
		to = k.round(to, toDigits, holds)
		part := 1
		cut := func(part int) float64 { return k.now + (to-k.now)*float64(part)/finer }
		for part < finer && !holds(cut(part)) {
			part++
		}
		if part == finer {
			break
		}
		from, to = cut(part-1), cut(part)
	}
	return to
}

// round moves a value away from now to a round one, with so many digits after the first of the
// change or of the value, and with more when the test does not hold there.
func (k *knob) round(to, digits float64, holds func(float64) bool) float64 {
	change := to - k.now
	scale := math.Abs(change)
	if to != 0 {
		scale = min(scale, math.Abs(to))
	}
	for digits -= math.Floor(math.Log10(scale)); digits < 9; digits++ {
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
