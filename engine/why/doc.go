// Package why says what would change a judgement: the smallest change of one figure of the
// brief that lifts a veto, or that puts another lens first in a shot.
//
// Changes are found by solving: a figure is moved away from what the brief says until the
// judgement is another one, and the place where that happens is narrowed down. The
// judgement itself is always that of package engine, by the rules of the scenario.
package why
