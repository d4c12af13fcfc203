// Package learn finds out from choices how much each criterion counts for whoever chose.
//
// A choice is a lens that somebody took in a shot out of those that can do it. A lens is worth
// Σ w log s, over the criteria, of which w is the weight and s the lens's score, and is taken with
// probability proportional to the exponential of that: a conditional logit ("Conditional logit analysis
// of qualitative choice behavior", 1974). Set-ups are those of the house's weights, whatever is learned.
//
// # The prior
//
// Before any choice each weight follows a gamma distribution around that of the house, with the shape at
// which its logarithm has the standard deviation ln 2: a weight is thought to be between half and double,
// about two times in three. It holds every weight above zero. Where the logarithms are the coordinates,
// the posterior has one peak, at the least of a convex function of the weights, and there its curvature
// gives Laplace's approximation. Draws from that, each counted by how much more probable it is than the
// approximation has it, stand for what is known of the weights.
//
// # The scale
//
// Weights that are all doubled rank lenses alike, but make choices twice as decided. So their sum says how
// consistently somebody chooses, of which the house's weights say nothing and which no rules file can hold.
// It is tried at a quarter, half, once, twice, four, eight and sixteen times that of the house, each held
// as likely as the others, and each is believed as much as it explains the choices. Learned weights have
// the sum of the house's: it is their proportion that lenses are ranked by.
package learn
