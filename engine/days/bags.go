package days

import (
	"fmt"
	"math"
	"slices"
)

// A kit is a choice of bags with a bound on what they are worth.
type kit struct {
	bags  [][]int // for each unit its lenses, ascending
	lost  int64   // weight of the shots that no lens of them can do
	worth int64   // nothing better is possible
	mass  int64
}

// count gives how many lenses are in the bags.
func (k *kit) count() (n int) {
	for _, bag := range k.bags {
		n += len(bag)
	}
	return n
}

// key tells kits apart.
func (k *kit) key() string { return fmt.Sprint(k.bags) }

// A packing goes through all bags. Keep says whether a bound is worth while.
type packing struct {
	g    *ground
	m    *meter
	keep func(lost, worth int64) bool
	kits []kit

	home    []int // for each lens its unit, or -1
	best    []int64
	suffix  [][]int64 // for each lens and shot the best of the options whose last lens comes no earlier
	room    []int
	cents   int64
	candid  []int // lenses that may come, those that must first
	musts   int
	total   int64
	ordered [][]int // for each candidate the options of which it is the last lens
}

// pack gives all kits that are worth while, the best bound first.
func pack(g *ground, m *meter, keep func(lost, worth int64) bool) []kit {
	p := g.p
	k := &packing{g: g, m: m, keep: keep, home: make([]int, len(p.Lenses)), best: make([]int64, len(p.Shots))}
	for l, lens := range p.Lenses {
		k.home[l] = -1
		if lens.Must {
			k.candid = append(k.candid, l)
		}
	}
	k.musts = len(k.candid)
	for l, lens := range p.Lenses {
		if !lens.Must && !lens.Barred && len(g.byLens[l]) > 0 && len(lens.dates(p.Days)) > 0 {
			k.candid = append(k.candid, l)
		}
	}
	rank := make([]int, len(p.Lenses))
	for n := range rank {
		rank[n] = -1
	}
	for n, l := range k.candid {
		rank[l] = n
	}
	k.ordered = make([][]int, len(k.candid))
	for n, o := range g.options {
		last := -1
		for _, l := range o.lenses {
			if rank[l] < 0 {
				last = -1
				break
			}
			last = max(last, rank[l])
		}
		if last >= 0 {
			k.ordered[last] = append(k.ordered[last], n)
		}
	}
	k.suffix = make([][]int64, len(k.candid)+1)
	k.suffix[len(k.candid)] = make([]int64, len(p.Shots))
	for n := len(k.candid) - 1; n >= 0; n-- {
		k.suffix[n] = slices.Clone(k.suffix[n+1])
		for _, o := range k.ordered[n] {
			i := g.options[o].shot
			k.suffix[n][i] = max(k.suffix[n][i], g.options[o].Worth)
		}
	}
	for _, u := range p.Units {
		k.room = append(k.room, u.Carry)
	}
	for i := range p.Shots {
		k.total += p.Shots[i].Weight
	}
	k.choose(0)
	slices.SortStableFunc(k.kits, func(a, b kit) int {
		switch {
		case a.lost != b.lost:
			return sign(a.lost - b.lost)
		case a.worth != b.worth:
			return sign(b.worth - a.worth)
		}
		return a.count() - b.count()
	})
	return k.kits
}

func sign(n int64) int {
	switch {
	case n < 0:
		return -1
	case n > 0:
		return 1
	}
	return 0
}

// choose tries all units for the candidates from one on, and then leaves the rest at home.
func (k *packing) choose(from int) {
	if !k.m.step() {
		return
	}
	p := k.g.p
	if from >= k.musts {
		lost, worth := k.bound(nil)
		if k.keep(lost, worth) {
			next := kit{bags: make([][]int, len(p.Units)), lost: lost, worth: worth}
			for l, u := range k.home {
				if u >= 0 {
					next.bags[u] = append(next.bags[u], l)
					next.mass += p.Lenses[l].Mass
				}
			}
			k.kits = append(k.kits, next)
		}
	}
	if from == len(k.candid) || !slices.ContainsFunc(k.room, func(n int) bool { return n > 0 }) || !k.keep(k.bound(k.suffix[from])) {
		return
	}
	for n := from; n < len(k.candid); n++ {
		if n > from && n <= k.musts {
			return
		}
		l := k.candid[n]
		for u := range p.Units {
			if k.room[u] == 0 {
				continue
			}
			k.room[u]--
			k.home[l] = u
			cents := k.cents
			if lens := &p.Lenses[l]; lens.Hire != nil {
				if lens.Must {
					k.cents += lens.always(p.Days)
				} else {
					k.cents += lens.Hire.period(1)
				}
			}
			if p.MaxCost < 0 || k.cents <= p.MaxCost {
				undo := k.add(n, u)
				k.choose(n + 1)
				for _, e := range undo {
					k.best[e.shot] = e.worth
				}
			}
			k.cents = cents
			k.home[l] = -1
			k.room[u]++
		}
	}
}

