// Package motion relates how a camera moves to how the picture moves: the time things
// take to cross it, the blur of a frame, the bob of a walk, and distances over a move.
//
// Every function is plain arithmetic on float64 in SI units: metres, seconds, radians and
// frames per second. None allocates or returns an error. NaN stands for unknown: an argument
// that is NaN or outside the stated domain gives NaN. A still picture takes +Inf to cross.
package motion
