package engine

import (
	"math"

	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
)

// A Picture says where a lens puts things on the sensor, for whoever draws them. All
// lengths are in metres on the sensor, and an anamorphic picture is already desqueezed.
type Picture struct {
	Sensor    optics.Frame    // the mode in use, whole
	Delivered optics.Window   // the part that is delivered
	Protected optics.Window   // the part that is kept free around it; the same without protection
	Also      []optics.Window // what is delivered of the same pictures in further ratios
	Circle    optics.Frame    // width and height of the image circle; NaN when unknown
	Bends     bool            // straight lines come out bent, as far as is known

	projection optics.Projection
	focal      float64
	facts      *facts.Values
	distortion float64 // share at the edge of the circle; 0 when unknown
	measured   func(radius float64) float64
	squeeze    float64
}

// Picture gives the picture that a lens draws of the shot that it is judged in.
func (r *Recommendation) Picture(shot *brief.Shot, j *Judgement) Picture {
	lens, _ := r.Scenario.Catalogue.Lenses.Lookup(j.Lens)
	squeeze := lens.SqueezeFactor()
	mode := r.Camera.Mode(shot.Mode)
	windows, also := r.Scenario.Delivery.Windows(r.Camera, mode, squeeze)
	circle := j.Fact(facts.ImageCircle)
	p := Picture{
		Sensor:    optics.Frame{Width: mode.Size.Width.Value * squeeze, Height: mode.Size.Height.Value},
		Delivered: windows.Frame.Desqueezed(squeeze),
		Protected: windows.Protected.Desqueezed(squeeze),
		Circle:    optics.Frame{Width: circle * squeeze, Height: circle},
		focal:     j.Fact(facts.FocalLength),
		facts:     &j.Facts.Value,
		squeeze:   squeeze,
	}
	for _, w := range also {
		p.Also = append(p.Also, w.Frame.Desqueezed(squeeze))
	}
	p.projection, _ = optics.ParseProjection(lens.Projection.Value)
	if lens.Distortion.Known() && !math.IsNaN(circle) {
		p.distortion = lens.Distortion.Value
	}
	p.measured = distortionAt(lens, j.Fitting, p.focal)
	p.Bends = p.projection != optics.Rectilinear || p.distortion != 0 || p.measured != nil
	return p
}

// At gives the place in the picture, x to the right and y up from its middle, of a point
// x metres to the right of the axis and y above it on a plane across the axis, distance
// metres from the sensor plane, when the lens is focused there. NaN where the lens has no image.
//
// The mapping is that of the projection at infinity, narrowed for close focus as the facts of the
// framing have it; distortion is that of the lens's correction where it was measured, and else of
// the third order, so that it grows with the square of the distance from the middle, as for the fact
// "bending".
func (p *Picture) At(x, y, distance float64) (px, py float64) {
	off := math.Hypot(x, y)
	if off == 0 {
		return 0, 0
	}
	radius := optics.Radius(p.projection, p.focal, math.Atan(off/p.FieldDistance(distance)))
	px, py = radius*x/off, radius*y/off
	if p.measured != nil {
		// Past the corner of the sensor nothing was measured.
		reach := min(math.Hypot(px/p.squeeze, py), math.Hypot(p.Sensor.Width/p.squeeze, p.Sensor.Height)/2)
		moved := 1 + p.measured(reach)
		return px * moved, py * moved
	}
	if p.distortion != 0 {
		// Past the circle there is no picture; the share of its edge keeps what is drawn
		// there from folding back.
		reach := min(1, 2*math.Hypot(px/p.Circle.Width, py/p.Circle.Height))
		moved := 1 + p.distortion*reach*reach
		px, py = px*moved, py*moved
	}
	return px, py
}

// FieldDistance is [facts.FieldDistance] for the lens of the picture.
func (p *Picture) FieldDistance(fromSensor float64) float64 {
	return facts.FieldDistance(p.facts, fromSensor)
}
