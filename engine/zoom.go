package engine

import (
	"math"

	"glassbrief/engine/facts"
)

// millimetre is how finely a hand sets a zoom.
const millimetre = 1e-3

// wholeEnough is how near to a whole millimetre a focal length counts as one.
const wholeEnough = 1e-6

// settings gives the facts for each focal length that a zoom can be set to: every whole
// millimetre between its ends, and the ends.
func (g *glass) settings() []facts.Focal {
	low, high := g.input.FocalLow, g.input.FocalHigh
	r := g.record
	all := make([]facts.Focal, 1, 2+int((high-low)/millimetre+wholeEnough))
	all[0] = r.Focal()
	add := func(focal float64) {
		facts.FillFocal(&r, &g.input, focal)
		all = append(all, r.Focal())
	}
	for whole := math.Floor(low/millimetre+wholeEnough) + 1; whole < high/millimetre-wholeEnough; whole++ {
		add(whole * millimetre)
	}
	add(high)
	return all
}

// framingSettings gives the settings of a zoom that bring the subject nearest to an edge
// or the middle of the wanted band, at the nearest and the farthest distance, and the ends.
//
// A subject of height h fills the share v of a frame of height H at magnification
// m = v H / h; with D from the sensor plane, D = f (1 + m)² / m for a thin lens.
func framingSettings(shot *facts.ShotInput, frameHeight, low, high float64) []float64 {
	choices := []float64{low, high}
	for _, end := range []struct {
		distance float64
		band     facts.Band
	}{{shot.Near, shot.WantNear}, {shot.Far, shot.WantFar}} {
		for _, share := range []float64{end.band.Low, math.Sqrt(end.band.Low * end.band.High), end.band.High} {
			m := share * frameHeight / shot.Subject.Height
			focal := end.distance * m / ((1 + m) * (1 + m))
			if focal = math.Round(focal/millimetre) * millimetre; focal > low && focal < high {
				choices = append(choices, focal)
			}
		}
	}
	return choices
}
