// Package exposure relates the light on a subject to what is set on lens and camera:
// stop, ISO and shutter.
//
// Every function is plain arithmetic on float64: lux, seconds, radians, and ISO speed,
// f- and T-numbers as they are written. None allocates or returns an error. An argument
// outside the stated domain gives NaN, and so does a NaN, which stands for unknown.
//
// EV is at ISO 100 throughout.
package exposure
