package floor

import (
	"math"

	"glassbrief/engine/optics"
)

// A Mark is a distance on the focus ring of a lens and what is sharp there, stop by stop.
// Distances run from the sensor plane; the last mark is infinity.
type Mark struct {
	Distance  float64
	Near, Far []float64 // by the stops of the scale
}

// The distances that barrels carry, in metres and in feet.
var (
	metricMarks   = []float64{0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.7, 0.8, 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 7, 10, 20}
	imperialMarks = []float64{0.75, 1, 1.25, 1.5, 1.75, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 10, 12, 15, 20, 30, 60}
)

const foot = 0.3048

// nearestMark is the least distance of a mark in focal lengths. Nearer, the image is close to
// life size and depth of field is a fraction of a millimetre.
const nearestMark = 5

// wholeStops are the full stops that barrels carry.
var wholeStops = []float64{1, 1.4, 2, 2.8, 4, 5.6, 8, 11, 16, 22, 32}

// ScaleStops gives the stops of a lens's scale: its widest, and the full stops up to its
// smallest. Where an end is not known, NaN, they begin at f/1.4 and end at f/22.
func ScaleStops(widest, smallest float64) []float64 {
	if math.IsNaN(widest) {
		widest = 1.4
	}
	if math.IsNaN(smallest) {
		smallest = 22
	}
	stops := []float64{widest}
	for _, stop := range wholeStops {
		// A full stop closer than a third to the widest would only crowd the scale.
		if stop > widest*1.1 && stop <= smallest*(1+rounding) {
			stops = append(stops, stop)
		}
	}
	return stops
}

// Scale gives the marks of a lens from its closest focus on, in metres or feet: near and
// far limit at each stop, as a barrel would show them. closest is NaN when not known. The
// limits are those of a thin lens focused at the mark.
func Scale(focal, confusion, closest float64, stops []float64, inFeet bool) []Mark {
	marks, unit := metricMarks, 1.0
	if inFeet {
		marks, unit = imperialMarks, foot
	}
	var scale []Mark
	for _, mark := range append(append([]float64{}, marks...), math.Inf(1)) {
		distance := mark * unit
		if distance < closest || distance < nearestMark*focal {
			continue
		}
		m := Mark{Distance: distance}
		s := distance
		if !math.IsInf(s, 1) {
			s = optics.FromSensor(focal, distance)
		}
		for _, stop := range stops {
			near, far := optics.Limits(focal, stop, confusion, s)
			if !math.IsInf(far, 1) {
				far = optics.SensorDistance(focal, far)
			}
			m.Near, m.Far = append(m.Near, optics.SensorDistance(focal, near)), append(m.Far, far)
		}
		scale = append(scale, m)
	}
	return scale
}
