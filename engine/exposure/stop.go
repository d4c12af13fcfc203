package exposure

import "math"

// The three functions that follow solve the incident light equation N²/t = E S/C for one
// of its terms. Source: ISO 2720.

// Stop gives the T-number that exposes for lux at an ISO speed and a time in seconds. All
// positive.
func Stop(lux, iso, t float64) float64 {
	if !(lux > 0 && iso > 0 && t > 0) {
		return math.NaN()
	}
	return math.Sqrt(lux * iso * t / C)
}

// ISO gives the speed that exposes for lux at a T-number and a time in seconds. All
// positive.
func ISO(lux, tStop, t float64) float64 {
	if !(lux > 0 && tStop > 0 && t > 0) {
		return math.NaN()
	}
	return tStop * tStop * C / (lux * t)
}

// Lux gives the illuminance that a T-number, an ISO speed and a time in seconds expose
// for. All positive.
func Lux(tStop, iso, t float64) float64 {
	if !(tStop > 0 && iso > 0 && t > 0) {
		return math.NaN()
	}
	return tStop * tStop * C / (iso * t)
}

// StopsBetween gives how many stops one stop lets through less than another: positive
// when to is the larger number. Both positive.
func StopsBetween(from, to float64) float64 {
	if !(from > 0 && to > 0) {
		return math.NaN()
	}
	return 2 * math.Log2(to/from)
}

// TStop gives the T-number of a lens of f-number stop that lets through the share
// transmittance of the light, above 0 and at most 1.
//
// Source: encyclopaedia, "F-number".
func TStop(stop, transmittance float64) float64 {
	if !(stop > 0 && transmittance > 0 && transmittance <= 1) {
		return math.NaN()
	}
	return stop / math.Sqrt(transmittance)
}
