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

// A LensChange is a change of lens in the course of the day.
type LensChange struct {
	Before *brief.Shot
	Swap   Swap
}

// LensChanges are the changes of lens in shooting order.
type LensChanges struct {
	All []LensChange
	// Worlds are the changes under other values of the figures that are assumed of them.
	Worlds *engine.Worlds[[]LensChange]
}

// LensChangesOf gives the changes of lens of a recommendation.
func LensChangesOf(r *engine.Recommendation) LensChanges {
	c := LensChanges{All: lensChanges(r)}
	if len(c.All) > 0 {
		c.Worlds = engine.WorldsOf(r, lensChanges)
	}
	return c
}

// In gives the same change among others, nil where another lens or none goes on then.
func (c *LensChange) In(others []LensChange) *LensChange {
	for i := range others {
		if o := &others[i]; o.Before.ID == c.Before.ID && o.Swap.From == c.Swap.From && o.Swap.To == c.Swap.To {
			return o
		}
	}
	return nil
}

func lensChanges(r *engine.Recommendation) []LensChange {
	var changes []LensChange
	var before *setup
	all, trim := setups(r)
	for _, now := range all {
		if now == nil {
			continue
		}
		if before != nil && before.use.Lens != now.use.Lens {
			changes = append(changes, LensChange{now.shot, swapOf(&trim, before, now)})
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
