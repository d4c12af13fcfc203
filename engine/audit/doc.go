// Package audit answers a producer: does the glass in the house suit the brief, and if
// not, what exactly must be hired or changed?
//
// [Run] gives each shot a verdict with the best kit of the house. For a shot that no lens
// in the house can do, it solves the [Window] of a lens that would: made-up lenses are
// judged by the same rules until the edges are found. Windows are merged into the fewest
// specifications, and the lenses for hire that meet each are looked up. [Report] says
// also what the cheapest hire is, and which smallest change of the brief would do
// instead.
package audit
