package motion

import "math"

// Passing gives the distance, in metres, of a camera that passes its subject on a
// straight line, t seconds after the closest point (before it for a negative t).
func Passing(closest, speed, t float64) float64 {
	return math.Hypot(closest, speed*t)
}
