package days

// A node is a state of the shoot before a day: what is done, and how each hired lens stands.
type node struct {
	stateKey
	value  value
	takes  int   // half minutes of the blocks that are open
	worth  int64 // the most that they can be worth
	parent int32
	step   int32 // of the day before
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
	}
	return n
}

// A route is the best way through the days: for each its step.
type route struct {
	steps []int32
	value value
}

// walk finds the best way through the days by the values of the columns. It leaves out what cannot
// become as good as is asked for, and reports false when there is nothing or the search has ended.
func (s *shoot) walk(worse func(value) bool) (route, bool) {
	s.weigh()
	p := s.g.p
	nodes := []node{s.start()}
	layer := []int32{0}
	for t := range p.Days {
		steps := s.days[t][len(s.rigs)]
		index := map[stateKey]int32{}
		var next []int32
		for _, at := range layer {
			if nodes[at].dead {
				continue
			}
			for k := range steps {
				st := &steps[k]
				n := nodes[at]
				if st.value.weight < 0 || st.blocks.meets(n.closed) || !st.needs.within(n.closed) {
					continue
				}
				if !s.m.step() {
					return route{}, false
				}
				if !s.take(&n, st, t) {
					continue
				}
				most := n.value.plus(value{weight: s.mostWeight(&n, t), worth: n.worth})
				if most.weight < s.weight-s.spare || worse(most) {
					continue
				}
				n.parent, n.step = at, int32(k)
				s.stand(n.hire, st, t, n.closed, func(hire hireState, cents int64) {
					made := n
					made.hire = hire
					made.value.cents += cents
					made.value.worth -= p.CentPrice * cents
					if p.MaxCost >= 0 && made.value.cents > p.MaxCost {
						return
					}
					key := made.stateKey
					head, known := index[key]
					if !known {
						head = -1
					}
					for o := head; o >= 0; o = nodes[o].next {
						other := &nodes[o]
						if other.dead {
							continue
						}
						if !made.value.better(other.value) && (p.MaxCost < 0 || other.value.cents <= made.value.cents) {
							return
						}
						other.dead = !other.value.better(made.value) && (p.MaxCost < 0 || made.value.cents <= other.value.cents)
					}
					made.next = head
					index[key] = int32(len(nodes))
					next = append(next, int32(len(nodes)))
					nodes = append(nodes, made)
				})
			}
		}
		layer = next
	}
	best, bestValue := int32(-1), nothing
	for _, at := range layer {
		n := &nodes[at]
		if n.dead || !s.must.within(s.shotsOf(n.closed)) || n.value.weight < s.weight-s.spare {
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
		if v.cents >= never || p.MaxCost >= 0 && v.cents > p.MaxCost {
			continue
		}
		if best < 0 || v.better(bestValue) {
			best, bestValue = at, v
		}
	}
	if best < 0 {
		return route{}, false
	}
	r := route{steps: make([]int32, len(p.Days)), value: bestValue}
	for t := len(p.Days) - 1; t >= 0; t-- {
		r.steps[t] = nodes[best].step
		best = nodes[best].parent
	}
	return r, true
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
