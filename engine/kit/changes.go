package kit

import "math"

// Changes say what it takes to come from the set-up of one shot to that of another, in whole
// steps of the caller's. That may depend on the kit.
type Changes interface {
	// Least bounds from below what it takes from any set-up in one shot to any in a later one,
	// with the same lens or another, in any kit. From a shot to itself, with another lens, it
	// bounds every change of lens to that shot.
	Least(from, to int, other bool) int
	// Kit says which lenses the following are about.
	Kit(lenses []int)
	// Between gives what it takes from a lens in one shot to the same or another in a later one, by
	// their places in the kit. Both do their shot.
	Between(from, lens, to, other int) int
}

// MostPrice bounds the prices of a problem, so that sums in fixed point cannot overflow.
const MostPrice = 100

// mostCharge is more than all that can be scored.
const mostCharge = 1 << 52

// price brings the prices of a problem into fixed point.
func (t *table) price(p *Problem) {
	t.changes, t.alike = p.Changes, p.Alike
	t.charges = make([]int64, len(t.scores))
	if p.Changes == nil || p.Price == 0 {
		return
	}
	t.each = max(1, int64(math.Round(p.Price*scoreUnits*weightUnits)))
	for lens := range t.charges {
		t.charges[lens] = int64(math.Round(min(mostCharge, p.Charge*float64(t.loads[lens][onCost])/costUnits*scoreUnits*weightUnits)))
	}
}

// priced reports whether changes cost.
func (t *table) priced() bool { return t.each > 0 }

// A toll is what a set pays whatever order it is used in: a part for each lens that need not come,
// and a part that all sets pay.
type toll struct {
	lens []int64 // nil for nothing
	all  int64
}

// toll bounds from below what the sets that do some shots pay for changes and money: each lens that
// need not come is used, so that there is a change for each but one. Shots are those that every
// set of interest does, or nil where sets differ in what they do.
func (t *table) toll(shots []int) toll {
	if !t.priced() {
		return toll{}
	}
	least, steady := math.MaxInt, 0
	if shots == nil {
		for shot := range t.weights {
			least = min(least, t.changes.Least(shot, shot, true))
		}
	}
	if len(shots) == 1 { // no set with two lenses uses both
		least = t.changes.Least(shots[0], shots[0], true)
	}
	for i := 1; i < len(shots); i++ {
		from, to := shots[i-1], shots[i]
		same := t.changes.Least(from, to, false)
		steady += same
		least = min(least, t.changes.Least(from, to, true)-same)
	}
	if least == math.MaxInt {
		least = 0
	}
	change := t.each * int64(max(0, least))
	c := toll{lens: make([]int64, len(t.charges)), all: t.each*int64(steady) - change}
	for lens, money := range t.charges {
		if c.lens[lens] = money + change; t.isMust[lens] {
			c.lens[lens] = money
		}
	}
	return c
}

// of gives the toll of a set.
func (c toll) of(lenses []int) int64 {
	if c.lens == nil {
		return 0
	}
	sum := c.all
	for _, lens := range lenses {
		sum += c.lens[lens]
	}
	return sum
}

// on gives the toll of one lens more.
func (c toll) on(lens int) int64 {
	if c.lens == nil {
		return 0
	}
	return c.lens[lens]
}

// money gives what a set's money weighs against its scores.
func (t *table) money(lenses []int) int64 {
	sum := int64(0)
	for _, lens := range lenses {
		sum += t.charges[lens]
	}
	return sum
}
