// Package compare says what a changed brief does to the plan, and because of what.
//
// [Compare] reads two versions of a scenario with all that they name. It lists what they
// say otherwise ([Change], by meaning: 120cm for 1.2m is none), what that does to the kit
// and to each shot ([Effect]), and for each effect the smallest set of changes that brings
// it about, which is found by making the changes one at a time.
package compare
