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

// A DistortionCurve is the measured distortion of a lens by focal length, sorted so that a
// lookup is cheap.
type DistortionCurve struct {
	at        []Distortion // by rising focal length, all of one model
	halfShort float64      // of the frame that was measured, in metres
}

// DistortionCurve gives the curve; it is false when distortion was not measured.
// Coefficients of two models cannot be mixed, so only settings of the first model count.
// When two settings have the same focal length, the first counts.
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

// Model gives the model at a focal length in metres. Between two measured focal lengths it
// is a cubic Hermite curve through coefficient times focal length, with tangents from the
// neighbours; outside of the measured range it is the nearest measurement.
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

// focalRounding is the largest difference that a conversion of units can leave between equal
// focal lengths, in metres.
const focalRounding = 1e-9

// scaled gives the quantity that is interpolated: coefficient times focal length.
func (d *Distortion) scaled(i int) float64 { return d.Terms[i] * d.Focal.Value }

// hermite gives the cubic that runs from y1 at t = 0 to y2 at t = 1 with the given slopes.
func hermite(t, y1, y2, slope1, slope2 float64) float64 {
	t2, t3 := t*t, t*t*t
	return (2*t3-3*t2+1)*y1 + (t3-2*t2+t)*slope1 + (3*t2-2*t3)*y2 + (t3-t2)*slope2
}

// scale gives the factor by which the model moves a point away from the middle. The radius
// r is 1 at half the short side of the measured frame.
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

// Moved takes the distance of an undistorted point from the middle of the sensor, in
// metres, and gives the distance at which the lens draws it.
func (c *DistortionCurve) Moved(focal, radius float64) float64 {
	d := c.Model(focal)
	return radius * d.scale(radius/c.halfShort)
}

func (c *DistortionCurve) share(d *Distortion, radius float64) float64 {
	return d.scale(radius/c.halfShort)/d.scale(0) - 1
}

// Share gives the share by which the lens draws a point too far out, relative to the scale
// in the middle of the picture: negative for barrel, positive for pincushion. Focal length and radius are in metres.
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
