package days

// fill makes the columns and steps of all days, or reports that they are too many.
func (s *shoot) fill() bool {
	p := s.g.p
	s.index = map[columnKey]int32{}
	if s.atMost == 0 {
		s.atMost = mostColumns
	}
	s.rooms = make([]int, len(p.Days)+1)
	for t := len(p.Days) - 1; t >= 0; t-- {
		s.rooms[t] = s.rooms[t+1] + s.g.room[t]*len(p.Units)
		s.longest = max(s.longest, s.g.room[t])
	}
	s.homes = make([]int, len(s.last))
	for b := range s.last {
		s.last[b] = -1
		for t := range p.Days {
			for _, r := range s.rigs {
				if s.shots[b].within(s.g.stands[t].common(r.scope(s.have[t]).doable)) {
					s.homes[b]++
				}
			}
		}
	}
	for t := range p.Days {
		levels := []level{{{}}}
		for u := range s.rigs {
			f := filling{shoot: s, t: t, u: u, scope: s.rigs[u].scope(s.have[t])}
			f.from = levels[u]
			f.index = map[stepKey]int32{}
			for k, before := range f.from {
				f.make(before, making{int32(k), -1}, set{}, 0, 0)
			}
			f.blocks(set{}, set{}, 0, 0, 0)
			if f.full {
				return false
			}
			levels = append(levels, f.to)
		}
		s.days = append(s.days, levels)
	}
	s.boundHire()
	s.shifts = s.uniform()
	s.near = s.near && !s.shifts
	return true
}

// byDay reports whether a lens is hired by the day alone.
func (h *Hire) byDay() bool { return h.Week == 0 && h.Least <= 1 }

// boundHire finds what hire the blocks need at least, of the lenses that they cannot go without.
func (s *shoot) boundHire() {
	if !s.whole {
		return
	}
	for h, bit := range s.hired {
		hire := s.g.p.Lenses[s.lenses[bit]].Hire
		if !hire.byDay() {
			continue
		}
		alone := true // no two of the blocks fit in a day
		for b := range s.requires[h].all {
			alone = alone && 2*s.takes[b] > s.longest
		}
		for b := range s.requires[h].all {
			takes := s.takes[b]
			if alone {
				takes = s.longest
			}
			s.hiring[b] += hire.Day * int64(takes)
		}
	}
	for _, levels := range s.days {
		for _, level := range levels {
			for k := range level {
				for b := range level[k].blocks.all {
					level[k].hiring += s.hiring[b]
				}
			}
		}
	}
}

// uniform reports whether the blocks of each day could as well be done on another, with no difference but
// in hire: each fills a day, whichever it is, and lenses are hired once and by the day.
func (s *shoot) uniform() bool {
	p := s.g.p
	if !s.whole || len(s.rigs) != 1 || len(s.hired) == 0 || p.MaxCost >= 0 {
		return false
	}
	for t := range p.Days {
		if s.g.class[t] != 0 || t > 0 && p.Days[t].Date != p.Days[t-1].Date+1 {
			return false
		}
		uses := map[set]int{}
		for _, st := range s.days[t][1] {
			if uses[st.blocks]++; st.blocks.count() > 1 || uses[st.blocks] > 1 {
				return false
			}
		}
		if len(uses) != s.open.count()+1 {
			return false
		}
	}
	for _, bit := range s.hired {
		lens := &p.Lenses[s.lenses[bit]]
		if lens.Available != nil || !lens.Hire.Once || !lens.Hire.byDay() {
			return false
		}
	}
	for b := range s.open.all {
		if !s.early[b].empty() || s.shots[b].meets(s.g.timed) {
			return false
		}
		for _, i := range s.g.blocks[b] {
			if p.Shots[i].After != nil {
				return false
			}
		}
	}
	return true
}

// A filling makes the steps of a day for a further unit.
type filling struct {
	*shoot
	t, u  int
	scope *scope
	from  level
	to    level
	index map[stepKey]int32
	count int
	full  bool
}

type stepKey struct {
	blocks set
	use    uint64
}

