// Package taste says what a plan owes to the weights of the criteria, which are a matter of taste.
//
// The set-up of a lens in a shot is the one that scores best, so that it hangs on the weights too.
// Here it is held: each lens keeps in each shot the set-up that it has by the weights in force, and
// only what that set-up scores is weighed anew. So a taste takes microseconds to look at, and says
// little less: whoever weighs otherwise and solves anew finds set-ups that suit each lens better, and
// now and then another kit.
//
// [Draw] draws tastes and says which kit each makes the best; [Held.Duel] says of two lenses in one shot
// for which share of all weightings the one beats the other, in closed form.
//
// Whether a lens may be brought at all is held as well: what excludes it, no weight lifts, and
// whether enough is known of it to be proposed is no matter of taste.
package taste
