// Package days plans the days of a shoot: which lenses go in the bag of each unit, the day,
// unit and place in the order of each shot, the lens that is on, and when a lens is hired.
//
// A [Problem] is all in whole numbers, so that sums do not depend on their order: times and
// durations in half minutes on one axis, money in cents, and the worth of a shot in units
// that the caller chooses. The package knows nothing of optics, names or files.
//
// Plans are compared in this order ([Totals.Better]):
//
//  1. the weight of the shots not done, least first;
//  2. the worth of the shots done with the set-ups that they are done with, less the price of
//     the minutes that changes, moves and fetching take, less the price of money;
//  3. the fewest changes of lens;
//  4. the fewest pairs of shots out of the order as written;
//  5. the least mass of the bags;
//  6. the least money;
//  7. the lenses that come first in the file.
//
// What is equal in all of these is still decided the same way on every machine.
package days
