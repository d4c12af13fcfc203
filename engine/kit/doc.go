// Package kit chooses the few lenses that go in the bag, exactly.
//
// A [Problem] is a table of scores, lenses by shots, with the weights of the shots and
// the limits on the bag. A [Solver] gives the best sets of at most Size lenses in the
// order of the objective: first the least weight of shots left without an acceptable
// lens, then the highest weighted mean of each shot's best score, then the fewest swaps
// in shooting order, then the least mass, then the least money.
//
// The package knows nothing of optics; facility location in general is its job.
package kit
