package motion

import "math"

// Radial gives the distance, in metres, of a camera that moves straight at its subject,
// after t seconds: start - speed t. A negative speed pulls out. NaN once it has arrived.
func Radial(start, speed, t float64) float64 {
	distance := start - speed*t
	if !(distance > 0) {
		return math.NaN()
	}
	return distance
}

// Passing gives the distance, in metres, of a camera that passes its subject on a
// straight line, t seconds after the closest point (before it for a negative t).
func Passing(closest, speed, t float64) float64 {
	return math.Hypot(closest, speed*t)
}

// PassingTurn gives the rate, in rad/s, at which the camera of [Passing] must turn to keep
// the subject in the middle: fastest at the closest point, speed over distance.
func PassingTurn(closest, speed, t float64) float64 {
	distance := Passing(closest, speed, t)
	return speed * closest / (distance * distance)
}
