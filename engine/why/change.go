package why

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
)

// A BriefChange is a change of one figure that makes a difference.
type BriefChange struct {
	Figure   Figure
	Now, To  float64 // lux, share of the frame filled, ISO, m/s or rad/s, kg; of Distance the length by which the move lies farther off
	Said     float64 // To in as few digits as people say, rounded away from Now, where that makes the difference too
	Size     float64 // in tolerances of the scenario, or in steps of the same kind; Inf when the figure has none
	Scenario *brief.Scenario
	Shot     *brief.Shot // as changed to what is said
}

// A Test reports whether the judgement of interest is another one in a changed brief.
type Test func(*brief.Scenario, *brief.Shot) bool

// Changes gives, for each figure of the brief, the smallest change that makes test hold,
// which must not hold for the brief as it is; those that are smallest in tolerances come
// first. A figure that makes no difference by itself is left out. No smaller change of it makes
// the difference, as far as looking at many shows, and of framing and ISO none at all.
//
// Light is only ever raised: no brief takes light away, and filters do: see [FilterFor].
func Changes(s *brief.Scenario, camera *catalog.Camera, shot *brief.Shot, test Test) []BriefChange {
	var found []BriefChange
	for _, k := range knobs(s, camera, shot) {
		if c, ok := k.smallest(test, math.Inf(1)); ok {
			found = append(found, c)
		}
	}
	slices.SortStableFunc(found, func(a, b BriefChange) int { return cmp.Compare(a.Size, b.Size) })
	return found
}

// smallest gives the smallest change of a figure that makes test hold, if there is one below a
// size.
func (k *knob) smallest(test Test, below float64) (BriefChange, bool) {
	for _, click := range k.clicks {
		if click.size >= below {
			break
		}
		if s, shot := click.turn(); test(s, shot) {
			return BriefChange{k.figure, k.now, click.to, click.to, click.size, s, shot}, true
		}
	}
	best := math.NaN()
	for _, end := range []float64{k.low, k.high} {
		if k.clicks != nil {
			continue
		}
		if to := k.solve(end, below, test); !math.IsNaN(to) && !(k.size(to) >= k.size(best)) {
			best, below = to, k.size(to)
		}
	}
	if math.IsNaN(best) {
		return BriefChange{}, false
	}
	said := k.round(best, saidDigits, func(to float64) bool { return test(k.turn(to)) })
	c := BriefChange{Figure: k.figure, Now: k.now, To: best, Said: said, Size: k.size(best)}
	c.Scenario, c.Shot = k.turn(said)
	return c, true
}

// Lifted tests whether a lens is no longer excluded.
func Lifted(on *engine.Bench, lens *catalog.Lens) Test {
	fitted := on.Fit(lens)
	return func(s *brief.Scenario, shot *brief.Shot) bool {
		return fitted.Standing(s, shot) != engine.Excluded
	}
}

// Accepted tests whether a lens may be brought.
func Accepted(on *engine.Bench, lens *catalog.Lens) Test {
	fitted := on.Fit(lens)
	return func(s *brief.Scenario, shot *brief.Shot) bool { return fitted.Standing(s, shot) == engine.Judged }
}

// tie is the difference in worth below which two lenses count as equally good.
const tie = 1e-9

// Overtakes tests whether a lens may be brought and is worth more than another.
func Overtakes(on *engine.Bench, lens, other *catalog.Lens) Test {
	fitted, ahead := on.Fit(lens), on.Fit(other)
	return func(s *brief.Scenario, shot *brief.Shot) bool {
		o := fitted.Try(s, shot)
		return o.Acceptable() && o.Worth() > ahead.Try(s, shot).Worth()+tie
	}
}
