package days

import "slices"

// A shoot is the search for the best plan with given bags: a dynamic programme over days, whose
// state is the blocks done and how each hired lens stands, and whose steps are the blocks of a day.
// What the runs of a day are worth is a bound at first; the runs of the best plan are then solved,
// until the best plan has solved runs only.
type shoot struct {
	g    *ground
	m    *meter
	cuts *cuts
	rigs []*rig
	free bool // the rigs are those of [newFreeRig]

	lenses []int // by bit
	hired  []int // bits of the lenses whose hire is chosen
	fixed  int64 // cents of hire of the lenses that must come
	mass   int64

	possible set // shots that can be done on some day, and are not given up
	must     set // those of them that must be done
	whole    bool
	lost     int64     // weight of the other shots
	spare    int64     // weight of the possible shots that may be lost at most
	weight   int64     // of the possible shots
	weights  []int64   // of each block
	open     set       // blocks with a possible shot
	shots    []set     // for each block its possible shots
	needs    []set     // for each block those that a shot of it comes after
	early    []set     // for each block those that may not come on a later day
	nested   []set     // for each block those of early that can no longer come either when it cannot
	pairs    [][]int64 // for each two blocks the pairs of their shots of which that of the first comes first as written
	last     []int     // for each block the last day on which it can be done as a whole
	homes    []int     // for each block how many units and days could do it as a whole
	uses     []set     // for each hired lens the blocks it can be used for
	requires []set     // and those that cannot go without it
	worth    []int64   // for each block the most that it can be worth
	takes    []int     // for each block the half minutes of its shots
	have     []uint64  // for each day the lenses that can be had

	columns []column
	index   map[columnKey]int32
	days    [][]level // for each day its steps, unit by unit; level 0 is the day on which nothing is done
	rooms   []int     // for each day the half minutes of it and of those to come, of all units
	near    bool      // all that was solved is near
	top     value     // the last bound on the plans
	atMost  int       // columns
	longest int       // half minutes of the longest day
	hiring  []int64   // for each block cents of hire that it needs at least, times the longest day
	shifts  bool      // see [shoot.uniform]
}

// A column is a run of a unit, with a bound or with its best order.
type column struct {
	columnKey
	blocks set
	day    int   // one of those that it serves
	value  value // [nothing] for a run that cannot be
	found  found
	solved bool
}

type columnKey struct {
	day, unit int // the first day of the same hours, unless a shot has windows
	shots     set
	allowed   uint64
}

// A level is the ways to fill a day for the first units.
type level []step

// A step is some blocks on a day with some hired lenses. Its value is that of the best of its makings.
type step struct {
	blocks set
	use    uint64
	needs  set // blocks that must be done on an earlier day
	takes  int
	worth  int64 // the most that the blocks can be worth
	hiring int64 // see [shoot.hiring]
	from   []making
	value  value
	best   int32 // of from
}

// A making is a step of the level before and the column of a further unit, or -1.
type making struct{ step, column int32 }

// mostColumns bounds the columns of a shoot. Tests lower it.
var mostColumns = 400_000

const (
	fewColumns = 150_000   // where any plan will do
	mostSteps  = 4_000_000 // of a day and a unit
)

// newShoot takes bags, for each unit its lenses. Whole asks for all shots that the bags can do; given
// up are shots that are left out.
func newShoot(g *ground, m *meter, c *cuts, bags [][]int, whole bool, givenUp set) (*shoot, error) {
	s := &shoot{g: g, m: m, cuts: c, whole: whole, near: true}
	bit := map[int]int{}
	for _, bag := range bags {
		for _, l := range bag {
			bit[l] = len(s.lenses)
			s.lenses = append(s.lenses, l)
			s.mass += g.p.Lenses[l].Mass
		}
	}
	for u, bag := range bags {
		r, err := newRig(g, u, bag, bit)
		if err != nil {
			return nil, err
		}
		s.rigs = append(s.rigs, r)
	}
	for b, l := range s.lenses {
		lens := &g.p.Lenses[l]
		switch {
		case lens.Hire == nil:
		case lens.Must:
			s.fixed += lens.always(g.p.Days)
		default:
			s.hired = append(s.hired, b)
		}
	}
	s.prepare(givenUp)
	return s, nil
}

// newFreeShoot takes whatever bag there could be, and no time for changes.
func newFreeShoot(g *ground, m *meter, c *cuts, whole bool, givenUp set) *shoot {
	s := &shoot{g: g, m: m, cuts: c, whole: whole, free: true}
	for u := range g.p.Units {
		s.rigs = append(s.rigs, newFreeRig(g, u))
	}
	s.prepare(givenUp)
	return s
}

// always gives the cents of hire of a lens that is there on all days on which it can be had.
func (l *Lens) always(days []Day) int64 {
	_, cost := l.periods(l.dates(days))
	return cost
}

// dates gives the dates of days on which a lens can be had.
func (l *Lens) dates(days []Day) (dates []int) {
	for _, day := range days {
		if l.available(day.Date) && (len(dates) == 0 || dates[len(dates)-1] != day.Date) {
			dates = append(dates, day.Date)
		}
	}
	return dates
}

// allowed gives the lenses that are there on a day with some hired ones.
func (s *shoot) allowed(t int, use uint64) uint64 {
	allowed := s.have[t]
	for h, bit := range s.hired {
		if use>>h&1 == 0 {
			allowed &^= 1 << bit
		}
	}
	return allowed
}

