// Package kit chooses the few lenses that go in the bag, exactly.
//
// A [Problem] is a table of scores, lenses by shots, with the weights of the shots and
// the limits on the bag. [Search.Solve] gives the best sets of at most Size lenses in the
// order of the objective: first the least weight of shots left without an acceptable
// lens, then the highest sum of the scores of the lenses put on, by weight, less what the
// changes between their set-ups and the money cost ([Problem.Price], [Problem.Charge]), then the
// fewest changes of lens in shooting order, then the least mass, then the least money. Where
// changes are free, the lens put on for a shot is the best of the set.
//
// A kit holds no lens that adds nothing: without each lens that need not come, the others, trimmed
// as they are, are worth less. Otherwise a kit could be padded with idle glass for the sake of a
// tie.
//
// [Search] proves its answer by looking at few sets; small problems go to a plain loop over
// all sets, which is faster there. All arithmetic that decides is in whole numbers, so sums
// do not depend on their order.
//
// A [Series] solves one problem after another that differ in their scores alone.
//
// The package knows nothing of optics; facility location in general is its job.
package kit
