package floor

import (
	"math"
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
)

// A Swap is what a change of lens takes on the rig. Plates, Post and Shift are differences,
// second set-up minus first. If either trim is unknown, Post and Shift are NaN and Plates is 0.
type Swap struct {
	From, To string // lenses
	Onto     Stand  // where the camera goes from the sled to legs or back
	OnLegs   bool   // it stands on legs behind the swap, where nothing is trimmed
	Plates   int
	Post     float64 // m, positive to draw out
	Shift    float64 // of the stage, m, positive forward
	Known    bool    // plates, post and shift are
	Tilt     float64 // at which the rig hangs with the new lens and the old trim, nose down positive; NaN when it tips over
	Minutes  float64
}

// A Stand is where a swap puts the camera.
type Stand uint8

const (
	Stays Stand = iota
	OntoLegs
	OntoSled
)

// Minutes that each step of a swap takes a practised operator. The steps are common
// practice, the figures an assumption of this project.
const (
	minutesLens    = 2.0 // off, caps, on, iris and focus set
	minutesAdapter = 1.0 // on or off
	minutesPlates  = 1.0
	minutesPost    = 0.5
	minutesShift   = 0.5
	minutesFilter  = 0.5
	minutesFlip    = 3.0 // to low mode or back
	minutesLegs    = 3.0 // from the sled to legs or back
	minutesDrop    = 1.0 // two drops, and the correction between them
)

// The drop test corrects smaller steps than these anyway.
const (
	leastPost  = 0.002
	leastShift = 0.001
)

func swapOf(from, to *setup) Swap {
	a, b := from.rigging, to.rigging
	s := Swap{From: from.use.Lens, To: to.use.Lens, Post: math.NaN(), Shift: math.NaN(), Tilt: math.NaN()}
	step := func(needed bool, minutes float64) {
		if needed {
			s.Minutes += minutes
		}
	}
	step(s.From != s.To, minutesLens)
	step(from.use.Fitting.Adapter != to.use.Fitting.Adapter, minutesAdapter)
	step(!slices.Equal(from.use.Filtering.All(), to.use.Filtering.All()), minutesFilter)
	step(a.Inverted != b.Inverted, minutesFlip)
	switch {
	case b.OnLegs && !a.OnLegs:
		s.Onto = OntoLegs
	case a.OnLegs && !b.OnLegs:
		s.Onto = OntoSled
	}
	step(s.Onto != Stays, minutesLegs)
	if s.OnLegs = b.OnLegs; s.OnLegs {
		return s
	}
	changed := s.Minutes > 0
	if s.Known = a.Trimmed && b.Trimmed; s.Known {
		s.Plates, s.Post, s.Shift = b.Trim.Plates-a.Trim.Plates, b.Trim.Post-a.Trim.Post, b.Shift-a.Shift
		left := b.sled.At(b.onStage(), a.Trim.Plates, a.Trim.Post)
		s.Tilt = balance.Tilt(b.payload.load.Mass, -s.Shift, left.Mass, left.Offset)
	}
	// With an unknown trim, assume that everything changes.
	step(s.Plates != 0 || changed && !s.Known, minutesPlates)
	step(math.Abs(s.Post) >= leastPost || changed && !s.Known, minutesPost)
	step(math.Abs(s.Shift) >= leastShift || changed && !s.Known, minutesShift)
	step(s.Minutes > 0, minutesDrop)
	return s
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
	for _, now := range setups(r) {
		if now == nil {
			continue
		}
		if before != nil && before.use.Lens != now.use.Lens {
			changes = append(changes, LensChange{now.shot, swapOf(before, now)})
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
	// They are trimmed with the set-ups of the day, so that plates and bolt match the cards.
	var riggings []*Rigging
	for _, s := range append(setups(r), bare...) {
		if s != nil {
			riggings = append(riggings, s.rigging)
		}
	}
	trimAll(riggings, r.Scenario.Drop)
	var sheet []Swap
	for i, from := range bare {
		for _, to := range bare[i+1:] {
			sheet = append(sheet, swapOf(from, to))
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
