package optics

import (
	"math"
	"slices"
)

// A Frame is a rectangle: the part of a sensor in use, or an object that lies flat
// before the lens. Both sides in metres.
type Frame struct{ Width, Height float64 }

// FullFrame is the frame of 35 mm still film, 36 mm by 24 mm, to which crop factors
// refer.
var FullFrame = Frame{Width: 0.036, Height: 0.024}

// Diagonal gives the diagonal, in metres.
func (f Frame) Diagonal() float64 { return math.Hypot(f.Width, f.Height) }

// Aspect gives the ratio of width to height.
func (f Frame) Aspect() float64 { return f.Width / f.Height }

// Delivered gives the part of a sensor that is delivered, in metres on the sensor: the
// largest centred one that has the ratio (width to height) once the picture is
// desqueezed. squeeze is 1 for a spherical lens. A ratio of 0 or less asks for the whole
// sensor. A squeeze that is not positive gives a frame of NaN.
func Delivered(sensor Frame, squeeze, ratio float64) Frame {
	if !(squeeze > 0) {
		return Frame{math.NaN(), math.NaN()}
	}
	if ratio <= 0 {
		return sensor
	}
	if sensor.Aspect()*squeeze > ratio {
		return Frame{sensor.Height * ratio / squeeze, sensor.Height}
	}
	return Frame{sensor.Width, sensor.Width * squeeze / ratio}
}

// A Window is a part of a sensor: its sides, and how far its middle lies to the right of and
// above that of the sensor, in metres as the picture stands upright.
type Window struct {
	Frame
	X, Y float64
}

// Reach gives the smallest frame about the middle of the sensor, where the axis of the lens is,
// that holds the window.
func (w Window) Reach() Frame {
	return Frame{w.Width + 2*math.Abs(w.X), w.Height + 2*math.Abs(w.Y)}
}

// Desqueezed gives the window as wide as its picture is seen.
func (w Window) Desqueezed(squeeze float64) Window {
	return Window{Frame{w.Width * squeeze, w.Height}, w.X * squeeze, w.Y}
}

// A Basis says which extent of two frames is compared. Frames of different shape have a
// different crop factor by each.
type Basis uint8

const (
	ByDiagonal Basis = iota
	ByWidth
	ByHeight
)

var basisNames = [...]string{"diagonal", "width", "height"}

// String gives the word for the basis.
func (b Basis) String() string { return basisNames[b] }

// BasisNames lists the words for the bases, in a new slice.
func BasisNames() []string { return slices.Clone(basisNames[:]) }

// ParseBasis gives the basis that a word stands for, and whether there is one.
func ParseBasis(word string) (Basis, bool) {
	i := slices.Index(basisNames[:], word)
	return Basis(max(i, 0)), i >= 0
}

func (f Frame) along(by Basis) float64 {
	if by > ByHeight {
		return math.NaN()
	}
	return [...]float64{f.Diagonal(), f.Width, f.Height}[by]
}

// Crop gives the crop factor of a frame against [FullFrame]: above 1 for a smaller one.
func Crop(f Frame, by Basis) float64 { return FullFrame.along(by) / f.along(by) }

// Match gives the focal length that sees on one frame what focal sees on another, in
// metres, for a distant subject.
func Match(focal float64, from, to Frame, by Basis) float64 {
	return focal * to.along(by) / from.along(by)
}

// ConfusionDivisor is the part of the diagonal that the circle of confusion is taken to
// be. Source: encyclopaedia, "Circle of confusion", which gives 1500 and 1730 as the
// conventions in use.
const ConfusionDivisor = 1500

// Confusion gives the diameter of the circle of confusion, in metres: the diagonal of
// the frame over divisor, which is positive.
func Confusion(f Frame, divisor float64) float64 {
	if !(divisor > 0) {
		return math.NaN()
	}
	return f.Diagonal() / divisor
}
