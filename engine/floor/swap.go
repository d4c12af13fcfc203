package floor

import (
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/rig"
)

// A Swap is what a change of set-up takes on the rig.
type Swap struct {
	From, To string // lenses
	rig.Change
}

func swapOf(t *rig.Trim, from, to *setup) Swap {
	return Swap{from.use.Lens, to.use.Lens, t.Between(from.rigging.Setup, to.rigging.Setup)}
}

// A SetupChange is a change of set-up in the course of the day: of lens, or an adjustment of filters,
// low mode or legs with the same lens.
type SetupChange struct {
	Before *brief.Shot
	Swap   Swap
}

// OfLens tells a change of lens from an adjustment.
func (c *SetupChange) OfLens() bool { return c.Swap.From != c.Swap.To }

// SetupChanges are the changes of set-up in shooting order.
type SetupChanges struct {
	All []SetupChange
	// Worlds are the changes under other values of the figures that are assumed of them.
	Worlds *engine.Worlds[[]SetupChange]
}

// ChangesOf gives the changes of set-up of a recommendation.
func ChangesOf(r *engine.Recommendation) SetupChanges {
	c := SetupChanges{All: changesOf(r)}
	if len(c.All) > 0 {
		c.Worlds = engine.WorldsOf(r, changesOf)
	}
	return c
}

// In gives the same change among others, nil where another lens or none goes on then.
func (c *SetupChange) In(others []SetupChange) *SetupChange {
	for i := range others {
		if o := &others[i]; o.Before.ID == c.Before.ID && o.Swap.From == c.Swap.From && o.Swap.To == c.Swap.To {
			return o
		}
	}
	return nil
}

func changesOf(r *engine.Recommendation) []SetupChange {
	var changes []SetupChange
	var before *setup
	all, trim := setups(r)
	for _, now := range all {
		if now == nil {
			continue
		}
		if before != nil {
			if swap := swapOf(&trim, before, now); swap.Minutes > 0 {
				changes = append(changes, SetupChange{now.shot, swap})
			}
		}
		before = now
	}
	return changes
}

// sheet gives the swap between every two lenses of the kit, upright and without filters.
// Each pair is listed once, in the order of the kit.
func sheet(r *engine.Recommendation) []Swap {
	var bare []*setup
	for _, name := range r.Kit.Lenses {
		if s := anySetup(r, name); s != nil {
			bare = append(bare, s)
		}
	}
	trim := r.Table.Trim(r.Kit.Lenses)
	var sheet []Swap
	for i, from := range bare {
		for _, to := range bare[i+1:] {
			sheet = append(sheet, swapOf(&trim, from, to))
		}
	}
	return sheet
}

// anySetup puts a lens on the rig, upright and without filters, as the first shot that
// judges it has it.
func anySetup(r *engine.Recommendation, lens string) *setup {
	for i := range r.Shots {
		if j := r.Shots[i].Find(lens); j != nil {
			upright := *r.Shots[i].Shot
			upright.Move.Low, upright.Support = false, facts.Sled
			return &setup{shot: &upright, use: j, rigging: riggingOf(r, &upright, j, nil)}
		}
	}
	return nil
}
