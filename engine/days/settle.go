package days

// A candidate is the best plan of a kit.
type candidate struct {
	value value // [nothing] for none
	kit   *kit
	runs  []candidateRun
}

type candidateRun struct {
	day, unit int
	setups    []int // of the problem, by the rig's numbers
	stops     []stopAt
}

// better compares a value with a kit to a candidate: all that plans are compared by.
func (c *candidate) worseThan(v value, k *kit) bool {
	old := c.value
	switch {
	case v.weight != old.weight:
		return v.weight > old.weight
	case v.worth != old.worth:
		return v.worth > old.worth
	case v.ties != old.ties:
		return v.ties < old.ties
	case k.mass != c.kit.mass:
		return k.mass < c.kit.mass
	case v.cents != old.cents:
		return v.cents < old.cents
	case k.count() != c.kit.count():
		return k.count() < c.kit.count()
	}
	return k.before(c.kit)
}

// before reports whether the lenses of a kit come first in the file.
func (k *kit) before(other *kit) bool {
	for u := range k.bags {
		for n := range min(len(k.bags[u]), len(other.bags[u])) {
			if a, b := k.bags[u][n], other.bags[u][n]; a != b {
				return a < b
			}
		}
		if a, b := len(k.bags[u]), len(other.bags[u]); a != b {
			return a > b
		}
	}
	return false
}

// solve looks for a plan that is better than the best so far, and puts it in its place. It gives a bound on
// the plans of the bags that are as good as the best, [nothing] when there is none.
func (s *shoot) solve(best *candidate, k *kit) (bound value) {
	worse := func(v value) bool { return best.value.weight >= 0 && !best.worseThan(v, k) }
	if s.free {
		worse = func(v value) bool { return v.weight <= best.value.weight }
	}
	limit := s.start().value
	limit.worth += s.start().worth
	limit.weight += s.weight
	s.top = limit
	if worse(limit) {
		return limit
	}
	if s.days == nil && !s.fill() {
		s.m.ended = true
		return limit
	}
	for ties := 0; ; ties++ {
		before := s.m.nodes
		r, found := s.walk(worse)
		spent := s.m.nodes - before
		switch {
		case s.m.ended:
			return limit
		case !found:
			return nothing
		}
		limit = r.value
		if s.top = limit; worse(limit) {
			return limit
		}
		if limit.clearly(best.value) {
			ties = 0
		} else if ties > mostTies {
			s.near = false // what is left to find is an equal plan nearer to the order as written
			return limit
		}
		open := s.try(r, worse, best, k)
		if !open || s.m.ended {
			return limit
		}
		s.ahead(r, spent/labelCost)
		s.prune()
	}
}

// try solves the columns of a route and keeps it as a plan if it is better than the best. It reports whether
// there was anything to solve.
func (s *shoot) try(r route, worse func(value) bool, best *candidate, k *kit) (open bool) {
	value, sound := r.value, true
	for t, step := range r.steps {
		for _, c := range s.columnsOf(t, int(step)) {
			col := &s.columns[c]
			before := col.value
			if !col.solved {
				open = true
				s.settle(col)
			}
			if col.found.value.weight < 0 {
				sound = false
				continue
			}
			value = value.plus(col.found.value).minus(before)
		}
	}
	if sound && !worse(value) {
		best.value, best.kit, best.runs = value, k, s.runs(r)
	}
	return open
}

// any looks for some plan that leaves out no more than most, and reports false where that takes too long.
func (s *shoot) any(best *candidate, k *kit, most int64) bool {
	if s.spare = most - s.lost; s.spare < 0 {
		return true
	}
	if s.atMost = fewColumns; !s.fill() {
		return false
	}
	s.weigh()
	worse := func(v value) bool { return best.value.weight >= 0 && !best.worseThan(v, k) }
	if r, found, _ := s.pass(worse, narrow); found {
		s.try(r, worse, best, k)
	}
	return true
}

const (
	mostTies  = 10 // rounds that may go by without anything but a nearer order to be found
	labelCost = 50 // how many nodes of a walk take as long as a label of a run
)

