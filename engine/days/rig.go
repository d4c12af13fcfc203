package days

import (
	"fmt"
	"math/bits"
	"slices"
)

// A rig is a unit with its bag: what it can do, and what changes take. Its set-ups are meant by
// numbers of its own, and the lenses of all bags by bits.
type rig struct {
	g      *ground
	unit   int
	ways   [][]way // for each shot
	doable set     // shots with a way
	setups []int   // of the problem
	needs  []uint64
	first  []int   // the lens whose changes are counted
	change [][]int // half minutes; nil for none
	move   [][]int // half minutes from place to place; nil for none
	direct bool    // no way over something else is shorter
	fetch  int64   // price of fetching a lens
	onSet  int     // lenses on the set at once; 0 for all

	// Set-ups lie in groups. From group to group is the least that a way between them costs: its
	// price, shifted, and its changes of lens.
	group  []int
	groups int
	path   [][]int64 // [groups to visit][group to begin at, or the number of groups for any]
	steps  [][]int64 // from group to group
	loose  []bool    // groups that may be visited twice at no cost
	scopes map[uint64]*scope
}

// A way to do a shot.
type way struct {
	setup int
	worth int64
}

// mostGroups bounds how many groups the set-ups of a rig fall in: all sets of them are tried.
const mostGroups = 6

// costShift leaves room for the changes of lens below the price of a way.
const costShift = 8

// newRig takes the options that the bag has the lenses for; bits says which bit each lens has.
func newRig(g *ground, unit int, bag []int, bit map[int]int) (*rig, error) {
	p := g.p
	r := &rig{g: g, unit: unit, ways: make([][]way, len(p.Shots)), onSet: p.Units[unit].OnSet, move: p.Move, scopes: map[uint64]*scope{}}
	if r.onSet >= len(bag) {
		r.onSet = 0
	}
	r.fetch = int64(p.Units[unit].Fetch) * p.Price
	local := map[int]int{}
	seen := map[int]bool{}
	for _, l := range bag {
		for _, n := range g.byLens[l] {
			o := &g.options[n]
			if o.Unit != unit || seen[n] || slices.ContainsFunc(o.lenses, func(l int) bool { return !slices.Contains(bag, l) }) {
				continue
			}
			seen[n] = true
			c, known := local[o.Setup]
			if !known {
				c = len(r.setups)
				local[o.Setup] = c
				r.setups = append(r.setups, o.Setup)
				var needs uint64
				for _, l := range o.lenses {
					needs |= 1 << bit[l]
				}
				r.needs = append(r.needs, needs)
				r.first = append(r.first, p.Setups[o.Setup].Lenses[0])
			}
			r.ways[o.shot] = append(r.ways[o.shot], way{c, o.Worth})
			r.doable = r.doable.with(o.shot)
		}
	}
	if p.Change != nil && len(r.setups) > 0 {
		all := p.Change(unit, bag)
		if err := validateChanges(all, len(p.Setups), r.setups); err != nil {
			return nil, err
		}
		r.change = make([][]int, len(r.setups))
		for a, from := range r.setups {
			r.change[a] = make([]int, len(r.setups))
			for b, to := range r.setups {
				r.change[a][b] = all[from][to]
			}
		}
	}
	r.direct = r.onSet == 0 && isDirect(r.change) && isDirect(r.move)
	r.makeGroups()
	return r, nil
}

// newFreeRig makes a rig that does every shot that a unit has an option for, with changes that take no
// time and moves on the shortest way: what it cannot do no bag can. A negative unit stands for any.
func newFreeRig(g *ground, unit int) *rig {
	r := &rig{g: g, unit: unit, ways: make([][]way, len(g.p.Shots)), setups: []int{-1}, needs: []uint64{0}, first: []int{0}, move: g.moves, scopes: map[uint64]*scope{}}
	for _, o := range g.options {
		if (unit < 0 || o.Unit == unit) && r.ways[o.shot] == nil {
			r.ways[o.shot] = []way{{0, 1}}
			r.doable = r.doable.with(o.shot)
		}
	}
	r.makeGroups()
	return r
}

// cost gives the price of a change between two set-ups, with the change of lens.
func (r *rig) cost(a, b int) int64 {
	var cost int64
	if r.change != nil {
		cost = int64(r.change[a][b]) * r.g.p.Price << costShift
	}
	if r.first[a] != r.first[b] {
		cost++
	}
	return cost
}

