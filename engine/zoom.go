package engine

import (
	"math"
	"slices"

	"glassbrief/engine/facts"
)

// millimetre is how finely a hand sets a zoom.
const millimetre = 1e-3

// wholeEnough is how near to a whole millimetre a focal length counts as one.
const wholeEnough = 1e-6

// settings gives the facts for each focal length that a zoom is set to.
func (g *glass) settings() []facts.Focal {
	r := g.record
	dialled := g.dialled()
	all := make([]facts.Focal, len(dialled))
	for i, focal := range dialled {
		facts.FillFocal(&r, &g.input, focal)
		all[i] = r.Focal()
	}
	return all
}

// dialled gives the focal lengths that a zoom is set to, the shortest first: those engraved
// on it, or else every whole millimetre between its ends, and the ends.
func (g *glass) dialled() []float64 {
	if g.lens.Engraved.Known() {
		engraved := g.engraved()
		slices.Sort(engraved)
		return engraved
	}
	low, high := g.input.FocalLow, g.input.FocalHigh
	all := make([]float64, 1, 2+int((high-low)/millimetre+wholeEnough))
	all[0] = low
	for whole := math.Floor(low/millimetre+wholeEnough) + 1; whole < high/millimetre-wholeEnough; whole++ {
		all = append(all, whole*millimetre)
	}
	return append(all, high)
}

// engraved gives the engraved focal lengths, with the factor of the adapter.
func (g *glass) engraved() []float64 {
	list := g.lens.Engraved.Values()
	for i := range list {
		list[i] *= g.fitting.Factor
	}
	return list
}

// framingSettings gives the settings of a zoom that bring the subject nearest to an edge
// or the middle of the wanted band, at the nearest and the farthest distance, and the ends;
// of a zoom with engraved focal lengths those.
//
// A subject of height h fills the share v of a frame of height H at magnification
// m = v H / h; with D from the sensor plane, D = f (1 + m)² / m for a thin lens.
func (g *glass) framingSettings(shot *facts.ShotInput) []float64 {
	if g.lens.Engraved.Known() {
		return g.engraved()
	}
	low, high, frameHeight := g.input.FocalLow, g.input.FocalHigh, g.record.Value[facts.FrameHeight]
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
