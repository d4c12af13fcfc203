package days

import (
	"context"
	"math/bits"
	"slices"
)

// enumerate gives the best plan by trying every bag, every day and unit for each block, and every
// order and set-up of the shots of a run: what the solver must agree with on small problems.
func enumerate(ctx context.Context, p *Problem) (Plan, error) {
	e := &enumeration{p: p, home: make([]int, len(p.Lenses))}
	for i := range p.Shots {
		known := slices.IndexFunc(e.blocks, func(b []int) bool { return p.Shots[b[0]].Block == p.Shots[i].Block })
		if known < 0 {
			e.blocks = append(e.blocks, []int{i})
		} else {
			e.blocks[known] = append(e.blocks[known], i)
		}
	}
	for i := range p.Shots {
		e.weight += p.Shots[i].Weight
		for j := range p.Shots {
			for _, k := range p.Shots[j].After {
				if k == i && p.Shots[i].Block != p.Shots[j].Block {
					e.critical |= 1 << i
				}
			}
		}
	}
	if err := e.bags(ctx, 0); err != nil {
		return Plan{}, err
	}
	if !e.found {
		return Plan{}, ErrBags
	}
	return e.best, nil
}

// An enumeration holds what is chosen so far.
type enumeration struct {
	p        *Problem
	blocks   [][]int
	critical uint64 // shots that others of other blocks come after
	weight   int64
	home     []int // for each lens its unit, or -1
	found    bool
	best     Plan

	// Of the bags that are looked at.
	kit      [][]int
	change   [][][]int
	doable   uint64
	outcomes map[[4]uint64][]outcome
}

// An outcome is the best order of a run among those that do the same shots that matter to other
// runs with the same lenses.
type outcome struct {
	done, lenses uint64
	weight       int64
	worth        int64
	minutes      int
	changes      int
	moved        int
	stops        []Stop
}

func (o *outcome) better(than *outcome, price int64) bool {
	t := func(o *outcome) Totals {
		return Totals{Left: -o.weight, Value: o.worth - price*int64(o.minutes), Changes: o.changes, Moved: o.moved}
	}
	return t(o).Better(t(than))
}

// bags tries all units for the lenses from one on.
func (e *enumeration) bags(ctx context.Context, lens int) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	p := e.p
	if lens == len(p.Lenses) {
		e.kit = make([][]int, len(p.Units))
		for l, u := range e.home {
			if u >= 0 {
				e.kit[u] = append(e.kit[u], l)
			}
		}
		for u, bag := range e.kit {
			if len(bag) > p.Units[u].Carry {
				return nil
			}
		}
		e.change = make([][][]int, len(p.Units))
		for u, bag := range e.kit {
			if p.Change != nil {
				e.change[u] = p.Change(u, bag)
			}
		}
		e.doable = 0
		for again := true; again; {
			again = false
			for i := range p.Shots {
				if e.doable>>i&1 == 1 || slices.ContainsFunc(p.Shots[i].After, func(k int) bool { return e.doable>>k&1 == 0 }) {
					continue
				}
				for _, o := range p.Shots[i].Options {
					for t := range p.Days {
						if e.can(o, t) && p.mayStand(&p.Shots[i], t) {
							e.doable |= 1 << i
							again = true
						}
					}
				}
			}
		}
		e.outcomes = map[[4]uint64][]outcome{}
		e.days(0, 0, 0, 0, nil)
		return nil
	}
	for u := -1; u < len(p.Units); u++ {
		if u < 0 && p.Lenses[lens].Must || u >= 0 && p.Lenses[lens].Barred {
			continue
		}
		e.home[lens] = u
		if err := e.bags(ctx, lens+1); err != nil {
			return err
		}
	}
	return nil
}

