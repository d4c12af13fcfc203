package optics

import "math"

// Magnification gives the size of the image over the size of the object, m = f/(s-f),
// for an object at s metres from the lens, s > focal > 0. It is 0 at infinity.
//
// Source: thin-lens equation, as in any college physics text.
func Magnification(focal, s float64) float64 {
	if !(focal > 0) || !(s > focal) {
		return math.NaN()
	}
	return focal / (s - focal)
}

// ImageDistance gives the distance from the lens to its image, in metres, of an object
// at s metres from the lens, s > focal > 0. It is focal at infinity.
func ImageDistance(focal, s float64) float64 {
	return focal * (1 + Magnification(focal, s))
}

// ObjectDistance is the inverse of [ImageDistance]: the distance from the lens of what is
// sharp at imageDistance behind it, imageDistance >= focal > 0. It is +Inf for focal.
func ObjectDistance(focal, imageDistance float64) float64 {
	if !(focal > 0) || !(imageDistance >= focal) {
		return math.NaN()
	}
	return focal + focal*focal/(imageDistance-focal)
}

// SensorDistance gives the distance from the sensor plane, as a tape measures it, of an
// object in focus at s metres from the lens: D = s + f s/(s-f), s > focal > 0.
func SensorDistance(focal, s float64) float64 {
	return s + ImageDistance(focal, s)
}

// FromSensor is the inverse of [SensorDistance]: the distance from the lens of an object
// at fromSensor metres from the sensor plane. Of the two lens positions that focus it,
// this is the one farther from the object, which is how a camera lens is used. No thin
// lens focuses nearer than four focal lengths: NaN there.
func FromSensor(focal, fromSensor float64) float64 {
	if !(focal > 0) || !(fromSensor >= 4*focal) {
		return math.NaN()
	}
	return (fromSensor + math.Sqrt(fromSensor*(fromSensor-4*focal))) / 2
}
