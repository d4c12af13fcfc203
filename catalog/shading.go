package catalog

import "math"

// ShadingAt gives the coefficients for a setting: focal length and distance in metres, stop
// as f-number. They are the mean of the measured settings, weighted by 1/d^3.5 (Shepard's
// method). In d the focal length counts as a share of the lens's range from low to high,
// the stop as 4/N and the distance as 0.1/s. It is false if the nearest setting has d > 1,
// and if none was measured.
//
// Source: interpolation of the open lens-correction database's C library, release 0.3.
func (c *Correction) ShadingAt(focal, stop, distance, low, high float64) (terms [3]float64, ok bool) {
	const power, same, farthest = 3.5, 1e-4, 1
	total, nearest := 0.0, math.Inf(1)
	for i := range c.Shadings {
		s := &c.Shadings[i]
		apart := s.Focal.Value - focal
		if high > low {
			apart /= high - low
		} else {
			apart *= 1000 // for a prime, in millimetres
		}
		d := math.Hypot(math.Hypot(apart, 4/stop-4/s.Stop.Value), 0.1/distance-0.1/s.Distance.Value)
		if d < same {
			return s.Terms, true
		}
		weight := math.Pow(d, -power)
		for j, term := range s.Terms {
			terms[j] += weight * term
		}
		total += weight
		nearest = min(nearest, d)
	}
	if total == 0 || nearest > farthest {
		return [3]float64{}, false
	}
	for j := range terms {
		terms[j] /= total
	}
	return terms, true
}

// Brightness gives the light at a radius from the middle of the sensor, in metres, as a
// share of the light in the middle. It is NaN if shading is not known at the setting, and
// where the model gives no light.
func (c *Correction) Brightness(lens *Lens, focal, stop, distance, radius float64) float64 {
	terms, ok := c.ShadingAt(focal, stop, distance, lens.Focal.Low.Value, lens.Focal.High.Value)
	if !ok {
		return math.NaN()
	}
	r := radius / c.halfDiagonal()
	light := 1 + r*r*(terms[0]+r*r*(terms[1]+r*r*terms[2]))
	if light <= 0 {
		return math.NaN()
	}
	return light
}

// Falloff gives the light lost at a radius, in stops; see [Correction.Brightness].
func (c *Correction) Falloff(lens *Lens, focal, stop, distance, radius float64) float64 {
	return -math.Log2(c.Brightness(lens, focal, stop, distance, radius))
}
