package engine

import (
	"math"
	"slices"

	"glassbrief/engine/facts"
	"glassbrief/engine/setup"
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

// A way is what of a lens has the same filters before it: all settings of a zoom, or the wide
// ones and the long ones where a turning filter may show a cross on the wide ones.
type way struct {
	optics  setup.Optics
	filters *setup.Filters
}

func (g *glass) waysOf(stops []float64) []way {
	diagonal := g.record.Value[facts.FrameDiagonal]
	if g.zoom == nil || !g.filters.turns {
		filters := g.filters.long
		if g.isWide(g.input.FocalLow, diagonal) {
			filters = g.filters.wide
		}
		return []way{{setup.Optics{Stops: stops, Focals: g.zoom}, filters}}
	}
	var ways []way
	wide := 0 // settings, the shortest first
	for _, focal := range g.dialled() {
		if g.isWide(focal, diagonal) {
			wide++
		}
	}
	if wide > 0 {
		ways = append(ways, way{setup.Optics{Stops: stops, Focals: g.zoom[:wide]}, g.filters.wide})
	}
	if wide < len(g.zoom) {
		ways = append(ways, way{setup.Optics{Stops: stops, Focals: g.zoom[wide:]}, g.filters.long})
	}
	return ways
}