// makeGroups puts set-ups in groups that bounds tell apart: those between which nothing is lost
// are one, and the nearest ones too while there are too many.
func (r *rig) makeGroups() {
	n := len(r.setups)
	d := make([][]int64, n)
	for a := range d {
		d[a] = make([]int64, n)
		for b := range d[a] {
			d[a][b] = r.cost(a, b)
		}
	}
	shortestCosts(d)
	r.group = make([]int, n)
	for a := range r.group {
		r.group[a] = a
	}
	r.groups = n
	for r.groups > 1 {
		best, into, from := int64(-1), 0, 0
		for a := range d {
			for b := range a {
				if both := d[a][b] + d[b][a]; best < 0 || both < best {
					best, into, from = both, b, a
				}
			}
		}
		if best > 0 && r.groups <= mostGroups {
			break
		}
		d = merge(d, into, from)
		for c, of := range r.group {
			switch {
			case of == from:
				r.group[c] = into
			case of > from:
				r.group[c]--
			}
		}
		r.groups--
	}
	r.makePaths(d)
}

// merge makes one of two groups, into which the second goes.
func merge(d [][]int64, into, from int) [][]int64 {
	for k := range d {
		d[into][k] = min(d[into][k], d[from][k])
		d[k][into] = min(d[k][into], d[k][from])
	}
	d[into][into] = 0
	d = slices.Delete(d, from, from+1)
	for k := range d {
		d[k] = slices.Delete(d[k], from, from+1)
	}
	shortestCosts(d)
	return d
}

func shortestCosts(d [][]int64) {
	for via := range d {
		for i := range d {
			for j := range d {
				d[i][j] = min(d[i][j], d[i][via]+d[via][j])
			}
		}
	}
}

// makePaths finds the cheapest path through every set of groups from every group.
func (r *rig) makePaths(d [][]int64) {
	n := r.groups
	r.path = make([][]int64, 1<<n)
	for visit := range r.path {
		row := make([]int64, n+1)
		r.path[visit] = row
		any := int64(-1)
		for from := range n {
			rest := visit &^ (1 << from)
			best := int64(-1)
			if rest == 0 {
				best = 0
			}
			for to := range n {
				if rest>>to&1 == 1 {
					if cost := d[from][to] + r.path[rest&^(1<<to)][to]; best < 0 || cost < best {
						best = cost
					}
				}
			}
			row[from] = best
			if visit>>from&1 == 1 && (any < 0 || best < any) {
				any = best
			}
		}
		row[n] = max(any, 0)
	}
	r.loose = make([]bool, n)
	for a := range n {
		for b := range n {
			r.loose[a] = r.loose[a] || b != a && d[b][a] == 0
			for c := range n {
				r.loose[a] = r.loose[a] || b != a && c != a && b != c && d[b][a]+d[a][c] == d[b][c]
			}
		}
	}
	r.steps = d
}

// A scope is what a rig can do with some of its lenses: those that can be had on a day and are hired.
type scope struct {
	r       *rig
	allowed uint64
	ways    [][]way
	doable  set
	best    [][]int64 // for each shot the best worth within each set of groups; 0 for none
}

func (r *rig) scope(allowed uint64) *scope {
	s, known := r.scopes[allowed]
	if known {
		return s
	}
	s = &scope{r: r, allowed: allowed, ways: make([][]way, len(r.ways)), best: make([][]int64, len(r.ways))}
	for i, ways := range r.ways {
		var by [mostGroups]int64
		for _, w := range ways {
			if r.needs[w.setup]&^allowed == 0 {
				s.ways[i] = append(s.ways[i], w)
				s.doable = s.doable.with(i)
				by[r.group[w.setup]] = max(by[r.group[w.setup]], w.worth)
			}
		}
		if s.ways[i] == nil {
			continue
		}
		best := make([]int64, 1<<r.groups)
		for groups := 1; groups < len(best); groups++ {
			low := groups & -groups
			best[groups] = max(best[groups&^low], by[bits.TrailingZeros(uint(low))])
		}
		s.best[i] = best
	}
	r.scopes[allowed] = s
	return s
}

// validateChanges says what is wrong with the changes between set-ups that a bag has.
func validateChanges(all [][]int, n int, setups []int) error {
	if len(all) != n {
		return fmt.Errorf("changes from %d set-ups, want %d", len(all), n)
	}
	for _, from := range setups {
		if len(all[from]) != n {
			return fmt.Errorf("changes from set-up %d to %d set-ups, want %d", from, len(all[from]), n)
		}
		for _, to := range setups {
			if m := all[from][to]; m < 0 || m > longestStep || from == to && m != 0 {
				return fmt.Errorf("%d half minutes from set-up %d to %d, want at least 0 and at most %d, and 0 to itself", m, from, to, longestStep)
			}
		}
	}
	return nil
}

// isDirect reports whether no way over something else is shorter.
func isDirect(m [][]int) bool {
	for a, row := range shortest(m) {
		if !slices.Equal(row, m[a]) {
			return false
		}
	}
	return true
}
