package engine

import (
	"math"

	"glassbrief/catalog"
	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
)

// infinityDistance stands for a far subject where a measurement asks for a distance, in
// metres.
const infinityDistance = 1000

// measure gives the facts what was measured of the lens, for the frame that is delivered,
// in place of the single figures for its whole circle. An adapter with glass spreads the
// picture of the lens by its factor, so the frame sees a part that is so much smaller.
func measure(in *facts.LensInput, g *glass) {
	correction, factor := &g.lens.Correction, g.fitting.Factor
	frame := optics.Delivered(in.Sensor, in.Squeeze, in.Ratio)
	width, height := frame.Width/factor, frame.Height/factor
	if curve, ok := correction.DistortionCurve(); ok {
		in.EdgeDistortion = func(focal float64) float64 { return curve.Edges(focal/factor, width, height).Worst() }
	}
	if stop := g.lens.WidestStop(); len(correction.Shadings) > 0 && stop.Known() {
		in.EdgeFalloff = func(focal float64) float64 {
			return correction.Falloff(g.lens, focal/factor, stop.Value, infinityDistance, math.Hypot(width, height)/2)
		}
	}
}

// distortionAt gives the share by which a point of the lens's picture lies too far out, by
// its distance in metres from the middle of the sensor; nil when it was not measured.
func distortionAt(lens *catalog.Lens, fitting catalog.Fitting, focal float64) func(radius float64) float64 {
	curve, ok := lens.Correction.DistortionCurve()
	if !ok {
		return nil
	}
	return func(radius float64) float64 { return curve.Share(focal/fitting.Factor, radius/fitting.Factor) }
}
