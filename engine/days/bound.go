package days

// A bound is what some shots are worth at most: all of them, and where some are left out.
type bound struct {
	all  value
	part int64 // worth, however many are left out
}

// less gives the bound where a weight is lost.
func (b bound) less(lost int64) value {
	if lost > 0 {
		return value{weight: b.all.weight - lost, worth: b.part}
	}
	return b.all
}

// bounds gives for each group to begin at, and last for any, what a set of shots is worth at most
// without times and what must come before what: the best set of groups, each shot with its best way
// in it, less the cheapest path through the groups. Such a path tells the least pairs out of order too,
// as far as each shot has one best group.
func (s *scope) bounds(shots set) (most []bound) {
	r := s.r
	sums := make([]value, len(r.path))
	for i := range shots.all {
		weight := r.g.p.Shots[i].Weight
		for groups, worth := range s.best[i] {
			if worth > 0 {
				sums[groups].weight += weight
				sums[groups].worth += worth
			}
		}
	}
	most = make([]bound, r.groups+1)
	pairs := pairing{scope: s, shots: shots}
	for from := range most {
		b := &most[from]
		b.all = nothing
		for groups, v := range sums {
			v = v.plus(s.pathValue(groups, from))
			b.part = max(b.part, v.worth)
			if v.better(b.all) {
				b.all = v
			}
		}
		least := int64(-1)
		for groups, v := range sums {
			if v.plus(s.pathValue(groups, from)) == b.all {
				if n := int64(pairs.least(groups, from)); least < 0 || n < least {
					least = n
				}
				if least == 0 {
					break
				}
			}
		}
		b.all.ties += least
	}
	return most
}

// pathValue is what the cheapest path through groups takes away.
func (s *scope) pathValue(groups, from int) value {
	cost := s.r.path[groups][from]
	return value{worth: -(cost >> costShift), ties: cost & (1<<costShift - 1) * oneChange}
}

// A pairing counts the pairs out of order that paths through the groups of some shots make.
type pairing struct {
	*scope
	shots  set
	groups int // of which after and known are
	after  [mostGroups][mostGroups]int
	known  map[int]int // by groups to visit and the one to begin at
}

// least gives the fewest pairs on a cheapest path through groups.
func (c *pairing) least(groups, from int) int {
	if groups&(groups-1) == 0 {
		return 0
	}
	if c.known == nil || c.groups != groups {
		c.count(groups)
	}
	if from < c.r.groups {
		rest := groups &^ (1 << from)
		n := c.walk(rest, from)
		if groups != rest {
			n += c.passed(rest, from)
		}
		return n
	}
	best := -1
	for first := range c.r.groups {
		if groups>>first&1 == 1 && c.r.path[groups][first] == c.r.path[groups][from] {
			rest := groups &^ (1 << first)
			if n := c.passed(rest, first) + c.walk(rest, first); best < 0 || n < best {
				best = n
			}
		}
	}
	return best
}

// count notes for groups a and b the pairs of shots of which that of a is written first.
func (c *pairing) count(groups int) {
	c.groups, c.known = groups, map[int]int{}
	c.after = [mostGroups][mostGroups]int{}
	var seen [mostGroups]int
	for i := range c.shots.all {
		at := -1
		for g := range c.r.groups {
			if best := c.best[i]; best != nil && groups>>g&1 == 1 && best[1<<g] > 0 && best[1<<g] == best[groups] {
				if at >= 0 || c.r.loose[g] {
					at = -1
					break
				}
				at = g
			}
		}
		if at < 0 {
			continue
		}
		for g, n := range seen {
			if g != at {
				c.after[g][at] += n
			}
		}
		seen[at]++
	}
}

// passed counts the pairs that a group makes when the rest comes after it.
func (c *pairing) passed(rest, first int) (n int) {
	for g := range c.r.groups {
		if rest>>g&1 == 1 {
			n += c.after[g][first]
		}
	}
	return n
}

// walk gives the fewest pairs on a cheapest path through the rest.
func (c *pairing) walk(rest, from int) int {
	if rest == 0 {
		return 0
	}
	key := rest<<3 | from
	if n, known := c.known[key]; known {
		return n
	}
	best := -1
	for to := range c.r.groups {
		next := rest &^ (1 << to)
		if next == rest || c.r.steps[from][to]+c.r.path[next][to] != c.r.path[rest][from] {
			continue
		}
		if n := c.passed(next, to) + c.walk(next, to); best < 0 || n < best {
			best = n
		}
	}
	c.known[key] = best
	return best
}
