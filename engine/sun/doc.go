// Package sun tells where the sun stands and how much light it gives.
//
// Positions come from low-precision series and hold to about a hundredth of a degree
// from 1950 to 2050. Light is an estimate: of the mean for a kind of sky, and good to
// about one stop, for passing haze and cloud may halve or double it.
//
// Every function is plain arithmetic on float64: radians, lux, and moments as
// [time.Time]. An argument outside the stated domain gives NaN, and so does a NaN, which
// stands for unknown.
package sun
