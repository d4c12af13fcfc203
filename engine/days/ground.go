package days

import "slices"

// A ground is what follows from the problem alone, whatever the bags.
type ground struct {
	p       *Problem
	blocks  [][]int // shots of each block, in the order as written
	blockOf []int   // of each shot
	before  []set   // for each shot those written before it that must come before it in a run
	early   []set   // for each shot those of before that may not come on a later day either
	after   []set   // for each shot those that must be done before it
	stands  []set   // for each day the shots that could be done on it if they were alone
	class   []int   // for each day the first one with the same hours
	room    []int   // for each day its half minutes without the break
	timed   set     // shots with windows
	moves   [][]int // half minutes on the shortest way from place to place; nil for none
	byLens  [][]int // for each lens the options that need it, as numbers in options
	options []option
}

// An option of a shot, with what it needs.
type option struct {
	Option
	shot   int
	lenses []int
}

func newGround(p *Problem) *ground {
	n := len(p.Shots)
	g := &ground{
		p: p, blockOf: make([]int, n), before: make([]set, n), early: make([]set, n), after: make([]set, n),
		stands: make([]set, len(p.Days)), moves: shortest(p.Move), byLens: make([][]int, len(p.Lenses)),
	}
	known := map[int]int{}
	for i := range p.Shots {
		shot := &p.Shots[i]
		b, ok := known[shot.Block]
		if !ok {
			b = len(g.blocks)
			known[shot.Block] = b
			g.blocks = append(g.blocks, nil)
		}
		g.blocks[b] = append(g.blocks[b], i)
		g.blockOf[i] = b
		for _, k := range shot.After {
			g.after[i] = g.after[i].with(k)
		}
		if shot.Windows != nil {
			g.timed = g.timed.with(i)
		}
		for t := range p.Days {
			if p.mayStand(shot, t) {
				g.stands[t] = g.stands[t].with(i)
			}
		}
		for _, o := range shot.Options {
			lenses := slices.Clone(p.Setups[o.Setup].Lenses)
			slices.Sort(lenses)
			lenses = slices.Compact(lenses)
			if on := p.Units[o.Unit].OnSet; on > 0 && len(lenses) > on {
				continue
			}
			for _, l := range lenses {
				g.byLens[l] = append(g.byLens[l], len(g.options))
			}
			g.options = append(g.options, option{o, i, lenses})
		}
	}
	for j := range p.Shots {
		for i := range j {
			if p.kept(i, j) {
				g.before[j] = g.before[j].with(i)
				if !g.forced(i, j) {
					g.early[j] = g.early[j].with(i)
				}
			}
		}
	}
	for t, day := range p.Days {
		g.room = append(g.room, day.End-day.Start-(day.Break.To-day.Break.From))
		same := slices.IndexFunc(p.Days[:t], func(d Day) bool {
			rest := day.Break != (Span{})
			return d.End-d.Start == day.End-day.Start && rest == (d.Break != (Span{})) &&
				(!rest || d.Break.From-d.Start == day.Break.From-day.Start && d.Break.To-d.Start == day.Break.To-day.Start)
		})
		if same < 0 {
			same = t
		}
		g.class = append(g.class, same)
	}
	return g
}

// forced reports whether the days of two shots leave no way but that the second is on an earlier day.
func (g *ground) forced(i, j int) bool {
	first, last := -1, -1
	for t, stands := range g.stands {
		if first < 0 && stands.has(i) {
			first = t
		}
		if stands.has(j) {
			last = t
		}
	}
	return first < 0 || first > last
}

// shortest gives the shortest ways of a matrix.
func shortest(m [][]int) [][]int {
	if m == nil {
		return nil
	}
	d := make([][]int, len(m))
	for i, row := range m {
		d[i] = slices.Clone(row)
	}
	for via := range d {
		for i := range d {
			for j := range d {
				d[i][j] = min(d[i][j], d[i][via]+d[via][j])
			}
		}
	}
	return d
}

// overflow bounds the weight that is lost at least when shots take so many half minutes too long.
func (g *ground) overflow(shots set, over int) (lost int64) {
	if over <= 0 {
		return 0
	}
	least := int64(0)
	for i := range shots.all {
		if w := g.p.Shots[i].Weight; least == 0 || w < least {
			least = w
		}
	}
	// Those that take longest for their weight go, the last of them in part.
	for over > 0 && !shots.empty() {
		worst := -1
		for i := range shots.all {
			if worst < 0 || g.p.Shots[i].Weight*int64(g.p.Shots[worst].Takes) < g.p.Shots[worst].Weight*int64(g.p.Shots[i].Takes) {
				worst = i
			}
		}
		shot := &g.p.Shots[worst]
		if shot.Takes <= over {
			lost += shot.Weight
		} else {
			lost += (shot.Weight*int64(over) + int64(shot.Takes) - 1) / int64(shot.Takes)
		}
		over -= shot.Takes
		shots = shots.minus(set{}.with(worst))
	}
	return max(least, lost)
}
