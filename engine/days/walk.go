package days

import "slices"

// A node is a state of the shoot before a day: what is done, and how each hired lens stands.
type node struct {
	stateKey
	value  value
	takes  int   // half minutes of the blocks that are open
	worth  int64 // the most that they can be worth
	parent int32
	step   int32 // of the day before
	most   value // of a plan that comes by here
	hiring int64 // see [shoot.hiring], of the open blocks
	next   int32 // of the same key, -1 for none
	dead   bool
}

type stateKey struct {
	closed set // blocks that are done or can no longer be
	hire   hireState
}

// start gives the node before the first day.
func (s *shoot) start() node {
	n := node{parent: -1, next: -1, value: value{cents: s.fixed, worth: -s.g.p.CentPrice * s.fixed}}
	for b := range s.open.all {
		n.takes += s.takes[b]
		n.worth += s.worth[b]
		n.hiring += s.hiring[b]
	}
	return n
}

// A route is the best way through the days: for each its step. Others are the best of those that come
// to the last day by another way.
type route struct {
	steps  []int32
	value  value
	others [][]int32
}

// mostOthers is how many other routes are kept.
const mostOthers = 40

// narrow is how many nodes of a day the first walk keeps. What it finds cuts most of the second.
const narrow = 60

// walk finds the best way through the days by the values of the columns. It leaves out what cannot
// become as good as is asked for, and reports false when there is nothing or the search has ended.
func (s *shoot) walk(worse func(value) bool) (route, bool) {
	s.weigh()
	first, found, all := s.pass(worse, narrow)
	if all || s.m.ended || found && s.free && s.whole { // free bags only tell whether there is a plan
		return first, found && !s.m.ended
	}
	best, found, _ := s.pass(func(v value) bool { return found && first.value.better(v) || worse(v) }, 0)
	return best, found && !s.m.ended
}

// pass walks through the days, with so many nodes of each, or with all. It reports whether it found a way,
// and whether the width left nothing out.
func (s *shoot) pass(worse func(value) bool, width int) (best route, found, all bool) {
	p := s.g.p
	w := walking{shoot: s, worse: worse, nodes: []node{s.start()}}
	layer, all := []int32{0}, true
	for t := range p.Days {
		w.next, w.index = nil, map[stateKey]int32{}
		for _, at := range layer {
			if !w.nodes[at].dead && !w.expand(at, t) {
				return route{}, false, false
			}
		}
		layer = slices.DeleteFunc(w.next, func(n int32) bool { return w.nodes[n].dead })
		if width > 0 && len(layer) > width {
			slices.SortFunc(layer, func(a, b int32) int {
				switch x, y := w.nodes[a].most, w.nodes[b].most; {
				case x.better(y):
					return -1
				case y.better(x):
					return 1
				}
				return int(a - b)
			})
			layer, all = layer[:width], false
		}
	}
	last := int32(-1)
	for _, at := range layer {
		n := &w.nodes[at]
		if !s.must.within(s.shotsOf(n.closed)) || n.value.weight < s.weight-s.spare {
			continue
		}
		v := n.value
		for h, bit := range s.hired {
			if n.hire.of(h) == neverHired {
				cents := p.Lenses[s.lenses[bit]].idle(p.Days)
				v.cents += cents
				v.worth -= p.CentPrice * cents
			}
		}
		if v.cents < never && (p.MaxCost < 0 || v.cents <= p.MaxCost) && (last < 0 || v.better(best.value)) {
			last, best.value = at, v
		}
	}
	if last < 0 || len(p.Days) == 0 {
		return route{value: best.value}, last >= 0, all
	}
	best.steps = w.steps(w.nodes[last].parent, w.nodes[last].step)
	slices.SortStableFunc(w.ends, func(a, b end) int {
		switch {
		case a.value.better(b.value):
			return -1
		case b.value.better(a.value):
			return 1
		}
		return 0
	})
	for _, e := range w.ends[:min(len(w.ends), mostOthers)] {
		best.others = append(best.others, w.steps(e.at, e.step))
	}
	return best, true, all
}

// steps gives the steps of the days up to a node before the last, and a last one.
func (w *walking) steps(at, last int32) []int32 {
	steps := make([]int32, len(w.g.p.Days))
	for t := len(steps) - 1; t >= 0; t-- {
		steps[t] = last
		last, at = w.nodes[at].step, w.nodes[at].parent
	}
	return steps
}

// A walking holds what a pass has found so far.
type walking struct {
	*shoot
	worse func(value) bool
	nodes []node
	next  []int32 // those after the day
	index map[stateKey]int32
	ends  []end
}

// An end is a last step from a node.
type end struct {
	at, step int32
	value    value
}

