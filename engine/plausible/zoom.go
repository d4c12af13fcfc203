package plausible

import (
	"math"

	"glassbrief/catalog"
)

// A zoomKind is how the distortion of zooms of one kind runs over their range: the amount at
// the wide end, a quarter, the middle, three quarters and the long end, as shares of the most.
// The shares are the median amounts of normal distributions with the published 5th, 50th and
// 95th percentiles, of 381 zooms in the open lens-correction database; places between are
// straight.
type zoomKind struct {
	from, ratio float64 // up to a shortest full-frame equivalent, in metres, and up to a ratio
	amounts     [5]float64
}

var zoomKinds = []zoomKind{
	{20e-3, forever, [5]float64{1, 0.64, 0.46, 0.45, 0.47}},
	{50e-3, 3.3, [5]float64{1, 0.46, 0.31, 0.36, 0.41}},
	{50e-3, 5.5, [5]float64{1, 0.45, 0.59, 0.65, 0.61}},
	{50e-3, forever, [5]float64{1, 0.46, 0.68, 0.55, 0.45}},
	{forever, forever, [5]float64{0.89, 0.62, 0.84, 0.99, 1}},
}

// ZoomDistortion gives the share of a zoom's worst distortion that is left at a focal length
// of it, in metres; nil for a prime. A catalogue gives one figure for all of a zoom, which is
// that of its worst end, and most zooms bend far less between the ends.
func ZoomDistortion(l *catalog.Lens, c *Context) func(focal float64) float64 {
	if !l.IsZoom() {
		return nil
	}
	low, ratio := l.Focal.Low.Value, even(l.Focal.High.Value/l.Focal.Low.Value)
	from := c.equivalent(l, low)
	for i := range zoomKinds {
		k := &zoomKinds[i]
		if from < k.from && ratio <= k.ratio {
			return func(focal float64) float64 { return k.at(math.Log(focal/low) / math.Log(ratio)) }
		}
	}
	return nil
}

// at gives the share at a place of the range, from 0 at the wide to 1 at the long end.
func (k *zoomKind) at(place float64) float64 {
	step := min(max(place, 0), 1) * float64(len(k.amounts)-1)
	i := min(int(step), len(k.amounts)-2)
	return k.amounts[i] + (k.amounts[i+1]-k.amounts[i])*(step-float64(i))
}
