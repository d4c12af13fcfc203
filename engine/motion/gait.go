package motion

import "math"

// What a walk does to the operator's centre of mass, peak to peak, at two speeds.
//
// Source: "The effect of walking speed on center of mass displacement", 2004; the figures
// from memory. A study of 1998 has 3.1 cm for the first half of stance
// alone.
const (
	slowPace = 0.7 // m/s
	slowBob  = 0.0274
	fastPace = 1.6
	fastBob  = 0.0483
)

// RunBob is the rise and fall of a running operator, in metres, peak to peak. An
// assumption of this project; runners are said to move 6 to 12 cm.
const RunBob = 0.09

// StairsBob is the rise and fall about a steady climb on stairs, in metres, peak to peak.
// An assumption of this project: a third of a riser of 18 cm.
const StairsBob = 0.06

// Bob gives the rise and fall of a walking operator, in metres, peak to peak, at a speed
// in m/s that is not negative: by straight lines from rest through the two published
// points, and no more above the second, where a walk turns into a run.
func Bob(speed float64) float64 {
	switch {
	case !(speed >= 0):
		return math.NaN()
	case speed < slowPace:
		return slowBob * speed / slowPace
	}
	beyond := min(speed, fastPace) - slowPace
	return slowBob + (fastBob-slowBob)*beyond/(fastPace-slowPace)
}

// BobShare gives a rise and fall in metres as a share of the height of the field, in
// metres, at the subject.
func BobShare(bob, field float64) float64 {
	if !(bob >= 0 && field > 0) {
		return math.NaN()
	}
	return bob / field
}

// WobbleShare gives what a wobble of the camera by an angle moves the picture, as a share
// of it. Both angles in radians, the angle of view positive.
func WobbleShare(wobble, angleOfView float64) float64 {
	if !(wobble >= 0 && angleOfView > 0) {
		return math.NaN()
	}
	return wobble / angleOfView
}
