package optics

import "math"

// AngleOfView gives the full angle, in radians, that a lens sees across extent metres of
// sensor, width, height or diagonal alike. magnification (0 for infinity) narrows it at
// close focus, as the lens moves away from the sensor. extent is positive; NaN when it is
// wider than the mapping's largest image.
//
// Source: photography wiki, "Field of view" (focal × (1+m), pupils of equal size).
func AngleOfView(p Projection, focal, extent, magnification float64) float64 {
	if !(extent > 0 && magnification >= 0) {
		return math.NaN()
	}
	return 2 * Angle(p, focal*(1+magnification), extent/2)
}

// Field gives the size, in metres, of what a rectilinear lens shows across extent metres
// of sensor at s metres from the lens: extent/m, s > focal > 0.
func Field(focal, extent, s float64) float64 {
	return extent / Magnification(focal, s)
}

// FieldAt is [Field] for any projection: the size of what is seen on a flat plane at s
// metres from the lens. It is +Inf when the lens sees 180 degrees or more.
func FieldAt(p Projection, focal, extent, s float64) float64 {
	angle := AngleOfView(p, focal, extent, Magnification(focal, s))
	if angle >= math.Pi {
		return math.Inf(1)
	}
	return 2 * s * math.Tan(angle/2)
}

// Share gives the part of a field that something of the given size fills, both in metres.
// size is not negative, field positive; +Inf is filled by nothing.
func Share(size, field float64) float64 {
	if !(size >= 0 && field > 0) {
		return math.NaN()
	}
	return size / field
}

// DistanceFor gives the distance from the lens, in metres, at which an object of
// objectSize metres has an image of imageExtent metres: s = f (1 + h/h'). All positive.
func DistanceFor(focal, imageExtent, objectSize float64) float64 {
	if !(focal > 0 && imageExtent > 0 && objectSize > 0) {
		return math.NaN()
	}
	return focal * (1 + objectSize/imageExtent)
}

// FocalFor gives the focal length, in metres, with which an object of the given size
// fills the share of extent metres of sensor at s metres from the lens. All positive.
func FocalFor(s, extent, size, share float64) float64 {
	if !(s > 0 && extent > 0 && size > 0 && share > 0) {
		return math.NaN()
	}
	m := share * extent / size
	return s * m / (1 + m)
}

// LongestFocal gives the longest focal length, in metres, that still fits an object into
// an image, both ways, at s metres from the lens.
func LongestFocal(s float64, image, object Frame) float64 {
	return min(FocalFor(s, image.Width, object.Width, 1), FocalFor(s, image.Height, object.Height, 1))
}
