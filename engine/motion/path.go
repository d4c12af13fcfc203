package motion

import "math"

// A Way is how a camera moves relative to its subject.
type Way uint8

const (
	Standing    Way = iota // the camera stands, and may turn
	Behind                 // after a subject that walks away, looking where both go
	Before                 // before a subject that walks up, looking back at it
	Beside                 // with a subject, looking across the way
	Circling               // around the subject, looking inwards
	Approaching            // straight at the subject
	Retreating             // straight away from it
	Rising                 // on a straight line across the view, past the subject
)

// Backwards reports whether the operator walks away from where the camera looks.
func (w Way) Backwards() bool { return w == Before || w == Retreating }

// A Path is a camera's move from the farthest to the nearest distance of its subject, or
// the other way when it retreats. Distances in metres, the nearest above 0; speeds in m/s
// and not negative.
type Path struct {
	Way       Way
	Near, Far float64
	Speed     float64 // along the path
	Turn      float64 // of a pan, rad/s; counts only when standing
}

// A State is what the camera does at one moment of its path.
type State struct {
	Distance float64 // of the subject, m
	Closing  float64 // speed at which that distance shrinks, m/s; NaN when only its ends are known
	Advance  float64 // speed along the view towards the background, m/s; negative backwards
	Sweep    float64 // speed across the view, m/s
	Turn     float64 // rate at which the view turns, rad/s
}

// Duration gives how long the path takes, in seconds: for a circle one whole turn. NaN
// where the distances do not settle it, as when camera and subject walk together.
func (p Path) Duration() float64 {
	if !p.valid() {
		return math.NaN()
	}
	switch p.Way {
	case Approaching, Retreating:
		return (p.Far - p.Near) / p.Speed
	case Circling:
		return 2 * math.Pi / OrbitTurn(p.Speed, p.middle())
	case Rising:
		return p.reach() / p.Speed
	}
	return math.NaN()
}

func (p Path) valid() bool { return p.Near > 0 && p.Far >= p.Near && p.Speed >= 0 }

func (p Path) middle() float64 { return (p.Near + p.Far) / 2 }

// reach is the way of a rising camera from its farthest to its nearest.
func (p Path) reach() float64 { return math.Sqrt(p.Far*p.Far - p.Near*p.Near) }

// At gives the state after a share of the path, from 0 to 1.
func (p Path) At(share float64) State {
	if !p.valid() || !(share >= 0 && share <= 1) {
		nan := math.NaN()
		return State{nan, nan, nan, nan, nan}
	}
	t := share * p.Duration()
	s := State{Distance: p.Far + share*(p.Near-p.Far), Closing: math.NaN()}
	if p.Near == p.Far {
		s.Closing = 0
	}
	switch p.Way {
	case Standing:
		s.Turn = p.Turn
	case Behind:
		s.Advance = p.Speed
	case Before:
		s.Advance = -p.Speed
	case Beside:
		s.Sweep = p.Speed
	case Circling:
		s.Turn = OrbitTurn(p.Speed, s.Distance)
	case Approaching:
		s.Closing, s.Advance = p.Speed, p.Speed
	case Retreating:
		s.Distance = p.Near + share*(p.Far-p.Near)
		s.Closing, s.Advance = -p.Speed, -p.Speed
	case Rising:
		s.Sweep = p.Speed
		if p.Far > p.Near && p.Speed > 0 {
			before := p.reach()/p.Speed - t // until it is nearest
			s.Distance = passing(p.Near, p.Speed, before)
			s.Closing = p.Speed * p.Speed * before / s.Distance
		}
	}
	return s
}

// passing gives the distance of a camera that passes its subject on a straight line, t
// seconds after the closest point, or before it for a negative t.
func passing(closest, speed, t float64) float64 { return math.Hypot(closest, speed*t) }

// EdgeRate gives how fast a thing at the edge of the picture moves in it, in widths a
// second, when its distance changes at a speed: half the picture, times speed over
// distance. Both in SI, the distance positive.
func EdgeRate(speed, distance float64) float64 {
	if !(distance > 0) {
		return math.NaN()
	}
	return math.Abs(speed) / (2 * distance)
}