// has reports whether the unit of an option has its lenses in its bag, and on the set at once.
func (e *enumeration) has(o Option) bool {
	lenses := e.p.Setups[o.Setup].Lenses
	if on := e.p.Units[o.Unit].OnSet; on > 0 && len(lenses) > on {
		return false
	}
	for _, l := range lenses {
		if e.home[l] != o.Unit {
			return false
		}
	}
	return true
}

// days tries what is done from a day on. Closed are the blocks that are done or that can no
// longer come, done the shots.
func (e *enumeration) days(t int, closed, done uint64, moved int, runs []Run) {
	if t == len(e.p.Days) {
		e.finish(done, moved, runs)
		return
	}
	e.units(t, 0, closed, closed, done, moved, runs)
}

// units tries which blocks the units from one on do on a day. Before holds the blocks closed
// before the day, closed those that are given to units of the day too.
func (e *enumeration) units(t, u int, before, closed, done uint64, moved int, runs []Run) {
	if u == len(e.p.Units) {
		given := closed &^ before
		for b := range e.blocks {
			for c := range e.blocks {
				if given>>c&1 == 1 && closed>>b&1 == 0 && e.precedes(b, c) {
					closed |= 1 << b
				}
			}
		}
		for b := range e.blocks {
			for c := range e.blocks {
				if given>>c&1 == 1 && closed>>b&1 == 0 {
					moved += e.pairs(b, c)
				}
			}
		}
		e.days(t+1, closed, done, moved, runs)
		return
	}
	for given := uint64(0); given < 1<<len(e.blocks); given++ {
		if given&closed != 0 {
			continue
		}
		if given == 0 {
			e.units(t, u+1, before, closed, done, moved, runs)
			continue
		}
		for _, o := range e.run(t, u, given, e.doneBefore(done, runs, t)) {
			e.units(t, u+1, before, closed|given, done|o.done, moved+o.moved, append(runs, Run{Day: t, Unit: u, Stops: o.stops}))
		}
	}
}

// doneBefore takes out of the shots done those of other units on the same day.
func (e *enumeration) doneBefore(done uint64, runs []Run, t int) uint64 {
	for _, run := range runs {
		if run.Day == t {
			for _, stop := range run.Stops {
				done &^= 1 << stop.Shot
			}
		}
	}
	return done
}

// precedes reports whether a block may not be done on a later day than another.
func (e *enumeration) precedes(b, c int) bool {
	for _, i := range e.blocks[b] {
		for _, j := range e.blocks[c] {
			if i < j && e.doable>>i&1 == 1 && e.doable>>j&1 == 1 && e.p.kept(i, j) && !e.forced(i, j) {
				return true
			}
		}
	}
	return false
}

// forced reports whether the days of two shots leave no way but that the second is on an earlier day.
func (e *enumeration) forced(i, j int) bool {
	for t := range e.p.Days {
		if e.p.mayStand(&e.p.Shots[j], t) {
			for earlier := range t + 1 {
				if e.p.mayStand(&e.p.Shots[i], earlier) {
					return false
				}
			}
		}
	}
	return true
}

// pairs counts the pairs that are out of order when block c is done on an earlier day than b.
func (e *enumeration) pairs(b, c int) int {
	n := 0
	for _, i := range e.blocks[b] {
		for _, j := range e.blocks[c] {
			if i < j && e.doable>>i&1 == 1 && e.doable>>j&1 == 1 {
				n++
			}
		}
	}
	return n
}

