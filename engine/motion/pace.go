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

// CircleCrossing gives the time, in seconds, that a point of the background takes to cross the
// picture while the lens goes around a circle and looks inwards: from one edge to the other, of a
// point that passes the middle. The angle of view and the rate of turning are in rad and rad/s, the
// radius of the circle and the distance of the background from the lens in metres; +Inf is a
// background that is far away. On a circle of no radius the lens only turns.
//
// Seen from the lens the point goes around the middle of the circle, as far behind it as the
// background is: its angle there is that in the picture and, by the law of sines, asin(radius
// sin(angle) / beyond). Near the middle of the picture that is the rate v/r - v/D of a camera at the
// speed v. A point so near the middle of the circle that it never leaves the picture goes to and
// fro in it: then it is the time in which it would cross at its mean speed.
func CircleCrossing(angleOfView, turn, radius, background float64) float64 {
	if !(radius >= 0 && background > 0) {
		return math.NaN()
	}
	straight := TurnCrossing(angleOfView, turn)
	beyond := background - radius
	if beyond == 0 {
		return straight * math.Inf(1)
	}
	edge := angleOfView / 2
	if far := math.Abs(beyond); far < radius {
		edge = min(edge, math.Asin(far/radius))
	}
	parallax := math.Asin(max(-1, min(radius*math.Sin(edge)/beyond, 1)))
	return straight * math.Abs(1+parallax/edge)
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
