// Package sure says how sure a recommendation is.
//
// A brief is written before the day, and its figures turn out otherwise. [Draw] tries the kit in
// briefs around it, within the tolerances that the scenario states and the ranges of what is assumed:
// how often it still does all that it did, how much better another kit would be, and how often the same
// kit and the same lens for each shot come out. [Hurts] and [First] vary one figure at a time: what takes
// most from the kit, and what changes it soonest. [HowFar] asks of assumed figures alone whether
// the kit is proven.
//
// All draws have a fixed seed: the same brief gives the same numbers on any machine and with any
// number of workers.
package sure
