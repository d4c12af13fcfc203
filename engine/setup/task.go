package setup

import (
	"fmt"
	"math"
	"sync"
	"sync/atomic"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// The classes of what rules read, by what a search changes.
const (
	byLens   = iota // nothing that a set-up changes
	byFocal         // the focal length, and nothing of stop, mark, ISO and filters
	byOptics        // stop and mark
	byGap           // what stop, ISO and filters leave too much or too little of light
	byChoice        // ISO and filters themselves
	byAll           // several of these together
	classes
)

// A Task is the rules of a shot, parted for the search of set-ups. It is made once for a shot
// and not changed, so that several goroutines may use it.
//
// Rules may read whatever they like. One that reads across the parts, such as the ISO beside
// the focal length, is judged for every set-up, which takes thousands of times as long.
type Task struct {
	set   *rules.Set
	parts *rules.Parts
	plain bool    // some rule reads across the parts
	turns bool    // a criterion may apply at one focal length and not at another
	falls bool    // what rules say of a gap falls with it on both sides
	exact float64 // stops of a gap that costs nothing; -1 where any may
	// readsND says that rules of ISO and filters read how many stops these take, beside the
	// pieces and the cross.
	readsND bool

	alone []alone // by the pieces that a focal length decides

	all    *facts.Plan // everything that judging looks at
	lens   *facts.Plan // what no set-up changes
	fixed  *facts.Plan // what none changes at one focal length
	optics *facts.Plan // what stop and mark change
	gap    *facts.Plan // what the gap changes
	choice *facts.Plan // what ISO and filters change
	filter *facts.Plan // what filters change

	mark   string     // of the rules of ISO and filters, and of what trying every set-up takes
	ofShot []facts.ID // what the rules of ISO and filters read of the shot
}

// alone is what a search needs to look at one piece that a focal length decides.
type alone struct {
	reads facts.Set
	plan  atomic.Pointer[facts.Plan] // of what it reads; made when a search first wants it
}

// A reading holds sets of facts by what a search changes.
type reading struct {
	optical, gaps, chosen facts.Set // what follows from stop and mark, the gap, ISO and filters
	focal, ofShot         facts.Set // what follows from the focal length, and all of the shot
	dialled, solving      facts.Set // what a set-up sets, and what the search itself reads
	byND                  facts.Set // what follows from the stops of the filters
}

var read = sync.OnceValue(func() reading {
	with := func(ids ...facts.ID) facts.Set { return facts.After(ids...).Or(facts.SetOf(ids...)) }
	return reading{
		optical: with(facts.Stop, facts.FocusMark, facts.Following),
		gaps:    with(facts.ExposureGap),
		chosen:  with(facts.ISO, facts.StandsOn, facts.ND, facts.Filters, facts.FilterCross),
		byND:    with(facts.ND),
		focal:   with(facts.FocalLength), ofShot: facts.OfScope(facts.OfShot),
		dialled: facts.SetOf(facts.Stop, facts.FocusMark, facts.Following, facts.ISO, facts.StandsOn, facts.ND, facts.Filters, facts.FilterCross),
		solving: facts.SetOf(facts.NearFromLens, facts.FarFromLens, facts.FramingError),
	}
})

// NewTask parts the rules of a shot. before is the task of another shot, or nil: what was found
// out for that is not looked for again.
func NewTask(set *rules.Set, before *Task) *Task {
	of := read()
	t := &Task{set: set}
	t.parts = set.Parts(classes, classOf)
	reads := set.Reads()
	t.plain = !t.parts.Reads(byAll).Empty() || t.parts.Conditional.Meets(&of.optical) || t.parts.Conditional.Meets(&of.chosen) || t.parts.Limits(byChoice) ||
		!t.parts.Conditions(byChoice).Without(of.ofShot).Empty()
	t.turns = t.parts.Conditional.Meets(&of.focal)
	t.all = facts.PlanOf(reads.Or(of.dialled))
	t.lens = facts.PlanOf(t.parts.Reads(byLens).Or(t.parts.Conditions(byLens)))
	t.fixed = facts.PlanOf(reads.Or(of.solving).Without(of.optical).Without(of.chosen).Without(of.gaps))
	t.optics = facts.PlanOf(t.parts.Reads(byOptics), facts.Stop, facts.FocusMark, facts.Following)
	t.gap = facts.PlanOf(t.parts.Reads(byGap), facts.ExposureGap)
	t.choice = facts.PlanOf(t.parts.Reads(byChoice), facts.ISO, facts.StandsOn, facts.ND, facts.Filters, facts.FilterCross)
	t.filter = facts.PlanOf(t.parts.Reads(byChoice), facts.ND, facts.Filters, facts.FilterCross)
	t.ofShot = facts.Behind(t.parts.Reads(byChoice)).Or(t.parts.Conditions(byChoice)).Or(facts.SetOf(facts.BaseISO)).And(facts.OfScope(facts.OfShot)).IDs()
	t.mark = fmt.Sprint(t.parts.Mark(byChoice), t.plain, t.turns)
	t.readsND = !t.parts.Reads(byChoice).And(of.byND).Empty()
	if before != nil && t.parts.Alike(byGap, before.parts) {
		t.falls, t.exact = before.falls, before.exact
	} else {
		t.falls, t.exact = t.fallsAway()
	}
	pieces := t.parts.Pieces(byFocal)
	t.alone = make([]alone, len(pieces))
	for i, reads := range pieces {
		t.alone[i].reads = reads
	}
	return t
}

// planOf gives the plan of what one piece reads that a focal length decides.
func (t *Task) planOf(piece int) *facts.Plan {
	one := &t.alone[piece]
	if p := one.plan.Load(); p != nil {
		return p
	}
	p := facts.PlanOf(one.reads)
	one.plan.Store(p)
	return p
}

// Plain reports whether every set-up of a lens must be tried: what is known, and by how
// much the criteria weigh, is found out once for all focal lengths otherwise.
func (t *Task) Plain(o *Optics) bool { return t.plain || t.turns && len(o.Focals) > 1 }

// Plainly gives the task of trying every set-up, which finds the same for more.
func (t *Task) Plainly() *Task {
	plain := *t
	plain.plain = true
	plain.mark += " plain"
	return &plain
}

// fallsAway looks whether the factor of the gap falls on both sides of none, so that a search
// outward may stop, and how large a gap may be that costs nothing. It takes rules that read the
// gap alone.
func (t *Task) fallsAway() (falls bool, exact float64) {
	if !t.parts.Reads(byGap).Without(read().gaps).Empty() {
		return false, -1
	}
	const most, fine = 20, 24 // stops, and steps of one
	var r facts.Record
	var k rules.Known
	exact = most
	for _, side := range []float64{-1, 1} {
		last, free := math.Inf(1), -1.0
		for step := range most*fine + 1 {
			stops := float64(step) / fine
			r.Set(facts.ExposureGap, side*stops)
			facts.Refill(&r, t.gap)
			if step == 0 {
				t.parts.Assume(&k)
			}
			factor := t.parts.Factor(byGap, &r, &k, 0, 0)
			if factor > last {
				return false, -1
			}
			if factor == 1 { // of all rules at once: none leaves more, so each leaves all
				free = stops
			}
			last = factor
		}
		exact = min(exact, free)
	}
	return true, exact
}

// classOf gives the class of what a rule reads. Facts that come from the gap alone are of the
// gap, although they change with the stop as well.
func classOf(reads facts.Set) int {
	of := read()
	besides := reads.Without(of.gaps)
	opt, cho, gap := besides.Meets(&of.optical), besides.Meets(&of.chosen), reads.Meets(&of.gaps)
	switch {
	case !opt && !cho && !gap && !reads.Meets(&of.focal):
		return byLens
	case !opt && !cho && !gap:
		return byFocal
	case opt && !cho && !gap:
		return byOptics
	case gap && !opt && !cho && !besides.Meets(&of.focal):
		return byGap
	case cho && !opt && !gap && besides.Without(of.chosen).Without(of.ofShot).Empty():
		return byChoice
	}
	return byAll
}
