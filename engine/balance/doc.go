// Package balance holds the mechanics of a sled on its gimbal: how it swings, what trims
// it, and what a person may lift.
//
// Every function is plain arithmetic on float64 in SI units: kilograms, metres, seconds,
// radians, and kg m² for moments of inertia, which are about the gimbal unless said
// otherwise. None allocates or returns an error. An argument outside the stated domain
// gives NaN, and so does a NaN, which stands for unknown.
package balance
