// Package learn finds out from choices how much each criterion counts for whoever chose.
//
// A choice is a lens that somebody took in a shot out of those that can do it. A lens is worth
// Σ w log s, over the criteria, of which w is the weight and s the lens's score, and is taken with
// probability proportional to the exponential of that: a conditional logit ("Conditional logit analysis
// of qualitative choice behavior", 1974). Set-ups are those of the house's weights, whatever is learned.
//
// # The prior
//
// Before any choice each weight follows a gamma distribution around that of the house, of which the
// logarithm lies within ln 2 about two times in three: a weight is thought to be between half and
// double. It holds every weight above zero, and where the logarithms are the coordinates the posterior
// has one peak, which is the least of a convex function of the weights. The covariance there is Laplace's.
//
// # The scale
//
// Weights that are all doubled rank lenses alike, but make choices twice as decided. So the sum of the
// weights says how consistently somebody chooses, which no rules file can hold. It is tried at a quarter,
// half, once, twice and four times that of the house, held likely as 1 to 4 to 6 to 4 to 1, and each is
// believed as much as it explains the choices. Learned weights have the sum of the house's.
package learn
