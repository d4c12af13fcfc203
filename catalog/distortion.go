package catalog

import (
	"cmp"
	"math"
	"slices"
)

// fullFrameDiagonal is the diagonal that crop factors are counted against, in metres.
var fullFrameDiagonal = math.Hypot(36e-3, 24e-3)

// halfDiagonal and halfShortSide are those of the frame that the lens was measured on.
func (c *Correction) halfDiagonal() float64 { return fullFrameDiagonal / c.Crop.Value / 2 }

func (c *Correction) halfShortSide() float64 {
	aspect := 1.5
	if c.Aspect.Known() {
		aspect = c.Aspect.Value
	}
	return c.halfDiagonal() / math.Hypot(aspect, 1)
}

// A DistortionCurve is the measured distortion of a lens over its focal lengths, ready to
// be asked often.
type DistortionCurve struct {
	at        []Distortion // by rising focal length, all of one model
	halfShort float64      // of the frame that was measured, in metres
}

// DistortionCurve gives the curve; it is false when distortion was not measured. Only
// settings of the first model count, since coefficients of two models cannot be mixed, and
// of two at one focal length the first.
func (c *Correction) DistortionCurve() (*DistortionCurve, bool) {
	if len(c.Distortions) == 0 {
		return nil, false
	}
	curve := &DistortionCurve{halfShort: c.halfShortSide()}
	for _, d := range c.Distortions {
		if d.Model == c.Distortions[0].Model {
			curve.at = append(curve.at, d)
		}
	}
	slices.SortStableFunc(curve.at, func(a, b Distortion) int { return cmp.Compare(a.Focal.Value, b.Focal.Value) })
	curve.at = slices.CompactFunc(curve.at, func(a, b Distortion) bool { return math.Abs(b.Focal.Value-a.Focal.Value) < focalRounding })
	return curve, true
}

// Measured lists the focal lengths that were measured, in metres.
func (c *DistortionCurve) Measured() []float64 {
	focals := make([]float64, len(c.at))
	for i := range c.at {
		focals[i] = c.at[i].Focal.Value
	}
	return focals
}

// Model gives the model at a focal length in metres: that measured there, the nearest one
// outside of the range that was measured, and between two of it a cubic Hermite curve
// through the coefficients times their focal lengths, with tangents by the neighbours.
//
// Source: interpolation of the open lens-correction database's C library, release 0.3.
func (c *DistortionCurve) Model(focal float64) Distortion {
	above := 0
	for above < len(c.at) && c.at[above].Focal.Value < focal-focalRounding {
		above++
	}
	switch {
	case above == len(c.at):
		return c.at[above-1]
	case above == 0, c.at[above].Focal.Value <= focal+focalRounding:
		return c.at[above]
	}
	low, high := &c.at[above-1], &c.at[above]
	between := Distortion{Focal: low.Focal, Model: low.Model}
	between.Focal.Value = focal
	t := (focal - low.Focal.Value) / (high.Focal.Value - low.Focal.Value)
	for i := range between.Terms {
		y1, y2 := low.scaled(i), high.scaled(i)
		slope1, slope2 := y2-y1, y2-y1
		if above >= 2 {
			slope1 = (y2 - c.at[above-2].scaled(i)) / 2
		}
		if above+1 < len(c.at) {
			slope2 = (c.at[above+1].scaled(i) - y1) / 2
		}
		between.Terms[i] = hermite(t, y1, y2, slope1, slope2) / focal
	}
	return between
}

// focalRounding is how far apart equal focal lengths may come out of a conversion.
const focalRounding = 1e-9

// scaled is what is interpolated of a coefficient.
func (d *Distortion) scaled(i int) float64 { return d.Terms[i] * d.Focal.Value }

// hermite is the cubic from y1 at 0 to y2 at 1 with the given slopes there.
func hermite(t, y1, y2, slope1, slope2 float64) float64 {
	t2, t3 := t*t, t*t*t
	return (2*t3-3*t2+1)*y1 + (t3-2*t2+t)*slope1 + (3*t2-2*t3)*y2 + (t3-t2)*slope2
}

// scale gives by how much the model moves a point at radius r away from the middle, r
// being 1 at half the short side of the frame that was measured.
func (d *Distortion) scale(r float64) float64 {
	a, b, c := d.Terms[0], d.Terms[1], d.Terms[2]
	switch d.Model {
	case Poly3:
		return 1 - a + a*r*r
	case Poly5:
		return 1 + a*r*r + b*r*r*r*r
	case PTLens:
		return a*r*r*r + b*r*r + c*r + 1 - a - b - c
	}
	return math.NaN()
}

// Moved gives where a point of the undistorted picture lies in the picture of the lens,
// both as distances from the middle of the sensor in metres.
func (c *DistortionCurve) Moved(focal, radius float64) float64 {
	d := c.Model(focal)
	return radius * d.scale(radius/c.halfShort)
}

func (c *DistortionCurve) share(d *Distortion, radius float64) float64 {
	return d.scale(radius/c.halfShort)/d.scale(0) - 1
}

// Share gives the share by which a point at a distance from the middle of the sensor lies
// too far out, against the scale in the middle of the picture: negative for barrel,
// positive for pincushion. Focal length and radius are in metres.
func (c *DistortionCurve) Share(focal, radius float64) float64 {
	d := c.Model(focal)
	return c.share(&d, radius)
}

// An Edges is a figure at three points of a frame.
type Edges struct{ Side, Top, Corner float64 }

// Worst gives the figure that is farthest from zero.
func (e Edges) Worst() float64 {
	worst := e.Side
	for _, x := range []float64{e.Top, e.Corner} {
		if math.Abs(x) > math.Abs(worst) {
			worst = x
		}
	}
	return worst
}

// Edges gives [DistortionCurve.Share] at the edges of a frame on the sensor of the given
// width and height in metres. Signs that differ mean a wavy line.
func (c *DistortionCurve) Edges(focal, width, height float64) Edges {
	d := c.Model(focal)
	return Edges{
		Side:   c.share(&d, width/2),
		Top:    c.share(&d, height/2),
		Corner: c.share(&d, math.Hypot(width, height)/2),
	}
}