type oldBest struct {
	shot  int
	worth int64
}

// add takes in the options that a candidate completes for a unit.
func (k *packing) add(n, u int) (undo []oldBest) {
	for _, o := range k.ordered[n] {
		option := &k.g.options[o]
		if option.Unit != u || option.Worth <= k.best[option.shot] || slices.ContainsFunc(option.lenses, func(l int) bool { return k.home[l] != u }) {
			continue
		}
		undo = append(undo, oldBest{option.shot, k.best[option.shot]})
		k.best[option.shot] = option.Worth
	}
	slices.Reverse(undo)
	return undo
}

// bound gives the least weight that is lost and the most worth, with what further lenses could add.
func (k *packing) bound(more []int64) (lost, worth int64) {
	for i, best := range k.best {
		if more != nil {
			best = max(best, more[i])
		}
		if best == 0 {
			lost += k.g.p.Shots[i].Weight
		}
		worth += best
	}
	if cents := k.cents; k.g.p.CentPrice > 0 {
		if cents > math.MaxInt64/4/k.g.p.CentPrice {
			return lost, math.MinInt64 / 4
		}
		worth -= cents * k.g.p.CentPrice
	}
	return lost, worth
}

// carried reports whether a bag has all lenses of an option.
func (o *option) carried(bag []int) bool {
	return !slices.ContainsFunc(o.lenses, func(l int) bool { return !slices.Contains(bag, l) })
}

// greedy gives a kit that takes, one after the other, the lens that adds most.
func greedy(g *ground) *kit {
	p := g.p
	k := &kit{bags: make([][]int, len(p.Units))}
	in := make([]bool, len(p.Lenses))
	var cents int64
	price := func(l int) int64 {
		switch lens := &p.Lenses[l]; {
		case lens.Hire == nil:
			return 0
		case lens.Must:
			return lens.always(p.Days)
		default:
			return lens.Hire.period(1)
		}
	}
	// worthOf gives what a bag with a lens more makes of the shots.
	best := make([]int64, len(p.Shots))
	worthOf := func(l, u int) (lost, worth int64, with []int64) {
		with = slices.Clone(best)
		bag := append(slices.Clone(k.bags[u]), l)
		for _, n := range g.byLens[l] {
			if o := &g.options[n]; o.Unit == u && o.Worth > with[o.shot] && o.carried(bag) {
				with[o.shot] = o.Worth
			}
		}
		for i, w := range with {
			if worth += w; w == 0 {
				lost += p.Shots[i].Weight
			}
		}
		return lost, worth - p.CentPrice*(cents+price(l)), with
	}
	var left, worth int64
	for i := range p.Shots {
		left += p.Shots[i].Weight
	}
	for {
		lens, unit := -1, 0
		lost, most, must := left, worth, false
		var with []int64
		for l := range p.Lenses {
			if in[l] || p.Lenses[l].Barred || len(p.Lenses[l].dates(p.Days)) == 0 || must && !p.Lenses[l].Must ||
				p.MaxCost >= 0 && cents+price(l) > p.MaxCost {
				continue
			}
			for u := range p.Units {
				if len(k.bags[u]) == p.Units[u].Carry {
					continue
				}
				n, w, b := worthOf(l, u)
				if p.Lenses[l].Must && !must || n < lost || n == lost && w > most {
					lens, unit, lost, most, with, must = l, u, n, w, b, p.Lenses[l].Must
				}
			}
		}
		if lens < 0 {
			break
		}
		k.bags[unit] = append(k.bags[unit], lens)
		slices.Sort(k.bags[unit])
		in[lens], best, left, worth = true, with, lost, most
		cents += price(lens)
		k.mass += p.Lenses[lens].Mass
	}
	for l := range p.Lenses {
		if p.Lenses[l].Must && !in[l] {
			return nil
		}
	}
	k.lost, k.worth = left, worth
	return k
}
