package people

import "math"

// A Gait is how an operator goes.
type Gait uint8

const (
	Still Gait = iota
	Walking
	Running
	Climbing // on stairs
)

// An Estimate is a figure of one person who is not known: the mean, and between what nineteen of
// twenty people lie, or an assumption with its range.
type Estimate struct{ Mean, Low, High float64 }

func (id ID) estimate() Estimate {
	low, high := id.Range()
	return Estimate{id.Value(), low, high}
}

var unknown = Estimate{math.NaN(), math.NaN(), math.NaN()}

// The speeds, in m/s, between which walks were measured.
const (
	slowestMeasured = 0.8
	fastestMeasured = 1.5
)

// Bob gives the rise and fall of the operator, in metres, peak to peak, once a step, at a speed in
// m/s that is not negative. That of a walk goes with the speed up to the fastest walk. The spread
// is taken to do so up to the slowest walk that was measured.
func (g Gait) Bob(speed float64) Estimate {
	switch {
	case !(speed >= 0):
		return unknown
	case g == Still:
		return Estimate{}
	case g == Running:
		return RunBob.estimate()
	case g == Climbing:
		return StairsBob.estimate()
	}
	speed = min(speed, FastestWalk.Value())
	spread := table[WalkBob].Spread * min(1, speed/slowestMeasured)
	mean := WalkBob.Value() * speed
	return Estimate{mean, max(0, mean-2*spread), mean + 2*spread}
}

// Sway gives how far the operator's shoulders go from side to side, in metres, peak to peak, once
// in two steps, at a speed in m/s that is not negative. Who stands drifts, and sways at no step.
func (g Gait) Sway(speed float64) Estimate {
	switch {
	case !(speed >= 0):
		return unknown
	case g == Still || speed == 0:
		return Estimate{}
	case g == Running:
		return RunSway.estimate()
	case g == Climbing:
		return StairsSway.estimate()
	}
	speed = max(slowestMeasured, min(speed, fastestMeasured))
	pelvis := WalkSway.Value() - WalkSwayFalls.Value()*(speed-1)
	mean := SwayOfShoulders.Value() * pelvis
	spread := mean * math.Hypot(table[WalkSway].Spread/pelvis, table[SwayOfShoulders].Spread/SwayOfShoulders.Value())
	return Estimate{mean, mean - 2*spread, mean + 2*spread}
}

// Unrest gives how many times more than held still the view swings in the hands, at a speed in m/s
// that is not negative: 1 for who stands, since a stabiliser's own figure is that of a held shot.
// In a walk it rises with the speed up to 1 m/s.
func (g Gait) Unrest(speed float64) float64 {
	switch {
	case !(speed >= 0):
		return math.NaN()
	case g == Running:
		return RunUnrest.Value()
	case g == Climbing:
		return StairsUnrest.Value()
	case g == Walking:
		return 1 + (WalkUnrest.Value()-1)*min(1, speed)
	}
	return 1
}
