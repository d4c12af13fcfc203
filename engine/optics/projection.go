package optics

import "math"

// A Projection is how a lens maps the angle from its axis to the distance from the
// middle of the picture.
type Projection uint8

// The mappings: the one that keeps lines straight, and the four of fisheye lenses.
//
// Source: optics glossary, "Fisheye types".
const (
	Rectilinear   Projection = iota // r = f tan θ
	Stereographic                   // r = 2f tan(θ/2)
	Equidistant                     // r = f θ
	Equisolid                       // r = 2f sin(θ/2)
	Orthographic                    // r = f sin θ
)

var projectionNames = [...]string{"rectilinear", "stereographic", "equidistant", "equisolid", "orthographic"}

// String gives the word for the projection.
func (p Projection) String() string {
	if int(p) >= len(projectionNames) {
		return "invalid projection"
	}
	return projectionNames[p]
}

// ParseProjection gives the projection that a word stands for, and whether there is one.
func ParseProjection(word string) (Projection, bool) {
	for i, name := range projectionNames {
		if name == word {
			return Projection(i), true
		}
	}
	return 0, false
}

// sees reports whether the mapping has an image for the angle.
func (p Projection) sees(theta float64) bool {
	theta = math.Abs(theta)
	switch p {
	case Rectilinear:
		return theta < math.Pi/2
	case Stereographic:
		return theta < math.Pi
	case Equidistant, Equisolid:
		return theta <= math.Pi
	case Orthographic:
		return theta <= math.Pi/2
	}
	return false
}

// Radius gives the distance from the middle of the picture, in metres, of what lies at
// the angle theta from the axis; it has the sign of theta. focal is positive. NaN where
// the mapping has no image: from 90 degrees on for rectilinear, beyond 90 for
// orthographic, from 180 on for stereographic, beyond 180 for the others.
func Radius(p Projection, focal, theta float64) float64 {
	if !(focal > 0) || !p.sees(theta) {
		return math.NaN()
	}
	switch p {
	case Rectilinear:
		return focal * math.Tan(theta)
	case Stereographic:
		return 2 * focal * math.Tan(theta/2)
	case Equidistant:
		return focal * theta
	case Equisolid:
		return 2 * focal * math.Sin(theta/2)
	default:
		return focal * math.Sin(theta)
	}
}

// Angle is the inverse of [Radius]: the angle from the axis, in radians, that is seen at
// the distance radius from the middle of the picture. NaN outside the largest image that
// the mapping forms.
func Angle(p Projection, focal, radius float64) float64 {
	if !(focal > 0) {
		return math.NaN()
	}
	r := radius / focal
	switch p {
	case Rectilinear:
		return math.Atan(r)
	case Stereographic:
		return 2 * math.Atan(r/2)
	case Equidistant:
		if math.Abs(r) > math.Pi {
			return math.NaN()
		}
		return r
	case Equisolid:
		return 2 * math.Asin(r/2)
	case Orthographic:
		return math.Asin(r)
	}
	return math.NaN()
}

// RadialScale gives the scale of the picture at the angle theta from the axis, along the
// line from the middle, relative to the scale in the middle: (dr/dθ)/f. NaN where the
// mapping has no image.
//
// Source: optics glossary, "Fisheye types".
func RadialScale(p Projection, theta float64) float64 {
	if !p.sees(theta) {
		return math.NaN()
	}
	switch p {
	case Rectilinear:
		c := math.Cos(theta)
		return 1 / (c * c)
	case Stereographic:
		c := math.Cos(theta / 2)
		return 1 / (c * c)
	case Equidistant:
		return 1
	case Equisolid:
		return math.Cos(theta / 2)
	default:
		return math.Cos(theta)
	}
}

// TangentialScale is the scale across the line from the middle, relative to the scale in
// the middle: r/(f sin θ). Domain and source as for [RadialScale].
func TangentialScale(p Projection, theta float64) float64 {
	if !p.sees(theta) {
		return math.NaN()
	}
	switch p {
	case Rectilinear:
		return 1 / math.Cos(theta)
	case Stereographic:
		c := math.Cos(theta / 2)
		return 1 / (c * c)
	case Equidistant:
		if theta == 0 {
			return 1
		}
		return theta / math.Sin(theta)
	case Equisolid:
		return 1 / math.Cos(theta/2)
	default:
		return 1
	}
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
