package rig

import (
	"math"
	"slices"

	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
)

// A Change is what it takes to come from one set-up to another. Plates, Post and Shift are
// differences, second set-up minus first. If either trim is unknown, Post and Shift are NaN and
// Plates is 0.
type Change struct {
	Filters bool  // others go on or off
	Flip    bool  // to low mode or back
	Low     bool  // it is low mode behind the change
	Onto    Stand // where the camera goes from the sled to legs or back
	OnLegs  bool  // it stands on legs behind the change, where nothing is trimmed
	Plates  int
	Post    float64 // m, positive to draw out
	Shift   float64 // of the stage, m, positive forward
	Known   bool    // plates, post and shift are
	Tilt    float64 // at which the rig hangs with the new lens and the old trim, nose down positive; NaN when it tips over
	Minutes Minutes
}

// Minutes of a change are counted in halves.
type Minutes int

// Value gives them in minutes.
func (m Minutes) Value() float64 { return float64(m) / 2 }

// A Stand is where a change puts the camera.
type Stand uint8

const (
	Stays Stand = iota
	OntoLegs
	OntoSled
)

// What each step of a change takes a practised operator, in half minutes. The steps are common
// practice, the figures an assumption of this project.
const (
	ForLens    Minutes = 4 // off, caps, on, iris and focus set
	ForAdapter Minutes = 2 // on or off
	ForPlates  Minutes = 2
	ForPost    Minutes = 1
	ForShift   Minutes = 1
	ForFilters Minutes = 1
	ForFlip    Minutes = 6 // to low mode or back
	ForLegs    Minutes = 6 // from the sled to legs or back
	ForDrop    Minutes = 2 // two drops, and the correction between them
)

// The drop test corrects smaller steps than these anyway.
const (
	LeastPost  = 0.002
	LeastShift = 0.001
)

// Between gives the change from one set-up of the kit to another.
func (t *Trim) Between(from, to *Setup) Change {
	c := t.steps(from, to)
	if c.Known && !c.OnLegs {
		plates, post, _ := t.Of(from)
		left := to.Sled.At(to.OnStage(), plates, post)
		c.Tilt = balance.Tilt(to.Payload.Mass, -c.Shift, left.Mass, left.Offset)
	}
	return c
}

// Minutes gives what [Trim.Between] takes.
func (t *Trim) Minutes(from, to *Setup) Minutes { return t.steps(from, to).Minutes }

// steps gives a change without the tilt.
func (t *Trim) steps(from, to *Setup) Change {
	c := Change{
		Filters: !slices.Equal(from.Filters, to.Filters), Flip: from.Inverted != to.Inverted, Low: to.Inverted,
		Post: math.NaN(), Shift: math.NaN(), Tilt: math.NaN(), OnLegs: to.OnLegs,
	}
	step := func(needed bool, takes Minutes) {
		if needed {
			c.Minutes += takes
		}
	}
	step(from.Lens != to.Lens, ForLens)
	step(from.Adapter != to.Adapter, ForAdapter)
	step(c.Filters, ForFilters)
	step(c.Flip, ForFlip)
	switch {
	case to.OnLegs && !from.OnLegs:
		c.Onto = OntoLegs
	case from.OnLegs && !to.OnLegs:
		c.Onto = OntoSled
	}
	step(c.Onto != Stays, ForLegs)
	if to.OnLegs {
		return c
	}
	changed := c.Minutes > 0
	plates, post, trimmed := t.Of(from)
	morePlates, deeper, also := t.Of(to)
	if c.Known = trimmed && also; c.Known {
		before, _ := t.Shift(from)
		after, _ := t.Shift(to)
		c.Plates, c.Post, c.Shift = morePlates-plates, deeper-post, after-before
	}
	// With an unknown trim, assume that everything changes.
	step(c.Plates != 0 || changed && !c.Known, ForPlates)
	step(math.Abs(c.Post) >= LeastPost || changed && !c.Known, ForPost)
	step(math.Abs(c.Shift) >= LeastShift || changed && !c.Known, ForShift)
	step(c.Minutes > 0, ForDrop)
	return c
}

// Least bounds from below what it takes to come from a set-up of one shot to one of another, with
// the same lens or another: whatever the kit, the filters and the trim.
func Least(from, to *brief.Shot, lens bool) Minutes {
	m := stand(from, to, lens)
	if m > 0 && to.Support != facts.Legs {
		m += ForDrop
	}
	return m
}

// Most bounds it from above; filters says that others may go on.
func Most(from, to *brief.Shot, lens, filters bool) Minutes {
	m := stand(from, to, lens)
	if lens {
		m += ForAdapter
	}
	if lens || filters {
		m += ForFilters
	}
	if m > 0 && to.Support != facts.Legs {
		m += ForPlates + ForPost + ForShift + ForDrop
	}
	return m
}

// stand gives the part of a change that lens, legs and low mode take.
func stand(from, to *brief.Shot, lens bool) (m Minutes) {
	if lens {
		m += ForLens
	}
	if from.Move.Low != to.Move.Low {
		m += ForFlip
	}
	if (from.Support == facts.Legs) != (to.Support == facts.Legs) {
		m += ForLegs
	}
	return m
}
