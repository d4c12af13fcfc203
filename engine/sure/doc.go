// Package sure says how sure a recommendation is.
//
// A brief is written before the day, and its figures turn out otherwise. [Nearby] draws
// briefs around it, within the tolerances that the scenario states, and counts how often
// the same kit and the same lens for each shot come out. [First] varies one figure of one
// shot at a time and finds the one that changes the kit soonest.
//
// The draws are a low-discrepancy sequence without randomness: the same brief gives the
// same numbers on any machine and with any number of workers.
package sure
