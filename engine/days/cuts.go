package days

// cuts are sets of shots that cannot be done in one run: for all bags if no change took any time, or
// for a rig. Each is as small as can be.
type cuts struct {
	g    *ground
	m    *meter
	free []*rig        // for each unit
	days map[int][]set // for each day
	rigs map[*rig][]rigCut
}

type rigCut struct {
	day     int
	shots   set
	allowed uint64
}

func newCuts(g *ground, m *meter) *cuts {
	return &cuts{g: g, m: m, free: []*rig{}, days: map[int][]set{}, rigs: map[*rig][]rigCut{}}
}

// forbid reports whether shots cannot be done in one run of a day.
func (c *cuts) forbid(t int, shots set) bool {
	for _, cut := range c.days[t] {
		if cut.within(shots) {
			return true
		}
	}
	return false
}

// forbidRig reports whether a rig cannot do the shots of a column.
func (c *cuts) forbidRig(r *rig, col *column) bool {
	for _, cut := range c.rigs[r] {
		if cut.shots.within(col.shots) && col.allowed&^cut.allowed == 0 && c.sameDay(cut.day, col.day, cut.shots) {
			return true
		}
	}
	return false
}

// sameDay reports whether shots find the same hours on two days.
func (c *cuts) sameDay(t, u int, shots set) bool {
	return t == u || c.g.class[t] == c.g.class[u] && !shots.meets(c.g.timed)
}

// lost bounds the weight that is lost when shots are done in one run of a day.
func (c *cuts) lost(t int, shots set) (lost int64) {
	for _, cut := range c.days[t] {
		if !cut.within(shots) {
			continue
		}
		least := int64(0)
		for i := range cut.all {
			if w := c.g.p.Shots[i].Weight; least == 0 || w < least {
				least = w
			}
		}
		lost = max(lost, least)
	}
	return lost
}

// possible reports whether shots can be done in one run of a day, whatever the bag, if no change took
// any time. The meter may end it, and then they may be possible.
func (c *cuts) possible(t int, shots set) bool {
	if len(c.free) == 0 {
		c.free = append(c.free, newFreeRig(c.g, -1))
	}
	return c.can(c.free[0].scope(0), t, shots)
}

func (c *cuts) can(s *scope, t int, shots set) bool {
	f := job{scope: s, day: t, shots: shots, must: shots, whole: true}.solve(c.m)
	return f.value.weight >= 0 || !f.exact
}

// learn finds out why the shots of a column cannot be done.
func (c *cuts) learn(s *shoot, col *column) {
	if !c.possible(col.day, col.shots) {
		cut := c.least(col.shots, func(shots set) bool { return c.possible(col.day, shots) })
		for t := range c.g.p.Days {
			if c.sameDay(t, col.day, cut) {
				c.days[t] = append(c.days[t], cut)
			}
		}
		return
	}
	r := s.rigs[col.unit]
	if !r.direct {
		return
	}
	scope := r.scope(col.allowed)
	cut := c.least(col.shots, func(shots set) bool { return c.can(scope, col.day, shots) })
	c.rigs[r] = append(c.rigs[r], rigCut{col.day, cut, col.allowed})
}

// least takes shots out of an impossible set while the rest is impossible.
func (c *cuts) least(shots set, possible func(set) bool) set {
	for i := range shots.all {
		if rest := shots.minus(set{}.with(i)); !possible(rest) {
			shots = rest
		}
	}
	return shots
}
