// Package floor says what to do on the floor: how each shot of a recommendation is set
// up, how near and how far the camera may walk, how the rig is trimmed and what a swap of
// lenses takes, which filters go on, and what calls for caution.
//
// [Cards] makes a [Card] of each shot. Quantities are float64 in SI units, and NaN is
// unknown. Unknown figures are listed and never guessed. Nothing here is written for people:
// notes, cautions and lacks are typed, and cmd/wording has the sentences.
//
// Trims and swaps are computed for a rig that hangs plumb when it is let go, with the mass
// of each part at one point. The operator corrects what is left by hand after a drop test.
package floor
