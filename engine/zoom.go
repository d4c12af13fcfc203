package engine

import (
	"math"
	"slices"

	"glassbrief/engine/facts"
)

// millimetre is how finely a hand sets a zoom.
const millimetre = 1e-3

// goldenSteps bounds the steps that narrow an interval of focal lengths: to a hundredth
// of its width, on zooms so long that this is more than a millimetre.
const goldenSteps = 10

// focalChoices gives the focal lengths at which a zoom's framing changes: those that
// bring the subject to an edge or the middle of the wanted band, at the nearest and the
// farthest distance, and the ends of the zoom. A score that depends on framing has its
// kinks there, and bends little between them.
//
// A subject of height h fills the share v of a frame of height H at magnification
// m = v H / h; with D from the sensor plane, D = f (1 + m)² / m for a thin lens.
func focalChoices(shot *facts.ShotInput, frameHeight, low, high float64) []float64 {
	choices := []float64{low, high}
	for _, end := range []struct {
		distance float64
		band     facts.Band
	}{{shot.Near, shot.WantNear}, {shot.Far, shot.WantFar}} {
		for _, share := range []float64{end.band.Low, math.Sqrt(end.band.Low * end.band.High), end.band.High} {
			m := share * frameHeight / shot.Subject.Height
			focal := end.distance * m / ((1 + m) * (1 + m))
			if focal > low && focal < high {
				choices = append(choices, focal)
			}
		}
	}
	slices.Sort(choices)
	return slices.Compact(choices)
}

// bestFocal gives the outcome at the focal length where it is worth most: the best of the
// choices, improved by golden section towards its neighbours, and set to a whole
// millimetre. Outcomes must be comparable over all focal lengths, excluded ones included.
func bestFocal(choices []float64, at func(focal float64) Outcome) Outcome {
	best, value := 0, math.Inf(-1)
	for i, focal := range choices {
		if w := at(focal).Worth(); w > value {
			best, value = i, w
		}
	}
	low, high := choices[max(0, best-1)], choices[min(len(choices)-1, best+1)]
	focal, reached := golden(low, high, func(focal float64) float64 { return at(focal).Worth() })
	if reached < value {
		focal = choices[best]
	}
	return settable(focal, choices[0], choices[len(choices)-1], at)
}

// golden searches an interval for the highest worth by golden section, down to a
// millimetre, and gives where it is and what it reached near there.
func golden(low, high float64, worth func(float64) float64) (focal, reached float64) {
	const ratio = 0.6180339887498949
	a, b := high-ratio*(high-low), low+ratio*(high-low)
	worthA, worthB := worth(a), worth(b)
	for range goldenSteps {
		if high-low <= millimetre {
			break
		}
		if worthA >= worthB {
			high, b, worthB = b, a, worthA
			a = high - ratio*(high-low)
			worthA = worth(a)
		} else {
			low, a, worthA = a, b, worthB
			b = low + ratio*(high-low)
			worthB = worth(b)
		}
	}
	if worthA >= worthB {
		return a, worthA
	}
	return b, worthB
}

// settable gives the better outcome of the two whole millimetres around a focal length,
// within the range of the zoom.
func settable(focal, low, high float64, at func(float64) Outcome) Outcome {
	down := at(max(low, math.Floor(focal/millimetre)*millimetre))
	up := at(min(high, math.Ceil(focal/millimetre)*millimetre))
	if up.Worth() > down.Worth() {
		return up
	}
	return down
}
