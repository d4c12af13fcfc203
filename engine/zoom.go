package engine

import (
	"math"
	"slices"

	"glassbrief/engine/facts"
)

// goldenSteps narrows an interval of focal lengths to a hundredth of its width, which is
// finer than the whole millimetres a hand sets.
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

// bestFocal gives the focal length with the highest worth: the best of the choices,
// improved by golden section towards its neighbours, and set to a whole millimetre.
// worth must be comparable over all focal lengths, excluded ones included.
func bestFocal(choices []float64, worth func(focal float64) float64) float64 {
	best, value := 0, math.Inf(-1)
	for i, focal := range choices {
		if w := worth(focal); w > value {
			best, value = i, w
		}
	}
	low, high := choices[max(0, best-1)], choices[min(len(choices)-1, best+1)]
	focal := golden(low, high, worth)
	if worth(focal) < value {
		focal = choices[best]
	}
	return settable(focal, choices[0], choices[len(choices)-1], worth)
}

// golden searches an interval for the highest worth by golden section.
func golden(low, high float64, worth func(float64) float64) float64 {
	const ratio = 0.6180339887498949
	a, b := high-ratio*(high-low), low+ratio*(high-low)
	worthA, worthB := worth(a), worth(b)
	for range goldenSteps {
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
	return (low + high) / 2
}

// settable gives the better of the two whole millimetres around a focal length, within
// the range of the zoom.
func settable(focal, low, high float64, worth func(float64) float64) float64 {
	const millimetre = 1e-3
	down := max(low, math.Floor(focal/millimetre)*millimetre)
	up := min(high, math.Ceil(focal/millimetre)*millimetre)
	if worth(up) > worth(down) {
		return up
	}
	return down
}
