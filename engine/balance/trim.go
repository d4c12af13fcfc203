package balance

import "math"

// A Load is a part of a sled.
type Load struct {
	Mass    float64 // kg
	Height  float64 // of its centre of mass above the gimbal, m; negative below
	Inertia float64 // about its own centre of mass, kg m²
}

// Combine gives the mass of all loads, how far their common centre of mass lies below the
// gimbal (negative above), and their moment of inertia about the gimbal, by the parallel
// axis theorem. Without mass there is no centre: NaN.
func Combine(loads ...Load) (mass, offset, inertia float64) {
	moment := 0.0
	for _, l := range loads {
		mass += l.Mass
		moment += l.Mass * l.Height
		inertia += l.Inertia + l.Mass*l.Height*l.Height
	}
	if !(mass > 0) {
		return mass, math.NaN(), inertia
	}
	return mass, -moment / mass, inertia
}
