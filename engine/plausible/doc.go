// Package plausible says within what range a figure lies that nobody has stated.
//
// A crew's list of lenses has a handful of columns. What it lacks is not zero, and not a
// reason to leave a lens at home: most figures of a lens follow from its focal length and
// its widest stop, within limits that statistics, formulas and common practice give. Every
// row of the tables here is one figure that a lens, a camera, a rig, an adapter or a shot
// can lack, with its keyword, its range and where the range comes from.
//
// Ranges by data run from the 5th to the 95th percentile, so that one item in ten lies
// outside. The statistics were made over lenses for stills; cine lenses are hardly in them.
package plausible
