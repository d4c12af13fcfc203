// Package setup finds the set-up of a lens in a shot: of all that the equipment can do, the
// one that scores best by the loaded rules.
//
// A set-up is a focal length, a stop, a focus mark, an ISO and filters. Nothing but the
// rules decides between them, so taste stands in rules files. The search is exact: it
// gives what trying every set-up would give, for less, since the rules are parted by what
// they read (see [NewTask]): what a focal length alone decides comes first and ends most
// searches; the light of a stop knows neither focal length nor distance; the optics of a
// stop and mark come last, while no other stop can be better.
//
// Inputs and outputs are in SI units, f-numbers, and stops of light.
package setup
