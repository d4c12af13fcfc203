package floor

import (
	"math"
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
)

// A Swap is what a change of lens takes on the rig. Changes of plates, post and shift are
// of the second set-up against the first; they are NaN, and Plates is 0, when one of the
// two trims is not known.
type Swap struct {
	From, To string // lenses
	Plates   int
	Post     float64 // m, positive to draw out
	Shift    float64 // of the stage, m, positive forward
	Known    bool    // plates, post and shift are
	Tilt     float64 // at which the rig hangs with the new lens and the old trim, nose down positive; NaN when it tips over
	Minutes  float64
}

// Minutes that the steps of a swap take two practised hands. Common practice, and figures
// of this project: time your own and plan with those.
const (
	minutesLens    = 2.0 // off, caps, on, iris and focus set
	minutesAdapter = 1.0 // that goes on or off with it
	minutesPlates  = 1.0
	minutesPost    = 0.5
	minutesShift   = 0.5
	minutesFilter  = 0.5
	minutesFlip    = 3.0 // to low mode or back
	minutesDrop    = 1.0 // two drops, and what they ask for
)

// Steps smaller than these are within what the drop test settles anyway.
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
	step(!slices.Equal(from.filters.All(), to.filters.All()), minutesFilter)
	step(a.Inverted != b.Inverted, minutesFlip)
	changed := s.Minutes > 0
	if s.Known = a.Trimmed && b.Trimmed; s.Known {
		s.Plates, s.Post, s.Shift = b.Trim.Plates-a.Trim.Plates, b.Trim.Post-a.Trim.Post, b.Shift-a.Shift
		left := b.sled.At(b.onStage(), a.Trim.Plates, a.Trim.Post)
		s.Tilt = balance.Tilt(b.payload.load.Mass, -s.Shift, left.Mass, left.Offset)
	}
	// Of a trim that is not known, all may change.
	step(s.Plates != 0 || changed && !s.Known, minutesPlates)
	step(math.Abs(s.Post) >= leastPost || changed && !s.Known, minutesPost)
	step(math.Abs(s.Shift) >= leastShift || changed && !s.Known, minutesShift)
	step(s.Minutes > 0, minutesDrop)
	return s
}

// A Change is a change of lens in the course of the day.
type Change struct {
	Before *brief.Shot
	Swap   Swap
}

// Changes gives the changes of lens in shooting order.
func Changes(r *engine.Recommendation) []Change {
	var changes []Change
	var before *setup
	for _, now := range setups(r) {
		if now == nil {
			continue
		}
		if before != nil && before.use.Lens != now.use.Lens {
			changes = append(changes, Change{now.shot, swapOf(before, now)})
		}
		before = now
	}
	return changes
}

// sheet gives the swap between every two lenses of the kit, upright and without filters,
// each pair once, from the lens that is named first in the kit.
func sheet(r *engine.Recommendation) []Swap {
	var bare []*setup
	for _, name := range r.Kit.Lenses {
		if s := anySetup(r, name); s != nil {
			bare = append(bare, s)
		}
	}
	// They are trimmed with those of the day, for the plates and the bolt are those of the cards.
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

// anySetup gives a lens on the rig, as any shot has it judged, upright and bare.
func anySetup(r *engine.Recommendation, lens string) *setup {
	for i := range r.Shots {
		if j := r.Shots[i].Find(lens); j != nil {
			upright := *r.Shots[i].Shot
			upright.Move.Low = false
			return &setup{shot: &upright, use: j, rigging: riggingOf(r, &upright, j, nil)}
		}
	}
	return nil
}