// blocks tries all sets of blocks that the unit could do on the day, from a block on. Takes are the half
// minutes of the shots, and lost the weight of those that cannot be done.
func (f *filling) blocks(given, shots set, from, takes int, lost int64) {
	if f.full = f.full || !f.m.step(); f.full {
		return
	}
	for b := from; b < len(f.g.blocks); b++ {
		if !f.open.has(b) {
			continue
		}
		more := f.shots[b].common(f.g.stands[f.t]).common(f.scope.doable)
		if more.empty() || f.whole && more != f.shots[b] || !f.must.common(f.shots[b]).within(more) {
			continue
		}
		f.last[b] = f.t
		f.including(b, more, given, shots, takes, lost)
		if f.whole && f.homes[b] == 1 {
			return // no other unit or day could do it
		}
	}
}

// including tries the sets of blocks that have a further block, of which more shots are done.
func (f *filling) including(b int, more, given, shots set, takes int, lost int64) {
	shots, lost = shots.plus(more), lost+f.weights[b]
	for i := range more.all {
		takes += f.g.p.Shots[i].Takes
		lost -= f.g.p.Shots[i].Weight
	}
	over := takes - f.g.room[f.t]
	if f.whole && (over > 0 || f.cuts.forbid(f.t, shots)) || !f.whole && lost+max(f.g.overflow(shots, over), f.cuts.lost(f.t, shots)) > f.spare {
		return
	}
	given = given.with(b)
	if !f.gapless(given, b) {
		return
	}
	if f.gapless(given, len(f.g.blocks)) {
		f.column(given, shots)
	}
	f.blocks(given, shots, b+1, takes, lost)
}

// gapless reports whether no block before one is missing that could come neither on an earlier nor on a later
// day than some that are given. Other units may do it on the same day, if they have the time. Where shots
// may be left out, such a block is as well given and left out.
func (f *filling) gapless(given set, before int) bool {
	var early set
	for d := range given.all {
		early = early.plus(f.early[d])
	}
	missing := 0
	for c := range before {
		if !early.has(c) || given.has(c) || !f.early[c].meets(given) {
			continue
		}
		if !f.whole && (len(f.rigs) > 1 || !f.nested[c].meets(given) || !f.early[c].within(early.plus(given)) || !f.shots[c].meets(f.g.stands[f.t].common(f.scope.doable))) {
			continue
		}
		missing += f.takes[c]
	}
	return missing <= f.g.room[f.t]*(len(f.rigs)-1)
}

// column makes the columns of blocks for all hired lenses that make a difference.
func (f *filling) column(blocks, shots set) {
	var useful, forced uint64
	for h, bit := range f.hired {
		if f.have[f.t]>>bit&1 == 0 {
			continue
		}
		for i := range shots.all {
			with, without := false, false
			for _, w := range f.scope.ways[i] {
				if f.scope.r.needs[w.setup]>>bit&1 == 1 {
					with = true
				} else {
					without = true
				}
			}
			if with {
				useful |= 1 << h
			}
			if with && !without && (f.whole || f.must.has(i)) {
				forced |= 1 << h
			}
		}
	}
	free := useful &^ forced
	for part := free; ; part = (part - 1) & free {
		f.with(blocks, shots, forced|part)
		if part == 0 {
			return
		}
	}
}

// with makes a column with some hired lenses, and its steps.
func (f *filling) with(blocks, shots set, use uint64) {
	allowed := f.allowed(f.t, use)
	scope := f.scope.r.scope(allowed)
	can := f.together(shots.common(scope.doable), blocks)
	if f.whole && can != shots || !f.whole && f.lostOf(blocks, can) > f.spare || can.empty() || !f.must.common(shots).within(can) {
		return
	}
	key := columnKey{f.t, f.u, can, allowed}
	if !can.meets(f.g.timed) {
		key.day = f.g.class[f.t]
	}
	c, known := f.shoot.index[key]
	if !known {
		c = int32(len(f.columns))
		col := column{columnKey: key, day: f.t, blocks: blocks}
		takes := 0
		for i := range can.all {
			takes += f.g.p.Shots[i].Takes
		}
		lost := max(f.g.overflow(can, takes-f.g.room[f.t]), f.cuts.lost(f.t, can))
		col.value = scope.bounds(can)[scope.r.groups].less(lost)
		f.columns = append(f.columns, col)
		f.shoot.index[key] = c
		f.full = f.full || len(f.columns) > f.atMost
	}
	var needs set
	takes, worth := 0, int64(0)
	for b := range blocks.all {
		needs = needs.plus(f.needs[b])
		takes += f.takes[b]
		worth += f.worth[b]
	}
	needs = needs.minus(blocks)
	for k, before := range f.from {
		if before.blocks.meets(blocks) || before.blocks.meets(needs) || before.needs.meets(blocks) {
			continue
		}
		before.blocks = before.blocks.plus(blocks)
		before.use |= use
		f.make(before, making{int32(k), c}, needs, takes, worth)
	}
}

