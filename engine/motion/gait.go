package motion

import "math"

// A Gait is how an operator goes.
type Gait uint8

const (
	Still Gait = iota
	Walking
	Running
	Climbing // on stairs
)

// What a walk does to the operator's centre of mass, peak to peak in metres, at two speeds
// in m/s.
//
// Source: "The effect of walking speed on center of mass displacement", 2004; the figures
// from memory. A study of 1998 has 3.1 cm for the first half of stance alone.
const (
	slowPace = 0.7
	slowBob  = 0.0274
	fastPace = 1.6
	fastBob  = 0.0483
)

// The same for other gaits, at any speed. Assumptions of this project.
const (
	runBob    = 0.09 // runners are said to move 6 to 12 cm
	stairsBob = 0.06 // about a steady climb: a third of a riser of 18 cm
)

// Bob gives the rise and fall of the operator, in metres, peak to peak, at a speed in m/s
// that is not negative. That of a walk goes by straight lines from rest through the two
// published points, and no higher above the second, where a walk turns into a run.
func (g Gait) Bob(speed float64) float64 {
	if !(speed >= 0) {
		return math.NaN()
	}
	switch {
	case g == Still:
		return 0
	case g == Running:
		return runBob
	case g == Climbing:
		return stairsBob
	case speed < slowPace:
		return slowBob * speed / slowPace
	}
	beyond := min(speed, fastPace) - slowPace
	return slowBob + (fastBob-slowBob)*beyond/(fastPace-slowPace)
}

// How much more the view swings in the hands than when the operator stands, by the gait: a
// stabiliser's own figure is that of a held shot. Assumptions of this project: at a comfortable
// walk the swing about doubles, and stairs and a run go beyond.
const (
	walkUnrest   = 1.0 // more for each m/s, up to a walk that turns into a run
	mostOfWalk   = 2.0
	stairsUnrest = 2.5
	runUnrest    = 3.0
)

// Unrest gives the factor on the wobble of a rig, at a speed in m/s that is not negative: 1
// for who stands.
func (g Gait) Unrest(speed float64) float64 {
	if !(speed >= 0) {
		return math.NaN()
	}
	switch g {
	case Running:
		return runUnrest
	case Climbing:
		return stairsUnrest
	case Walking:
		return min(1+walkUnrest*speed, mostOfWalk)
	}
	return 1
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
