package exposure

import "math"

// C is the calibration constant of incident light meters with a flat receptor, in
// lux seconds at ISO 1. ISO 2720 permits 240 to 400; meters with a dome use 320 to 340.
const C = 250

// K is the calibration constant of reflected light meters, in candela seconds per square
// metre at ISO 1. ISO 2720 permits 10.6 to 13.4.
const K = 12.5

// EV gives the exposure value of an illuminance in lux: E = 2.5 · 2^EV. lux is positive.
//
// Source: encyclopaedia, "Exposure value", with C = 250.
func EV(lux float64) float64 {
	if !(lux > 0) {
		return math.NaN()
	}
	return math.Log2(lux * 100 / C)
}

// Illuminance is the inverse of [EV], in lux.
func Illuminance(ev float64) float64 { return math.Exp2(ev) * C / 100 }

// EVOfLuminance gives the exposure value of a surface of the given luminance in candela
// per square metre, which is positive: L = 2^(EV-3).
//
// Source: encyclopaedia, "Exposure value", with K = 12.5.
func EVOfLuminance(luminance float64) float64 {
	if !(luminance > 0) {
		return math.NaN()
	}
	return math.Log2(luminance * 100 / K)
}

// Luminance is the inverse of [EVOfLuminance], in candela per square metre.
func Luminance(ev float64) float64 { return math.Exp2(ev) * K / 100 }

// EVOfSetting gives the exposure value that a stop and a time expose for at ISO 100:
// log2(N²/t). Both positive, t in seconds.
func EVOfSetting(stop, t float64) float64 {
	if !(stop > 0 && t > 0) {
		return math.NaN()
	}
	return math.Log2(stop * stop / t)
}
