// Package floor says what to do on the floor: how each shot of a recommendation is set
// up, how near and how far the camera may walk, how the rig is trimmed and what a swap of
// lenses takes, which filters go on, and what calls for caution.
//
// [Cards] makes a [Card] of each shot. Quantities are float64 in SI units, and NaN is
// unknown; what is unknown is named, with how to find it out, and never guessed.
//
// Trim and swaps take the rig left to itself to hang plumb, and each part for a mass at
// its centre; the hand does the last of it, and a drop test tells.
package floor
