package optics

import "math"

// Hyperfocal gives the nearest distance from the lens, in metres, at which to focus so
// that infinity is still sharp: f²/(N c) + f, with the stop N and the circle of confusion
// in metres. All positive. Half of it is the near limit.
//
// Source: encyclopaedia, "Hyperfocal distance".
func Hyperfocal(focal, stop, confusion float64) float64 {
	return reach(focal, stop, confusion) + focal
}

// reach is f²/(N c): the near limit of a lens set to infinity.
func reach(focal, stop, confusion float64) float64 {
	if !(focal > 0 && stop > 0 && confusion > 0) {
		return math.NaN()
	}
	return focal * focal / (stop * confusion)
}

// Limits gives the near and far limit of what is sharp, in metres from the lens, when it
// is focused at s > focal; s may be +Inf. far is +Inf from the hyperfocal distance on.
// With h = f²/(N c): near = s h/(h+(s-f)), far = s h/(h-(s-f)).
//
// Source: encyclopaedia, "Depth of field".
func Limits(focal, stop, confusion, s float64) (near, far float64) {
	h := reach(focal, stop, confusion)
	switch {
	case math.IsNaN(h) || !(s > focal):
		return math.NaN(), math.NaN()
	case math.IsInf(s, 1):
		return h, s
	}
	// In this form near <= s <= far holds to the last bit.
	x := (s - focal) / h
	if x >= 1 {
		return s / (1 + x), math.Inf(1)
	}
	return s / (1 + x), s / (1 - x)
}

// FocusMark gives the distance from the lens at which to focus so that near and far are
// equally sharp: their harmonic mean, exact for the thin lens. 0 < near <= far; far may
// be +Inf.
//
// Source: encyclopaedia, "Depth of field".
func FocusMark(near, far float64) float64 {
	if !(near > 0) || !(far >= near) {
		return math.NaN()
	}
	if math.IsInf(near, 1) {
		return near
	}
	return 2 * near / (1 + near/far)
}

// StopFor gives the widest f-number that holds everything from near to far, in metres
// from the lens, when the lens is focused at their [FocusMark]:
// N = f²(F-n)/(c (F(n-f) + n(F-f))). focal < near <= far; far may be +Inf. It is 0 for a
// single plane.
//
// Source: encyclopaedia, "Depth of field", solved for N without approximation.
func StopFor(focal, confusion, near, far float64) float64 {
	if !(focal > 0 && confusion > 0 && near > focal && far >= near) {
		return math.NaN()
	}
	if math.IsInf(near, 1) {
		return 0
	}
	return focal * focal * (1 - near/far) / (confusion * (near - focal + near*(1-focal/far)))
}

// BalancedMark gives the distance from the lens at which to focus so that the reserve is the
// same share near and far of the distances from the sensor plane, which lies behind the lens by
// an offset: with n and F those, what is sharp begins at near - r n and ends at far + r F, with r
// the root of
//
//	2 d n F r² + (n (1 - d f) + F (1 + d f) + 2 d offset (F - n)) r + far (1 + d f) - near (1 - d f) - 2 d near far = 0
//
// and d = N c/f². near and far are from the lens, in metres, focal < near <= far. r is negative
// where not all of it can be sharp.
//
// Source: thin lens, exact: the limits of what is sharp are so related that
// far (1 + d f) - near (1 - d f) = 2 d near far.
func BalancedMark(focal, stop, confusion, near, far, offset float64) float64 {
	if math.IsInf(far, 1) {
		return Hyperfocal(focal, stop, confusion) // nearer, and infinity is not sharp
	}
	d := 1 / reach(focal, stop, confusion)
	n, f, above, below := near+offset, far+offset, 1+d*focal, 1-d*focal
	a, b, c := 2*d*n*f, n*below+f*above+2*d*offset*(far-near), far*above-near*below-2*d*near*far
	// In this form nothing cancels where the depth is small.
	r := -2 * c / (b + math.Sqrt(b*b-4*a*c))
	return FocusMark(near-r*n, far+r*f)
}

// TooNear reports whether a distance from the sensor plane is nearer than any thin lens of
// the focal length focuses: four times the focal length, at life size.
func TooNear(focal, fromSensor float64) bool { return fromSensor < 4*focal }

// Blur gives the diameter of the disc on the sensor, in metres, that a point at x metres
// from the lens makes when the lens is focused at s: |x-s|/x · f²/(N (s-f)). s > focal,
// x > 0; both may be +Inf.
//
// Source: encyclopaedia, "Depth of field".
func Blur(focal, stop, s, x float64) float64 {
	if !(focal > 0 && stop > 0 && s > focal && x > 0) {
		return math.NaN()
	}
	return math.Abs(1/s-1/x) * focal * focal / (stop * (1 - focal/s))
}

// Wavelength is that of green light, in metres, to which the eye and a sensor's luminance
// are most sensitive.
const Wavelength = 550e-9

// airy is the diameter of the first dark ring of the diffraction figure, over wavelength
// and f-number.
//
// Source: optics maker's notes, "The Airy Disk and Diffraction Limit".
const airy = 2.44

// Airy gives the diameter of the diffraction disc on the sensor, in metres: 2.44 λ N.
func Airy(wavelength, stop float64) float64 {
	if !(wavelength > 0 && stop > 0) {
		return math.NaN()
	}
	return airy * wavelength * stop
}

// DiffractionStop gives the f-number at which the diffraction disc is as large as the
// circle of confusion; stopping down further blurs the whole picture.
func DiffractionStop(wavelength, confusion float64) float64 {
	if !(wavelength > 0 && confusion > 0) {
		return math.NaN()
	}
	return confusion / (airy * wavelength)
}