// ahead solves columns of other good routes, for as many labels as are worth a walk.
func (s *shoot) ahead(r route, labels int) {
	limit := s.m.limit
	s.m.lower(labels)
	defer s.m.resume(limit)
	for _, steps := range r.others {
		for t, step := range steps {
			for _, c := range s.columnsOf(t, int(step)) {
				if s.m.ended {
					return
				}
				if col := &s.columns[c]; !col.solved && col.found.passes == 0 {
					s.settle(col)
				}
			}
		}
	}
}

// runs gives what a route does, of which all columns have an order.
func (s *shoot) runs(r route) (runs []candidateRun) {
	for t, step := range r.steps {
		columns := s.columnsOf(t, int(step))
		for k := len(columns) - 1; k >= 0; k-- {
			c := &s.columns[columns[k]]
			runs = append(runs, candidateRun{t, c.unit, s.rigs[c.unit].setups, c.found.stops})
		}
	}
	return runs
}

// plan gives a candidate with its times and hire.
func (c *candidate) plan(g *ground) Plan {
	p := g.p
	plan := Plan{Bags: make([][]int, len(p.Units))}
	var done set
	used := make([][]int, len(p.Lenses))
	t := &plan.Totals
	if c.kit != nil {
		copy(plan.Bags, c.kit.bags)
	}
	for _, run := range c.runs {
		day := &p.Days[run.day]
		made := Run{Day: run.day, Unit: run.unit}
		clock := day.Start
		for k, s := range run.stops {
			shot := &p.Shots[s.shot]
			stop := Stop{Shot: s.shot, Setup: run.setups[s.setup], Fetch: s.fetched * p.Units[run.unit].Fetch}
			if k > 0 {
				before := made.Stops[k-1]
				stop.Change = c.change(run.unit, before.Setup, stop.Setup, p)
				if p.Move != nil {
					stop.Move = p.Move[p.Shots[before.Shot].Place][shot.Place]
				}
				if p.Setups[before.Setup].Lenses[0] != p.Setups[stop.Setup].Lenses[0] {
					t.Changes++
				}
			}
			minutes := stop.Change + stop.Move + stop.Fetch
			stop.Start, _ = day.start(shot, day.after(clock, minutes))
			clock = stop.Start + shot.Takes
			t.Minutes += minutes
			t.Value += s.worth
			done = done.with(s.shot)
			for _, l := range p.Setups[stop.Setup].Lenses {
				if n := len(used[l]); n == 0 || used[l][n-1] != day.Date {
					used[l] = append(used[l], day.Date)
				}
			}
			made.Stops = append(made.Stops, stop)
		}
		plan.Runs = append(plan.Runs, made)
	}
	in := make([]bool, len(p.Lenses))
	for _, bag := range plan.Bags {
		for _, l := range bag {
			in[l] = true
			t.Mass += p.Lenses[l].Mass
		}
	}
	for l := range p.Lenses {
		lens := &p.Lenses[l]
		if !in[l] || lens.Hire == nil {
			continue
		}
		dates := lens.dates(p.Days)
		switch {
		case lens.Must:
			used[l] = dates
		case len(used[l]) == 0 && len(dates) > 0:
			used[l] = dates[:1]
		}
		periods, cost := lens.periods(used[l])
		t.Cost += cost
		for _, d := range periods {
			plan.Hire = append(plan.Hire, Period{l, d, lens.Hire.period(d.To - d.From + 1)})
		}
	}
	for i := range p.Shots {
		if !done.has(i) {
			t.Left += p.Shots[i].Weight
			plan.Left = append(plan.Left, Left{i, c.why(g, i)})
		}
	}
	t.Moved = int(c.value.ties & (oneChange - 1))
	t.Value -= p.Price*int64(t.Minutes) + p.CentPrice*t.Cost
	return plan
}

// change gives the half minutes between two set-ups.
func (c *candidate) change(unit, from, to int, p *Problem) int {
	if p.Change == nil {
		return 0
	}
	return p.Change(unit, c.kit.bags[unit])[from][to]
}

// why says why a shot is not done.
func (c *candidate) why(g *ground, shot int) Reason {
	for k := range g.options {
		o := &g.options[k]
		if o.shot == shot && c.kit != nil && o.carried(c.kit.bags[o.Unit]) {
			return NoRoom
		}
	}
	return NoLens
}
