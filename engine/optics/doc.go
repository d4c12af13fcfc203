// Package optics holds the geometry of a lens before a sensor: formats and mounts, the
// field a lens covers, what it does to perspective, and what it holds in focus.
//
// Every function is plain arithmetic on float64 in SI units: metres and radians. None
// allocates or returns an error. An argument outside the stated domain gives NaN, and so
// does a NaN, which stands for unknown; +Inf stands for a distance without bound.
//
// The model is the thin lens: both principal planes in one place, pupils of equal size.
// Object distances (s) run from the lens, not from the sensor; [SensorDistance] and
// [FromSensor] convert. A long, retrofocus or internally focusing lens departs from it
// by centimetres, which matters close to the lens and nowhere else: package facts lets the
// perspective of a lens begin at its entrance pupil, and takes from here its depth of field.
package optics
