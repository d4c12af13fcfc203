package exposure

import "math"

// ShutterTime gives how long a frame is exposed, in seconds, at a shutter angle in
// radians, above 0 and at most a full turn, and a frame rate in frames per second.
//
// Source: encyclopaedia, "Shutter speed", cinematographic formula.
func ShutterTime(angle, rate float64) float64 {
	if !(angle > 0 && angle <= 2*math.Pi && rate > 0) {
		return math.NaN()
	}
	return angle / (2 * math.Pi * rate)
}