// run gives the best orders of a run that does at least one shot of each block given to it.
func (e *enumeration) run(t, u int, given, before uint64) []outcome {
	var shots uint64
	for b := range e.blocks {
		if given>>b&1 == 1 {
			for _, i := range e.blocks[b] {
				shots |= 1 << i
			}
		}
	}
	var open uint64
	for again := true; again; {
		again = false
		for i := range e.p.Shots {
			if shots&e.doable>>i&1 == 0 || open>>i&1 == 1 || !e.p.mayStand(&e.p.Shots[i], t) {
				continue
			}
			ways := slices.ContainsFunc(e.p.Shots[i].Options, func(o Option) bool { return o.Unit == u && e.can(o, t) })
			if ways && !slices.ContainsFunc(e.p.Shots[i].After, func(k int) bool { return (before|open)>>k&1 == 0 }) {
				open |= 1 << i
				again = true
			}
		}
	}
	key := [4]uint64{uint64(t), uint64(u), given, open}
	outcomes, known := e.outcomes[key]
	if !known {
		s := sequence{enumeration: e, t: t, u: u, before: before, given: given, start: open}
		s.walk(open, outcome{}, -1, e.p.Days[t].Start, 0)
		outcomes = s.outcomes
		e.outcomes[key] = outcomes
	}
	return outcomes
}

// can reports whether an option's lenses are in the bag and can be had on a day.
func (e *enumeration) can(o Option, t int) bool {
	return e.has(o) && !slices.ContainsFunc(e.p.Setups[o.Setup].Lenses, func(l int) bool { return !e.p.Lenses[l].available(e.p.Days[t].Date) })
}

// A sequence tries all orders of a run.
type sequence struct {
	*enumeration
	t, u     int
	before   uint64
	given    uint64
	start    uint64
	outcomes []outcome
}

// walk notes the order so far, and goes on with each shot that is open. Now is when the last ends,
// and onSet the lenses that are on the set where that matters.
func (s *sequence) walk(open uint64, o outcome, last, now int, onSet uint64) {
	s.note(o)
	p := s.p
	for j := range p.Shots {
		if open>>j&1 == 0 || slices.ContainsFunc(p.Shots[j].After, func(k int) bool { return (s.before|o.done)>>k&1 == 0 }) {
			continue
		}
		left := open &^ (1 << j)
		for i := range j {
			if left>>i&1 == 1 && p.kept(i, j) {
				left &^= 1 << i
			}
		}
		for _, option := range p.Shots[j].Options {
			if option.Unit != s.u || !s.can(option, s.t) {
				continue
			}
			stop := Stop{Shot: j, Setup: option.Setup}
			next := o
			if last >= 0 {
				from := o.stops[len(o.stops)-1].Setup
				if s.change[s.u] != nil {
					stop.Change = s.change[s.u][from][option.Setup]
				}
				if p.Move != nil {
					stop.Move = p.Move[p.Shots[last].Place][p.Shots[j].Place]
				}
				if p.Setups[from].Lenses[0] != p.Setups[option.Setup].Lenses[0] {
					next.changes++
				}
			}
			var lenses uint64
			for _, l := range p.Setups[option.Setup].Lenses {
				lenses |= 1 << l
			}
			for _, set := range s.sets(onSet, lenses, last < 0) {
				stop.Fetch = 0
				if last >= 0 && p.Units[s.u].OnSet > 0 {
					stop.Fetch = p.Units[s.u].Fetch * bits.OnesCount64(lenses&^onSet)
				}
				minutes := stop.Change + stop.Move + stop.Fetch
				start, ok := p.Days[s.t].start(&p.Shots[j], p.Days[s.t].after(now, minutes))
				if !ok {
					break
				}
				stop.Start = start
				then := next
				then.done |= 1 << j
				then.lenses |= lenses
				then.weight += p.Shots[j].Weight
				then.worth += option.Worth
				then.minutes += minutes
				then.moved += bits.OnesCount64(left & (1<<j - 1))
				then.stops = append(slices.Clone(o.stops), stop)
				s.walk(left, then, j, start+p.Shots[j].Takes, set)
			}
		}
	}
}

