package optics

import "math"

// AdapterThickness gives the thickness of the adapter that puts a lens on a body, in
// metres, from their flange focal distances. It is NaN when the lens cannot reach
// infinity through a plain adapter: its flange distance must be the greater one.
//
// Source: encyclopaedia, "Flange focal distance".
func AdapterThickness(lensFlange, bodyFlange float64) float64 {
	if !(lensFlange > bodyFlange) {
		return math.NaN()
	}
	return lensFlange - bodyFlange
}