// expand adds the nodes that steps of a day lead to, unless the search has ended.
func (w *walking) expand(at int32, t int) bool {
	p := w.g.p
	steps := w.days[t][len(w.rigs)]
	closed := w.nodes[at].closed
	var others []uint64
	if w.shifts {
		others = w.sooner(&w.nodes[at], steps)
	}
	for k := range steps {
		st := &steps[k]
		if st.value.weight < 0 || st.blocks.meets(closed) || !st.needs.within(closed) {
			continue
		}
		if w.shifts && st.use != 0 {
			at := slices.Index(others, st.use)
			if at < 0 {
				continue
			}
			others[at] = 0 // a further block with the same use comes after the first
		}
		if !w.m.step() {
			return false
		}
		n := w.nodes[at]
		if !w.take(&n, st, t) {
			continue
		}
		cents := n.hiring / int64(max(1, w.longest))
		n.most = n.value.plus(value{weight: w.mostWeight(&n, t), worth: n.worth - p.CentPrice*cents, cents: cents})
		if n.most.weight < w.weight-w.spare || w.worse(n.most) || p.MaxCost >= 0 && n.most.cents > p.MaxCost {
			continue
		}
		n.parent, n.step = at, int32(k)
		w.stand(n.hire, st, t, n.closed, func(hire hireState, cents int64) {
			made := n
			made.hire = hire
			add := value{worth: -p.CentPrice * cents, cents: cents}
			made.value, made.most = made.value.plus(add), made.most.plus(add)
			if t == len(p.Days)-1 && w.open.within(made.closed) {
				w.ends = append(w.ends, end{at, int32(k), made.value})
			}
			if cents == 0 || !w.worse(made.most) && (p.MaxCost < 0 || made.most.cents <= p.MaxCost) {
				w.add(made)
			}
		})
	}
	return true
}

// sooner gives the uses of hired lenses that are worth trying next where all blocks fill a day and could be
// done on any. A block that uses just what is there goes at once: later, all of it would be kept until then. And
// of two blocks of which one uses more than the other, and that is there, the one that uses more goes first.
func (w *walking) sooner(n *node, steps []step) (uses []uint64) {
	var on uint64
	open := w.open.minus(n.closed)
	for h := range w.hired {
		if state := n.hire.of(h); state != neverHired && state != takenBack && w.uses[h].meets(open) {
			on |= 1 << h
		}
	}
	for k := range steps {
		st := &steps[k]
		if st.use == 0 || st.value.weight < 0 || st.blocks.meets(n.closed) || !st.needs.within(n.closed) {
			continue
		}
		if st.use == on {
			return []uint64{on}
		}
		if !slices.Contains(uses, st.use) {
			uses = append(uses, st.use)
		}
	}
	return slices.DeleteFunc(uses, func(use uint64) bool {
		return slices.ContainsFunc(uses, func(other uint64) bool { return other != use && use&^other == 0 && other&^use&^on == 0 })
	})
}

// add keeps a node unless another of the same state is as good.
func (w *walking) add(n node) {
	limited := w.g.p.MaxCost >= 0
	head, known := w.index[n.stateKey]
	if !known {
		head = -1
	}
	for k := head; k >= 0; k = w.nodes[k].next {
		other := &w.nodes[k]
		if other.dead {
			continue
		}
		if !n.value.better(other.value) && (!limited || other.value.cents <= n.value.cents) {
			return
		}
		other.dead = !other.value.better(n.value) && (!limited || n.value.cents <= other.value.cents)
	}
	n.next = head
	w.index[n.stateKey] = int32(len(w.nodes))
	w.next = append(w.next, int32(len(w.nodes)))
	w.nodes = append(w.nodes, n)
}

// mostWeight bounds the weight that can be done after a day.
func (s *shoot) mostWeight(n *node, t int) int64 {
	if s.whole {
		return s.weight - n.value.weight
	}
	weight, takes := int64(0), 0
	var shots set
	for b := range s.open.minus(n.closed).all {
		if s.last[b] > t {
			weight += s.weights[b]
			takes += s.takes[b]
			shots = shots.plus(s.shots[b])
		}
	}
	return weight - s.g.overflow(shots, takes-s.rooms[t+1])
}

// shotsOf gives the possible shots of blocks.
func (s *shoot) shotsOf(blocks set) (shots set) {
	for b := range blocks.common(s.open).all {
		shots = shots.plus(s.shots[b])
	}
	return shots
}

// take puts a step of a day behind a node, or reports that nothing good can come of it.
func (s *shoot) take(n *node, st *step, t int) bool {
	var skipped set
	for b := range st.blocks.all {
		skipped = skipped.plus(s.early[b])
	}
	n.closed = n.closed.plus(st.blocks)
	n.takes -= st.takes
	n.worth -= st.worth
	n.hiring -= st.hiring
	if skipped = skipped.minus(n.closed); !skipped.empty() {
		if s.whole || s.shotsOf(skipped).meets(s.must) {
			return false
		}
		n.closed = n.closed.plus(skipped)
		for b := range skipped.all {
			n.takes -= s.takes[b]
			n.worth -= s.worth[b]
		}
	}
	open := s.open.minus(n.closed)
	if s.whole {
		if n.takes > s.rooms[t+1] {
			return false
		}
		for b := range open.all {
			if s.last[b] <= t {
				return false
			}
		}
	}
	n.value = n.value.plus(st.value)
	for c := range st.blocks.all {
		row := s.pairs
		for b := range open.all {
			n.value.ties += row[b][c]
		}
	}
	return true
}