// sets gives what may be on the set from a set-up on: with what it needs as much of the rest
// as there is room for, of what was there or, in the morning, of the whole bag.
func (s *sequence) sets(onSet, needed uint64, morning bool) []uint64 {
	room := s.p.Units[s.u].OnSet
	if room == 0 {
		return []uint64{0}
	}
	rest := onSet &^ needed
	if morning {
		for _, l := range s.kit[s.u] {
			rest |= 1 << l
		}
		rest &^= needed
	}
	keep := min(bits.OnesCount64(rest), room-bits.OnesCount64(needed))
	var sets []uint64
	for part := rest; ; part = (part - 1) & rest {
		if bits.OnesCount64(part) == keep {
			sets = append(sets, needed|part)
		}
		if part == 0 {
			return sets
		}
	}
}

// note keeps an order that does a shot of each block, if it is the best of its kind.
func (s *sequence) note(o outcome) {
	for b := range s.blocks {
		if s.given>>b&1 == 1 && !slices.ContainsFunc(s.blocks[b], func(i int) bool { return o.done>>i&1 == 1 }) {
			return
		}
	}
	for k := range s.outcomes {
		if other := &s.outcomes[k]; other.lenses == o.lenses && other.done&s.critical == o.done&s.critical {
			if o.better(other, s.p.Price) {
				*other = o
			}
			return
		}
	}
	s.outcomes = append(s.outcomes, o)
}

// finish hires what the runs need, and keeps the plan if it is the best.
func (e *enumeration) finish(done uint64, moved int, runs []Run) {
	p := e.p
	plan := Plan{Totals: Totals{Moved: moved}}
	t := &plan.Totals
	used := make([][]int, len(p.Lenses))
	for l, lens := range p.Lenses {
		for _, day := range p.Days {
			if lens.Must && lens.available(day.Date) && !slices.Contains(used[l], day.Date) {
				used[l] = append(used[l], day.Date)
			}
		}
	}
	for _, run := range runs {
		for k, stop := range run.Stops {
			shot := &p.Shots[stop.Shot]
			for _, o := range shot.Options {
				if o.Unit == run.Unit && o.Setup == stop.Setup {
					t.Value += o.Worth
					break
				}
			}
			lenses := p.Setups[stop.Setup].Lenses
			t.Minutes += stop.Change + stop.Move + stop.Fetch
			if k > 0 && p.Setups[run.Stops[k-1].Setup].Lenses[0] != lenses[0] {
				t.Changes++
			}
			for _, l := range lenses {
				if !slices.Contains(used[l], p.Days[run.Day].Date) {
					used[l] = append(used[l], p.Days[run.Day].Date)
				}
			}
		}
	}
	for i := range p.Shots {
		if done>>i&1 == 0 {
			t.Left += p.Shots[i].Weight
			why := NoLens
			if slices.ContainsFunc(p.Shots[i].Options, e.has) {
				why = NoRoom
			}
			plan.Left = append(plan.Left, Left{i, why})
		}
	}
	for l := range p.Lenses {
		if e.home[l] < 0 {
			continue
		}
		if lens := &p.Lenses[l]; lens.Hire != nil && !lens.Must && len(used[l]) == 0 {
			// A hired lens of a bag is there on one day at least.
			for _, day := range p.Days {
				if lens.available(day.Date) && len(used[l]) == 0 {
					used[l] = []int{day.Date}
				}
			}
			if len(used[l]) == 0 {
				return
			}
		}
		t.Mass += p.Lenses[l].Mass
		periods, cost := p.Lenses[l].periods(used[l])
		t.Cost += cost
		for _, dates := range periods {
			plan.Hire = append(plan.Hire, Period{l, dates, p.Lenses[l].Hire.period(dates.To - dates.From + 1)})
		}
	}
	if t.Cost >= never || p.MaxCost >= 0 && t.Cost > p.MaxCost {
		return
	}
	t.Value -= p.Price*int64(t.Minutes) + p.CentPrice*t.Cost
	if !e.found || t.Better(e.best.Totals) {
		plan.Runs = slices.Clone(runs)
		plan.Bags = e.kit
		e.best, e.found = plan, true
	}
}
