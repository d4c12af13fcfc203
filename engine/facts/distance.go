package facts

import (
	"math"

	"glassbrief/engine/optics"
)

// Macros. A thin lens with an image 1/x as large as the object stands f (2 + x + 1/x) from the
// sensor to the object, and so never focuses nearer than 4 f, at life size. A lens that does
// shortens its focal length on the way. It is taken to stand at f (2 + x) + k/x, with k such
// that its largest magnification comes out at its closest focus: far away that is the thin
// lens. Where its magnification is not known it counts as one that reaches life size, as most
// macros do: at a closest focus of four focal lengths that is the thin lens.

// isMacro reports whether the lens at its focal length focuses nearer than a thin lens of that
// focal length can.
func isMacro(v *Values) bool { return optics.TooNear(v[FocalLength], v[CloseFocus]) }

// macroTerm gives k.
func macroTerm(v *Values) float64 {
	m := v[Magnification]
	if math.IsNaN(m) {
		m = 1
	}
	return (v[CloseFocus] - v[FocalLength]*(2+1/m)) / m
}

// DepthUnknown reports whether how deep a lens is sharp, focused at a distance from the sensor
// plane, hangs on a magnification that is not known.
func DepthUnknown(v *Values, fromSensor float64) bool {
	return math.IsNaN(v[Magnification]) && optics.TooNear(v[FocalLength], fromSensor)
}

// LensDistance turns a distance from the sensor plane into the one from the lens that gives
// the size of the image, f (1 + x). What is nearer than a macro focuses counts as at its closest.
// It is NaN where a lens that is none forms no image, nearer than four focal lengths.
func LensDistance(v *Values, fromSensor float64) float64 {
	focal := v[FocalLength]
	if !isMacro(v) {
		return optics.FromSensor(focal, fromSensor)
	}
	between := max(fromSensor, v[CloseFocus]) - 2*focal
	return focal + (between+math.Sqrt(max(0, between*between-4*focal*macroTerm(v))))/2
}

// SensorDistance is the inverse of [LensDistance].
func SensorDistance(v *Values, fromLens float64) float64 {
	focal := v[FocalLength]
	if isMacro(v) {
		return focal + fromLens + macroTerm(v)*focal/(fromLens-focal)
	}
	return optics.SensorDistance(focal, fromLens)
}

// The picture of a lens whose entrance pupil is known begins at that point, and grows with the
// distance d from it. Focused on what it shows, it takes in 2 d tan(a/2) (1 + b c/d), with a for the
// angle at infinity, c for the d of the closest focus, and b for the breathing: that is a cone whose
// tip lies b c before the pupil. c/d goes with the magnification, as far as that is small. A lens
// without a pupil of its own is a thin one, which focuses as a whole.

// PupilDistance gives how far before the entrance pupil something lies that the lens is focused on,
// from its distance from the sensor plane: there the perspective of the picture begins. Of a thin lens
// that is its distance from the lens. NaN of what does not lie before the pupil.
func PupilDistance(v *Values, fromSensor float64) float64 {
	_, pupil, _ := distances(v, fromSensor)
	return pupil
}

// FieldDistance gives the distance that, times the spread of the picture at infinity, is what the
// picture shows of a plane on which the lens is focused, from the distance of that plane from the
// sensor plane. Nearer than its closest focus the lens stays there.
func FieldDistance(v *Values, fromSensor float64) float64 {
	_, _, field := distances(v, fromSensor)
	return field
}

// distances gives those that [LensDistance], [PupilDistance] and [FieldDistance] give.
func distances(v *Values, fromSensor float64) (lens, pupil, field float64) {
	lens = LensDistance(v, fromSensor)
	if math.IsNaN(v[Pupil]) {
		return lens, lens, lens - v[FocalLength]
	}
	if pupil = fromSensor - v[Pupil]; pupil <= 0 {
		return lens, math.NaN(), math.NaN()
	}
	return lens, pupil, pupil + v[Breathing]*min(pupil, closest(v))
}

// AtField is the inverse of [FieldDistance].
func AtField(v *Values, distance float64) float64 {
	if math.IsNaN(v[Pupil]) {
		return SensorDistance(v, v[FocalLength]+distance)
	}
	if c := closest(v); distance > c*(1+v[Breathing]) {
		return v[Pupil] + distance - v[Breathing]*c
	}
	return v[Pupil] + distance/(1+v[Breathing])
}

// closest gives the distance from the pupil of the closest focus.
func closest(v *Values) float64 { return max(0, v[CloseFocus]-v[Pupil]) }

// Entrance gives where the perspective of far things begins, from the sensor plane: the entrance
// pupil, or the thin lens that is focused at infinity.
func Entrance(v *Values) float64 {
	if math.IsNaN(v[Pupil]) {
		return v[FocalLength]
	}
	return v[Pupil]
}
