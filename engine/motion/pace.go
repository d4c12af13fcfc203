package motion

import "math"

// TurnCrossing gives the time, in seconds, that a distant thing takes to cross the
// picture when the camera turns: the angle of view over the rate of turning. +Inf when
// it does not turn. Neither is negative.
func TurnCrossing(angleOfView, rate float64) float64 {
	if !(angleOfView > 0 && rate >= 0) {
		return math.NaN()
	}
	return angleOfView / rate
}

// LateralCrossing gives the time, in seconds, that a thing takes to cross the picture
// when it or the camera moves sideways: the width of the field at its distance over the
// speed. +Inf when nothing moves. Neither is negative.
func LateralCrossing(field, speed float64) float64 {
	if !(field > 0 && speed >= 0) {
		return math.NaN()
	}
	return field / speed
}

// OrbitCrossing gives the time, in seconds, that a distant background takes to cross the
// picture while the camera circles a subject at the radius and keeps it in the middle.
func OrbitCrossing(angleOfView, speed, radius float64) float64 {
	return TurnCrossing(angleOfView, OrbitTurn(speed, radius))
}

// OrbitTurn gives the rate, in rad/s, at which a camera on a circle of the radius turns.
func OrbitTurn(speed, radius float64) float64 {
	if !(speed >= 0 && radius > 0) {
		return math.NaN()
	}
	return speed / radius
}

// The rule of thumb: at this rate and shutter angle, a thing that crosses the picture in less
// time than this strobes.
const (
	shortestCrossing = 7
	ruleRate         = 24
	ruleAngle        = math.Pi
)

// Limit gives the shortest time, in seconds, that a thing should take to cross the
// picture at a frame rate and a shutter angle, both positive: 7 s · (24/rate) ·
// (180°/angle).
//
// Source: "Camera panning speed" and a second teaching page give 7 s as a rule of thumb
// for 24 frames per second and 180 degrees. The scaling is an extension of this project:
// twice the rate, or twice the exposure in each frame, allows twice the speed.
func Limit(rate, shutterAngle float64) float64 {
	if !(rate > 0 && shutterAngle > 0) {
		return math.NaN()
	}
	return shortestCrossing * (ruleRate / rate) * (ruleAngle / shutterAngle)
}

// BlurShare gives the length of the trail in one frame as a share of the picture, for a
// crossing time (which may be +Inf) and an exposure, both in seconds and positive.
func BlurShare(crossing, shutterTime float64) float64 {
	if !(crossing > 0 && shutterTime > 0) {
		return math.NaN()
	}
	return shutterTime / crossing
}