// lostOf gives the weight of the shots of blocks without some.
func (f *filling) lostOf(blocks, without set) (lost int64) {
	for b := range blocks.all {
		for i := range f.shots[b].minus(without).all {
			lost += f.g.p.Shots[i].Weight
		}
	}
	return lost
}

// together takes out the shots that come after others of the same blocks which cannot be done with them.
func (f *filling) together(can, blocks set) set {
	all := f.shotsOf(blocks)
	for again := true; again; {
		again = false
		for i := range can.all {
			if !f.g.after[i].common(all).within(can) {
				can, again = can.minus(set{}.with(i)), true
			}
		}
	}
	return can
}

// make adds a making to the step that it makes.
func (f *filling) make(of step, m making, needs set, takes int, worth int64) {
	key := stepKey{of.blocks, of.use}
	k, known := f.index[key]
	if !known {
		k = int32(len(f.to))
		f.index[key] = k
		f.to = append(f.to, step{blocks: of.blocks, use: of.use, needs: of.needs.plus(needs), takes: of.takes + takes, worth: of.worth + worth})
	}
	f.to[k].from = append(f.to[k].from, m)
	f.count++
	f.full = f.full || f.count > mostSteps
}

// weigh gives every step the value of its best making.
func (s *shoot) weigh() {
	for _, levels := range s.days {
		for u := 1; u < len(levels); u++ {
			for k := range levels[u] {
				st := &levels[u][k]
				st.value = nothing
				for n, m := range st.from {
					v := levels[u-1][m.step].value
					if v.weight < 0 {
						continue
					}
					if m.column >= 0 {
						add := s.columns[m.column].value
						if add.weight < 0 {
							continue
						}
						v = v.plus(add)
					}
					if v.better(st.value) {
						st.value, st.best = v, int32(n)
					}
				}
			}
		}
	}
}

// columnsOf gives the columns of a step of the last unit.
func (s *shoot) columnsOf(t, k int) (columns []int32) {
	for u := len(s.days[t]) - 1; u > 0; u-- {
		st := &s.days[t][u][k]
		m := st.from[st.best]
		if m.column >= 0 {
			columns = append(columns, m.column)
		}
		k = int(m.step)
	}
	return columns
}

// settle solves the run of a column, or comes nearer to it: one for which narrow passes are not enough is
// left until it is asked for again.
func (s *shoot) settle(c *column) {
	j := job{scope: s.rigs[c.unit].scope(c.allowed), day: c.day, shots: c.shots, must: s.must.common(c.shots), whole: s.whole}
	passes := len(widths)
	if c.found.passes == 0 {
		c.found.value = nothing
		passes--
	}
	c.found = j.further(s.m, c.found, passes)
	c.solved = c.found.exact
	if c.solved {
		c.value = c.found.value
		s.near = s.near && c.found.near
	} else if c.value.better(c.found.bound) {
		c.value = c.found.bound
	}
	if c.solved && c.value.weight < 0 && s.whole {
		s.cuts.learn(s, c)
	}
}

// prune takes out the columns that hold what has turned out impossible.
func (s *shoot) prune() {
	if !s.whole {
		return
	}
	for k := range s.columns {
		c := &s.columns[k]
		if c.value.weight >= 0 && (s.cuts.forbid(c.day, c.shots) || s.cuts.forbidRig(s.rigs[c.unit], c)) {
			c.value, c.solved = nothing, true
		}
	}
}
