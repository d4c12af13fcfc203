package balance

import "math"

// A Load is a part of a sled.
type Load struct {
	Mass    float64 // kg
	Height  float64 // of its centre of mass above the gimbal, m; negative below
	Forward float64 // of its centre of mass ahead of the post, m; negative behind
	Inertia float64 // about its own centre of mass, across the sled, kg m²
}

// Join gives several loads as one: their mass, the place of their common centre of mass,
// and their moment of inertia about it, by the parallel axis theorem. Without mass there
// is no centre: NaN.
func Join(loads ...Load) Load {
	var all Load
	for _, l := range loads {
		all.Mass += l.Mass
		all.Height += l.Mass * l.Height
		all.Forward += l.Mass * l.Forward
	}
	all.Height /= all.Mass
	all.Forward /= all.Mass
	for _, l := range loads {
		up, ahead := l.Height-all.Height, l.Forward-all.Forward
		all.Inertia += l.Inertia + l.Mass*(up*up+ahead*ahead)
	}
	return all
}

// Combine gives the mass of all loads, how far their common centre of mass lies below the
// gimbal (negative above), and their moment of inertia about the gimbal's axis of tilt.
// Without mass there is no centre: NaN.
func Combine(loads ...Load) (mass, offset, inertia float64) {
	moment := 0.0
	for _, l := range loads {
		mass += l.Mass
		moment += l.Mass * l.Height
		inertia += l.Inertia + l.Mass*(l.Height*l.Height+l.Forward*l.Forward)
	}
	if !(mass > 0) {
		return mass, math.NaN(), inertia
	}
	return mass, -moment / mass, inertia
}
