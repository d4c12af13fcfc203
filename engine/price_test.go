package engine_test

import (
	"math"
	"slices"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/floor"
	"glassbrief/lang/langtest"

	"pgregory.net/rapid"
)

// subsets gives every set of at most so many lenses of a table, the empty one left out.
func subsets(table *engine.Table, most int) [][]string {
	all := [][]string{nil}
	for _, lens := range table.Lenses() {
		for _, set := range all {
			if len(set) < most {
				all = append(all, append(slices.Clone(set), lens.Name.Value))
			}
		}
	}
	return all[1:]
}

// A plainDay is the best that trying every lens of a kit in every shot finds.
type plainDay struct {
	left, value, minutes float64
	swaps                int
}

// plainly tries every lens of a kit in every shot, with the minutes of the rig's own changes.
func plainly(r *engine.Recommendation, kit []string) plainDay {
	t, prices := r.Table, r.Scenario.Prices
	trim := t.Trim(kit)
	best := plainDay{value: math.Inf(-1)}
	var try func(shot int, on string, at int, day plainDay)
	try = func(shot int, on string, at int, day plainDay) {
		if shot == len(r.Scenario.Shots) {
			if day.value > best.value+1e-12 || day.value > best.value-1e-12 && day.swaps < best.swaps {
				best = day
			}
			return
		}
		weight, done := r.Scenario.Shots[shot].Weight, false
		for _, lens := range kit {
			o := t.Outcome(shot, t.Place(lens))
			if !o.Acceptable() {
				continue
			}
			done = true
			next := day
			next.value += weight * o.Score
			if on != "" {
				minutes := trim.Minutes(t.Setup(at, t.Place(on)), t.Setup(shot, t.Place(lens))).Value()
				next.minutes += minutes
				next.value -= prices.Change * minutes
				if on != lens {
					next.swaps++
				}
			}
			try(shot+1, lens, shot, next)
		}
		if !done {
			day.left += weight
			try(shot+1, on, at, day)
		}
	}
	try(0, "", 0, plainDay{})
	for _, name := range kit {
		lens, _ := r.Scenario.Catalogue.Lenses.Lookup(name)
		best.value -= prices.Money() * lens.Have.DayRate.Or(0)
	}
	return best
}

// drawFlips draws a brief of which some shots are in low mode.
func drawFlips(t *rapid.T) *brief.Scenario {
	s := drawBrief(t).load(t)
	for _, shot := range s.Shots {
		shot.Move.Low = rapid.Bool().Draw(t, "low")
	}
	return s
}

// The kit is worth as much as trying every lens in every shot finds of it, and no kit within the
// limits is worth more.
func TestKitAgainstEveryLensInEveryShot(t *testing.T) {
	zooms, more := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s := drawFlips(t)
		s.Prices.Change = rapid.SampledFrom([]float64{0, 0.002, 0.01, 0.03}).Draw(t, "price")
		s.Prices.Crew = rapid.SampledFrom([]float64{0, 0, 5, 50}).Draw(t, "crew")
		r := enginetest.Recommend(t, s, engine.Options{})
		if len(r.Kit.Lenses) == 0 || len(r.Table.Lenses()) > 8 {
			return
		}
		weight := 0.0
		for _, shot := range s.Shots {
			weight += shot.Weight
		}
		own := plainly(r, r.Kit.Lenses)
		const rounding = 1e-6
		if math.Abs(own.value/weight-r.Kit.Value) > rounding || math.Abs(own.left-r.Kit.Left) > rounding {
			t.Fatalf("%v: got %+v, enumeration has %+v, %g of the weights", r.Kit.Lenses, r.Kit, own, own.value/weight)
		}
		if kept := r.Table.Kit(r.Kit.Lenses); !slices.Equal(kept.Uses, r.Kit.Uses) || kept.Value != r.Kit.Value || kept.Minutes != r.Kit.Minutes {
			t.Errorf("the kit by its lenses is %+v, and %+v was chosen", kept, r.Kit)
		}
		for _, use := range r.Kit.Uses {
			if use != r.Kit.Uses[0] {
				more++
			}
		}
		if s.Limits.BagMass > 0 || s.Limits.Rent >= 0 || s.Limits.OwnedOnly || s.Limits.Bring != nil || s.Limits.Leave != nil {
			return
		}
		for _, kit := range subsets(r.Table, s.Limits.Carry) {
			// A lens that would stay in the bag is no reason to trim otherwise.
			if day := r.Table.Kit(kit); slices.ContainsFunc(kit, func(lens string) bool { return !slices.Contains(day.Uses, lens) }) {
				continue
			}
			zooms++
			if day := plainly(r, kit); day.left < own.left-rounding || day.left < own.left+rounding && day.value > own.value+rounding*weight {
				t.Errorf("%v is %+v, and the kit %v %+v", kit, day, r.Kit.Lenses, own)
			}
		}
	})
	if zooms == 0 || more == 0 {
		t.Error("nothing was compared")
	}
}

// Without a price of changes the kit is the one that scores most, each shot by the best of its
// lenses, and then the one with the fewest changes of lens.
func TestPriceOfNothingGivesTheKitOfScores(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawBrief(t).load(t)
		s.Prices = brief.Prices{Crew: 6}
		r := enginetest.Recommend(t, s, engine.Options{})
		best := bestOfAll(r, r.Kit.Lenses)
		if math.Abs(r.Kit.Mean-best) > 1e-6 || r.Kit.Value != r.Kit.Mean {
			t.Errorf("%v scores %g and is worth %g, with the best lens in each shot %g", r.Kit.Lenses, r.Kit.Mean, r.Kit.Value, best)
		}
		if s.Limits.BagMass > 0 || s.Limits.Rent >= 0 || s.Limits.OwnedOnly || s.Limits.Bring != nil || s.Limits.Leave != nil {
			return
		}
		for _, kit := range subsets(r.Table, s.Limits.Carry) {
			if other := r.Table.Kit(kit); other.Left < r.Kit.Left-1e-9 || other.Left < r.Kit.Left+1e-9 && bestOfAll(r, kit) > best+1e-6 {
				t.Errorf("%v scores %g, and the kit %v %g", kit, bestOfAll(r, kit), r.Kit.Lenses, best)
			}
		}
	})
}

// What the cards say of the changes adds up to what the kit says, and so does what stands in
// shooting order.
func TestMinutesAddUp(t *testing.T) {
	adjusted := 0
	rapid.Check(t, func(t *rapid.T) {
		r := enginetest.Recommend(t, drawFlips(t), engine.Options{Runners: 2})
		cards, swaps, listed := 0.0, 0, 0.0
		for _, c := range floor.Cards(r) {
			if c.Swap != nil {
				cards += c.Swap.Minutes.Value()
			}
		}
		changes := floor.ChangesOf(r)
		for i := range changes.All {
			listed += changes.All[i].Swap.Minutes.Value()
			if changes.All[i].OfLens() {
				swaps++
			} else {
				adjusted++
			}
		}
		if cards != r.Kit.Minutes || listed != r.Kit.Minutes || swaps != r.Kit.Swaps {
			t.Errorf("the cards add up to %g min, the list to %g with %d changes of lens, and the kit has %g and %d", cards, listed, swaps, r.Kit.Minutes, r.Kit.Swaps)
		}
	})
	if adjusted == 0 && langtest.Enough(100) {
		t.Error("no brief has a change with the same lens")
	}
}
