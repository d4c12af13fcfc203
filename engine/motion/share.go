package motion

import "math"

// ShiftShare gives what a camera that goes up and down or from side to side moves the picture: its
// way, in metres, as a share of the same side of the field at the subject, in metres.
func ShiftShare(way, field float64) float64 {
	if !(way >= 0 && field > 0) {
		return math.NaN()
	}
	return way / field
}

// StepShare joins what a step moves the picture up and down, as a share of its height, with what
// the sway moves it to the sides, as a share of its width. The sway comes once where the bob comes
// twice, so that the same way is half as fast: as mean square speeds, the sway counts by half.
func StepShare(bob, sway float64) float64 { return math.Hypot(bob, sway/2) }

// WobbleShare gives what a wobble of the camera by an angle moves the picture, as a share
// of it. Both angles in radians, the angle of view positive.
func WobbleShare(wobble, angleOfView float64) float64 {
	if !(wobble >= 0 && angleOfView > 0) {
		return math.NaN()
	}
	return wobble / angleOfView
}
