package balance

import "math"

// G is the standard acceleration of free fall, in m/s².
const G = 9.80665

// quarter is EllipticK(1/2): the time from horizontal to vertical over √(I/(m g d)).
//
// Source: OEIS A093341.
const quarter = 1.854074677301371918

// EllipticK gives the complete elliptic integral of the first kind of the parameter
// m = k², below 1, by the arithmetic-geometric mean. It is +Inf at 1.
//
// It gives the value of OEIS A093341 at 1/2 to its last digit.
func EllipticK(m float64) float64 {
	if !(m <= 1) || math.IsInf(m, -1) {
		return math.NaN()
	}
	a, b := 1.0, math.Sqrt(1-m)
	if b == 0 {
		return math.Inf(1)
	}
	// The difference squares itself each round; below this it is nothing in the next.
	for math.Abs(a-b) > 1e-8*a {
		a, b = (a+b)/2, math.Sqrt(a*b)
	}
	return math.Pi / (a + b)
}

// swing is √(I/(m g d)), in seconds.
func swing(inertia, mass, offset float64) float64 {
	if !(inertia > 0 && mass > 0 && offset > 0) {
		return math.NaN()
	}
	return math.Sqrt(inertia / (mass * G * offset))
}

// DropTime gives the time, in seconds, that a sled let go at horizontal takes to vertical:
// K(1/√2) √(I/(m g d)), without friction. offset is how far the centre of mass lies below
// the gimbal. All positive; a sled with its centre of mass above the gimbal does not drop
// and gives NaN.
//
// Source: encyclopaedia, "Pendulum (mathematics)", arbitrary amplitude, for a quarter of
// a swing of 90 degrees.
func DropTime(inertia, mass, offset float64) float64 {
	return quarter * swing(inertia, mass, offset)
}

// perOffset is I/(m d) for a drop time.
func perOffset(drop float64) float64 {
	if !(drop > 0) {
		return math.NaN()
	}
	return G * (drop / quarter) * (drop / quarter)
}

// InertiaForDrop solves [DropTime] for the moment of inertia, in kg m².
func InertiaForDrop(drop, mass, offset float64) float64 {
	if !(mass > 0 && offset > 0) {
		return math.NaN()
	}
	return perOffset(drop) * mass * offset
}

// MassForDrop solves [DropTime] for the mass, in kg.
func MassForDrop(drop, inertia, offset float64) float64 {
	if !(inertia > 0 && offset > 0) {
		return math.NaN()
	}
	return inertia / (perOffset(drop) * offset)
}

// OffsetForDrop solves [DropTime] for the offset, in metres, at a given moment of
// inertia. The offset that moving a mass gives changes the inertia too: see [Combine].
func OffsetForDrop(drop, inertia, mass float64) float64 {
	if !(inertia > 0 && mass > 0) {
		return math.NaN()
	}
	return inertia / (perOffset(drop) * mass)
}

// Period gives the time of a full small swing, in seconds: 2π √(I/(m g d)). All positive.
func Period(inertia, mass, offset float64) float64 {
	return 2 * math.Pi * swing(inertia, mass, offset)
}

// PeriodAt is [Period] for a swing of any amplitude, in radians from hanging, at least 0
// and below π: 4 K(sin(θ/2)) √(I/(m g d)).
func PeriodAt(inertia, mass, offset, amplitude float64) float64 {
	if !(amplitude >= 0 && amplitude < math.Pi) {
		return math.NaN()
	}
	k := math.Sin(amplitude / 2)
	return 4 * EllipticK(k*k) * swing(inertia, mass, offset)
}

// Tilt gives the angle, in radians, at which a sled of the given mass and offset comes to
// rest when a part of it, shifted mass, moves by the distance across: atan(m x/(M d)). The
// sign is that of the distance.
func Tilt(shifted, distance, mass, offset float64) float64 {
	if !(shifted >= 0 && mass > 0 && offset > 0) {
		return math.NaN()
	}
	return math.Atan(shifted * distance / (mass * offset))
}
