// Package rig says how a camera hangs on the stabiliser and what it takes to change from one
// set-up to another.
//
// A [Setup] is a lens on the rig, with its adapter and filters, upright, in low mode or on legs.
// All set-ups that a kit can have in the whole file are trimmed together, used or not
// ([Together]), so that what a [Change] takes depends on its two set-ups and the kit alone. An
// order of shots, and which of them are done with which lens, can then be chosen by the sum
// of the minutes between neighbours.
//
// Trims and changes are computed for a rig that hangs plumb when it is let go, with the mass
// of each part at one point. The operator corrects what is left by hand after a drop test.
package rig
