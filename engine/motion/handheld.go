package motion

import "math"

// The reciprocals of the engraved shutter times, in full stops.
var engraved = [...]float64{1, 2, 4, 8, 15, 30, 60, 125, 250, 500, 1000, 2000, 4000, 8000}

// HandheldTime gives the longest engraved exposure, in seconds, for a still picture from
// the hand, at a focal length on full frame in metres, positive: no longer than one over
// its millimetres. A focal length beyond the engraved times gives NaN.
//
// Source: a still camera maker's manual. It says nothing of moving pictures.
func HandheldTime(focal float64) float64 {
	if !(focal > 0) {
		return math.NaN()
	}
	const rounding = 1e-9
	for _, per := range engraved {
		if per >= focal*1000*(1-rounding) {
			return 1 / per
		}
	}
	return math.NaN()
}