// prepare finds what does not depend on days.
func (s *shoot) prepare(givenUp set) {
	bound := s.reach(givenUp)
	n := len(s.g.blocks)
	s.shots, s.needs, s.early = make([]set, n), make([]set, n), make([]set, n)
	s.pairs, s.last, s.worth, s.takes = make([][]int64, n), make([]int, n), make([]int64, n), make([]int, n)
	s.weights, s.hiring = make([]int64, n), make([]int64, n)
	s.uses, s.requires = make([]set, len(s.hired)), make([]set, len(s.hired))
	for i := range s.g.p.Shots {
		if s.possible.has(i) {
			s.admit(i)
		} else {
			s.lost += s.g.p.Shots[i].Weight
		}
	}
	if s.whole {
		s.must = s.possible
	}
	s.order(bound)
	if len(s.rigs) == 1 {
		s.twins()
	}
	s.pair()
}

// reach finds the lenses that are there on each day and the shots that can be done, and gives those whose
// order binds.
func (s *shoot) reach(givenUp set) (bound set) {
	g, p := s.g, s.g.p
	s.have = make([]uint64, len(p.Days))
	for t, day := range p.Days {
		for b, l := range s.lenses {
			if p.Lenses[l].available(day.Date) {
				s.have[t] |= 1 << b
			}
		}
	}
	for t := range p.Days {
		for _, r := range s.rigs {
			s.possible = s.possible.plus(r.scope(s.have[t]).doable.common(g.stands[t]))
		}
	}
	bound = s.follow(s.possible) // the order as written binds what is given up too
	s.possible = s.follow(s.possible.minus(givenUp))
	switch {
	case s.free && s.whole: // it is asked for bags that can do all of these
		bound = s.possible
	case s.free: // bags that can do less are bound less
		bound = set{}
	}
	return bound
}

// admit adds a shot that can be done to its block.
func (s *shoot) admit(i int) {
	g, shot := s.g, &s.g.p.Shots[i]
	b := g.blockOf[i]
	s.open = s.open.with(b)
	s.weight += shot.Weight
	s.weights[b] += shot.Weight
	s.shots[b] = s.shots[b].with(i)
	s.takes[b] += shot.Takes
	most := int64(0)
	for _, r := range s.rigs {
		for _, w := range r.ways[i] {
			most = max(most, w.worth)
		}
	}
	s.worth[b] += most
	for k := range g.after[i].all {
		if c := g.blockOf[k]; c != b {
			s.needs[b] = s.needs[b].with(c)
			s.must = s.must.with(i).with(k)
		}
	}
	for h, bit := range s.hired {
		without := false
		for _, r := range s.rigs {
			for _, w := range r.ways[i] {
				if r.needs[w.setup]>>bit&1 == 1 {
					s.uses[h] = s.uses[h].with(b)
				} else {
					without = true
				}
			}
		}
		if !without {
			s.requires[h] = s.requires[h].with(b)
		}
	}
}

// order finds which blocks come before others, as far as the order of some shots binds.
func (s *shoot) order(bound set) {
	g := s.g
	for i := range bound.all {
		for k := range g.early[i].common(bound).all {
			if b, c := g.blockOf[i], g.blockOf[k]; c != b {
				s.early[b] = s.early[b].with(c)
			}
		}
	}
	for b := range s.early {
		s.early[b] = s.early[b].common(s.open)
	}
	s.nested = make([]set, len(g.blocks))
	for c := range s.open.all {
		s.nested[c] = s.early[c]
		for d := range s.open.all {
			if s.early[d].has(c) {
				s.nested[c] = s.nested[c].common(s.early[d])
			}
		}
	}
}

// pair counts the pairs of shots of every two blocks.
func (s *shoot) pair() {
	for b := range s.pairs {
		s.pairs[b] = make([]int64, len(s.g.blocks))
		for c := range s.pairs[b] {
			if b != c {
				for j := range s.shots[c].all {
					s.pairs[b][c] += int64(s.shots[b].below(j))
				}
			}
		}
	}
}

// follow takes out of shots those that come after others which are not among them.
func (s *shoot) follow(shots set) set {
	for again := true; again; {
		again = false
		for i := range shots.all {
			if !s.g.after[i].within(shots) {
				shots, again = shots.minus(set{}.with(i)), true
			}
		}
	}
	return shots
}

// twins lets blocks of one shot that are alike come one after the other in the order as written.
func (s *shoot) twins() {
	p := s.g.p
	var linked set
	for i := range p.Shots {
		if !s.g.after[i].empty() {
			linked = linked.plus(s.g.after[i]).with(i)
		}
	}
	alike := func(i, j int) bool {
		a, b := &p.Shots[i], &p.Shots[j]
		if a.Weight != b.Weight || a.Takes != b.Takes || a.Place != b.Place || !slices.Equal(a.Windows, b.Windows) ||
			!slices.Equal(a.Days, b.Days) || !slices.Equal(a.Options, b.Options) {
			return false
		}
		for k := range p.Shots {
			if k != i && k != j && (s.g.before[k].has(i) != s.g.before[k].has(j) || s.g.before[i].has(k) != s.g.before[j].has(k)) {
				return false
			}
		}
		return true
	}
	for j := range s.possible.minus(linked).all {
		for i := j - 1; i >= 0; i-- {
			a, b := s.g.blockOf[i], s.g.blockOf[j]
			if s.possible.minus(linked).has(i) && len(s.g.blocks[a]) == 1 && len(s.g.blocks[b]) == 1 && alike(i, j) {
				s.needs[b] = s.needs[b].with(a)
				break
			}
		}
	}
}
