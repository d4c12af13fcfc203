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

// PupilDistance gives how far before the place where the perspective of the picture begins
// something lies, from its distance from the sensor plane.
func PupilDistance(v *Values, fromSensor float64) float64 { return LensDistance(v, fromSensor) }

// FieldDistance gives the distance that, times the spread of the picture at infinity, is what the
// picture shows of a plane on which the lens is focused, from the distance of that plane from the
// sensor plane.
func FieldDistance(v *Values, fromSensor float64) float64 {
	return LensDistance(v, fromSensor) - v[FocalLength]
}

// AtField is the inverse of [FieldDistance].
func AtField(v *Values, distance float64) float64 {
	return SensorDistance(v, v[FocalLength]+distance)
}
