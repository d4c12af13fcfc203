// Package people holds what is known of people: the sizes of those who stand before the camera,
// and how those walk and stand who carry it. All figures stand in one table, each with how much it
// differs between persons, how many were measured, and the source; what nobody seems to have
// published stands there as an assumption, with its range and what that moves.
//
// All that walked for the table carried nothing and looked ahead. A practised operator bends the
// knees and moves less: the isolation of a rig, measured on the operator, covers both.
//
// Figures are in SI units. NaN stands for unknown.
package people
