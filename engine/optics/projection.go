package optics

import (
	"math"
	"slices"
)

// A Projection is how a lens maps the angle from its axis to the distance from the
// middle of the picture.
type Projection uint8

// The mappings: the one that keeps lines straight, and the four of fisheye lenses.
const (
	Rectilinear Projection = iota
	Stereographic
	Equidistant
	Equisolid
	Orthographic
)

// A mapping is one projection: in units of the focal length, the radius of what lies at an
// angle from the axis, the inverse of that, and its derivative; and the angle up to which
// there is an image.
type mapping struct {
	name, formula         string
	widest                float64 // angle, rad
	reached               bool    // there is an image at the widest angle itself
	radius, angle, radial func(float64) float64
}

// Source: optics glossary, "Fisheye types".
var mappings = [...]mapping{
	{"rectilinear", "r = f·tan θ", math.Pi / 2, false, math.Tan, math.Atan, func(theta float64) float64 { return inverseSquare(math.Cos(theta)) }},
	{"stereographic", "r = 2f·tan(θ/2)", math.Pi, false,
		func(theta float64) float64 { return 2 * math.Tan(theta/2) },
		func(r float64) float64 { return 2 * math.Atan(r/2) },
		func(theta float64) float64 { return inverseSquare(math.Cos(theta / 2)) }},
	{"equidistant", "r = f·θ", math.Pi, true,
		func(theta float64) float64 { return theta },
		func(r float64) float64 {
			if math.Abs(r) > math.Pi {
				return math.NaN()
			}
			return r
		},
		func(float64) float64 { return 1 }},
	{"equisolid", "r = 2f·sin(θ/2)", math.Pi, true,
		func(theta float64) float64 { return 2 * math.Sin(theta/2) },
		func(r float64) float64 { return 2 * math.Asin(r/2) },
		func(theta float64) float64 { return math.Cos(theta / 2) }},
	{"orthographic", "r = f·sin θ", math.Pi / 2, true, math.Sin, math.Asin, math.Cos},
}

func inverseSquare(x float64) float64 { return 1 / (x * x) }

// String gives the word for the projection.
func (p Projection) String() string { return mappings[p].name }

// Formula gives the mapping: r is the radius in the picture, θ the angle off the axis.
func (p Projection) Formula() string { return mappings[p].formula }

// Projections lists the words for the projections, in a new slice.
func Projections() []string {
	var names []string
	for _, m := range mappings {
		names = append(names, m.name)
	}
	return names
}

// ParseProjection gives the projection that a word stands for, and whether there is one.
func ParseProjection(word string) (Projection, bool) {
	i := slices.IndexFunc(mappings[:], func(m mapping) bool { return m.name == word })
	return Projection(max(i, 0)), i >= 0
}

// sees reports whether the mapping has an image for the angle.
func (p Projection) sees(theta float64) bool {
	if int(p) >= len(mappings) {
		return false
	}
	m, theta := &mappings[p], math.Abs(theta)
	return theta < m.widest || m.reached && theta == m.widest
}

// Radius gives the distance from the middle of the picture, in metres, of what lies at
// the angle theta from the axis; it has the sign of theta. focal is positive. NaN where
// the mapping has no image: from 90 degrees on for rectilinear, beyond 90 for
// orthographic, from 180 on for stereographic, beyond 180 for the others.
func Radius(p Projection, focal, theta float64) float64 {
	if !(focal > 0) || !p.sees(theta) {
		return math.NaN()
	}
	return focal * mappings[p].radius(theta)
}

// Angle is the inverse of [Radius]: the angle from the axis, in radians, that is seen at
// the distance radius from the middle of the picture. NaN outside the largest image that
// the mapping forms.
func Angle(p Projection, focal, radius float64) float64 {
	if !(focal > 0) || int(p) >= len(mappings) {
		return math.NaN()
	}
	return mappings[p].angle(radius / focal)
}

// RadialScale gives the scale of the picture at the angle theta from the axis, along the
// line from the middle, relative to the scale in the middle: (dr/dθ)/f. NaN where the
// mapping has no image.
func RadialScale(p Projection, theta float64) float64 {
	if !p.sees(theta) {
		return math.NaN()
	}
	return mappings[p].radial(theta)
}

// TangentialScale is the scale across the line from the middle, relative to the scale in
// the middle: r/(f sin θ). Domain as for [RadialScale].
func TangentialScale(p Projection, theta float64) float64 {
	switch {
	case !p.sees(theta):
		return math.NaN()
	case theta == 0:
		return 1
	}
	return mappings[p].radius(theta) / math.Sin(theta)
}

// Bend gives how far a mapping departs from the rectilinear one at a distance from the
// middle of the picture, as a share: radius over the radius at which a rectilinear lens
// would show the same thing, less 1. Negative bends lines as a barrel; it is 0 for
// rectilinear and -1 for what lies 90 degrees or more from the axis. NaN where the
// mapping has no image.
func Bend(p Projection, focal, radius float64) float64 {
	theta := math.Abs(Angle(p, focal, radius))
	switch {
	case math.IsNaN(theta):
		return theta
	case p == Rectilinear || theta == 0:
		return 0
	case theta >= math.Pi/2:
		return -1
	}
	return math.Abs(radius)/(focal*math.Tan(theta)) - 1
}
