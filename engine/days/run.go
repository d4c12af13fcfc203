package days

import (
	"math/bits"
	"slices"
)

// A job is a run that is asked for: the best order of some shots on a day with some lenses.
type job struct {
	scope *scope
	day   int
	shots set  // that may be done; each could be, if it were alone
	must  set  // those of them that must be done
	whole bool // all must be
}

// A found order is the best that was found for a job.
type found struct {
	value value // [nothing] when there is none
	stops []stopAt
	bound value // nothing is better
	exact bool  // no order is clearly better
	near  bool  // no order is better at all

	passes int // of which widths it has seen
}

// A stopAt is a shot with the way it is done, in the order of a run, and how many lenses are fetched.
type stopAt struct {
	shot, fetched int
	way
}

// widths are how many labels of as many shots done are kept in the passes that come before the
// one that keeps all. They find good orders, and often leave nothing better out.
var widths = []int{50, 400, 1600}

// An order is the search for the best order of a run: a dynamic programme over the shots that are
// still open and the set-up that is on, with labels of time and value.
type order struct {
	job
	m      *meter
	day    *Day
	ids    []int // the shots, in the order as written
	takes  []int
	ways   [][]way
	place  []int
	before []set // shots that are lost when one is done
	wait   []set // shots that must be done, or lost, before one
	deps   []set // shots that cannot be done when one is lost
	last   []int // latest starts
	needed set   // those that must be done
	places int
	enter  []int // for each place the least that it takes to get there
	timed  set
	total  int64

	labels []label
	layers [][]int32 // labels by the number of shots open
	heads  []map[labelKey]int32
	rests  map[set]rest
	clear  bool // order as written does not count
	width  int
	cut    value // the best bound of what was cut by the width or the end

	best   value
	finish int32
}

// A rest is what is known of a set of open shots.
type rest struct {
	bounds []bound
	takes  int // half minutes of them all
	shots  set // as the problem means them
	needs  uint64
}

// A label is an order so far.
type label struct {
	labelKey
	clock     int32 // when the last shot ends
	shot, way int16
	parent    int32
	next      int32 // of the same key, -1 for none
	dead      bool
	value     value
	bound     value
}

type labelKey struct {
	open  set
	on    uint64 // lenses that are known to be on the set
	setup int32  // -1 before the first
	place int32
}

// solve finds the best order of a job.
func (j job) solve(m *meter) found { return j.further(m, found{value: nothing}, len(widths)) }

// further goes on from what was found before, with passes of so many widths, and the last one if they are
// all. What is found may not be exact then, nor when the search has ended.
func (j job) further(m *meter, f found, passes int) found {
	if j.whole && !j.shots.within(j.scope.doable) {
		return found{value: nothing, bound: nothing, exact: true, near: true}
	}
	o := newOrder(j, m)
	o.best = f.value
	pass := func(width int, clear bool) bool {
		before := o.best
		o.pass(width, clear)
		if o.best != before {
			f.value, f.stops = o.best, o.trace()
		}
		f.exact = f.exact || !o.cut.clearly(o.best)
		f.near = !clear && !o.cut.better(o.best)
		f.bound = o.cut
		if o.best.better(f.bound) {
			f.bound = o.best
		}
		return f.near || m.ended
	}
	for _, width := range widths[f.passes:passes] {
		f.passes++
		if pass(width, false) {
			return f
		}
	}
	if !f.exact && passes == len(widths) {
		pass(0, true)
	}
	return f
}

func newOrder(j job, m *meter) *order {
	g := j.scope.r.g
	p := g.p
	o := &order{job: j, m: m, day: &p.Days[j.day], places: 1}
	at := make(map[int]int, 16)
	for i := range j.shots.all {
		at[i] = len(o.ids)
		o.ids = append(o.ids, i)
	}
	local := func(s set) (t set) {
		for i := range s.common(j.shots).all {
			t = t.with(at[i])
		}
		return t
	}
	n := len(o.ids)
	o.deps = make([]set, n)
	for k, i := range o.ids {
		shot := &p.Shots[i]
		o.takes = append(o.takes, shot.Takes)
		o.ways = append(o.ways, j.scope.ways[i])
		o.place = append(o.place, shot.Place)
		o.places = max(o.places, shot.Place+1)
		o.before = append(o.before, local(g.before[i]))
		o.wait = append(o.wait, local(g.after[i]))
		for a := range o.wait[k].all {
			o.deps[a] = o.deps[a].with(k)
		}
		if g.timed.has(i) {
			o.timed = o.timed.with(k)
		}
		o.last = append(o.last, latest(o.day, shot))
		o.total += shot.Weight
	}
	o.needed = local(j.must)
	o.twins(local)
	move := j.scope.r.move
	if move == nil {
		o.places = 1
	}
	o.enter = make([]int, o.places)
	for to := range o.enter {
		o.enter[to] = -1
		for from := range o.enter {
			if from != to && (o.enter[to] < 0 || move[from][to] < o.enter[to]) {
				o.enter[to] = move[from][to]
			}
		}
		o.enter[to] = max(0, o.enter[to])
	}
	return o
}

// latest gives the latest start of a shot on a day.
func latest(d *Day, shot *Shot) int {
	if shot.Windows == nil {
		return d.End - shot.Takes
	}
	last := 0
	for _, w := range shot.Windows {
		last = max(last, min(w.To, d.End)-shot.Takes)
	}
	return last
}

// twins lets shots that are alike wait for each other in the order as written.
func (o *order) twins(local func(set) set) {
	p := o.scope.r.g.p
	alike := func(a, b int) bool {
		x, y := &p.Shots[o.ids[a]], &p.Shots[o.ids[b]]
		return x.Weight == y.Weight && x.Takes == y.Takes && o.place[a] == o.place[b] && slices.Equal(x.Windows, y.Windows) &&
			o.needed.has(a) == o.needed.has(b) && o.wait[a] == o.wait[b] && o.deps[a] == o.deps[b] && slices.Equal(o.ways[a], o.ways[b])
	}
	var wait []set
	for b := range o.ids {
		w := o.wait[b]
		for a := b - 1; a >= 0; a-- {
			if o.keptAlike(a, b) && alike(a, b) {
				w = w.with(a)
				break
			}
		}
		wait = append(wait, w)
	}
	o.wait = wait
}

// keptAlike reports whether the order as written binds two shots to the others in the same way.
func (o *order) keptAlike(a, b int) bool {
	for k := range o.ids {
		if k == a || k == b {
			continue
		}
		if o.before[k].has(a) != o.before[k].has(b) || o.before[a].has(k) != o.before[b].has(k) {
			return false
		}
	}
	return true
}

// pass goes through all orders, but for those whose bound is no better than the best and those that
// leave the width. With clear the order as written counts for nothing.
func (o *order) pass(width int, clear bool) {
	n := len(o.ids)
	o.width, o.clear = width, clear
	o.labels = o.labels[:0]
	o.layers = make([][]int32, n+1)
	o.heads = make([]map[labelKey]int32, n+1)
	if o.rests == nil {
		o.rests = map[set]rest{}
	}
	o.cut = nothing
	o.finish = -1
	var open set
	for k := range n {
		open = open.with(k)
	}
	start := label{labelKey: labelKey{open: open, setup: -1}, clock: int32(o.day.Start), shot: -1, parent: -1, next: -1}
	o.add(start)
	for left := n; left >= 0; left-- {
		layer := o.layers[left]
		layer = slices.DeleteFunc(layer, func(l int32) bool { return o.labels[l].dead || !o.beats(o.labels[l].bound) })
		if width > 0 && len(layer) > width {
			slices.SortFunc(layer, func(a, b int32) int {
				x, y := &o.labels[a], &o.labels[b]
				switch {
				case x.bound.better(y.bound):
					return -1
				case y.bound.better(x.bound):
					return 1
				case x.clock != y.clock:
					return int(x.clock - y.clock)
				}
				return int(a - b)
			})
			if out := o.labels[layer[width]].bound; out.better(o.cut) {
				o.cut = out
			}
			layer = layer[:width]
		}
		for k, l := range layer {
			if !o.m.step() {
				for _, rest := range layer[k:] {
					if b := o.labels[rest].bound; b.better(o.cut) {
						o.cut = b
					}
				}
				for _, below := range o.layers[:left] {
					for _, rest := range below {
						if b := o.labels[rest].bound; b.better(o.cut) {
							o.cut = b
						}
					}
				}
				return
			}
			o.expand(l)
		}
		o.heads[left] = nil
	}
}

// beats reports whether a bound leaves room for something better than the best.
func (o *order) beats(bound value) bool {
	if o.clear {
		return bound.clearly(o.best)
	}
	return bound.better(o.best)
}

// expand adds a label for each shot that can come next.
func (o *order) expand(at int32) {
	l := o.labels[at]
	p := o.scope.r.g.p
	r := o.scope.r
	for j := range l.open.all {
		if o.wait[j].meets(l.open) {
			continue
		}
		left := l.open.minus(set{}.with(j))
		if lost := left.common(o.before[j]); !lost.empty() {
			if lost = o.closure(lost, left); o.whole || lost.meets(o.needed) {
				continue
			}
			left = left.minus(lost)
		}
		for w, way := range o.ways[j] {
			next := label{labelKey: labelKey{open: left, setup: int32(way.setup)}, shot: int16(j), way: int16(w), parent: at, next: -1, value: l.value}
			minutes := 0
			if o.places > 1 {
				next.place = int32(o.place[j])
			}
			if l.setup >= 0 {
				if r.change != nil {
					minutes = r.change[l.setup][way.setup]
				}
				if o.places > 1 {
					minutes += r.move[l.place][next.place]
				}
				if r.first[l.setup] != r.first[way.setup] {
					next.value.ties += oneChange
				}
			}
			next.value.weight += p.Shots[o.ids[j]].Weight
			next.value.worth += way.worth
			next.value.ties += int64(left.below(j))
			o.fill(&l, &next, minutes, r.needs[way.setup])
		}
	}
}

// closure adds to shots that are lost those that come after them.
func (o *order) closure(lost, left set) set {
	for grown := true; grown; {
		grown = false
		for k := range lost.all {
			if more := o.deps[k].common(left).minus(lost); !more.empty() {
				lost, grown = lost.plus(more), true
			}
		}
	}
	return lost
}

// fill adds a label for each way to have the lenses on the set that a set-up needs. What is fetched
// first into a place of the set that was never needed has been there since the morning.
func (o *order) fill(l, next *label, minutes int, needs uint64) {
	r := o.scope.r
	if r.onSet == 0 {
		o.done(l, next, minutes)
		return
	}
	fetched := o.fetched(l.on, needs)
	minutes += fetched * r.g.p.Units[r.unit].Fetch
	if fetched == 0 {
		next.on = l.on | needs
		o.done(l, next, minutes)
		return
	}
	rest := l.on &^ needs
	for out := rest; out != 0; out = (out - 1) & rest {
		if bits.OnesCount64(out) == fetched {
			next.on = l.on&^out | needs
			o.done(l, next, minutes)
		}
	}
}

// fetched counts the lenses that are fetched for a set-up, with what is known to be on the set.
func (o *order) fetched(on, needs uint64) int {
	r := o.scope.r
	if r.onSet == 0 {
		return 0
	}
	return max(0, bits.OnesCount64(needs&^on)-(r.onSet-bits.OnesCount64(on)))
}

// done puts a shot at its time.
func (o *order) done(l *label, next *label, minutes int) {
	p := o.scope.r.g.p
	start, ok := o.day.start(&p.Shots[o.ids[next.shot]], o.day.after(int(l.clock), minutes))
	if !ok {
		return
	}
	made := *next
	made.clock = int32(start + o.takes[next.shot])
	made.value.worth -= p.Price * int64(minutes)
	o.add(made)
}

// add keeps a label that may lead to something better than the best, unless another of the same key
// is as good and as early.
func (o *order) add(l label) {
	at := int32(-1)
	if (l.open.empty() || !o.whole && !l.open.meets(o.needed)) && l.shot >= 0 && l.value.better(o.best) {
		o.best = l.value
		at = int32(len(o.labels))
		o.finish = at
		o.labels = append(o.labels, l)
	}
	rest, ok := o.rest(&l)
	if !ok {
		return
	}
	l.bound = l.value.plus(rest)
	if !o.beats(l.bound) {
		return
	}
	left := l.open.count()
	if o.heads[left] == nil {
		o.heads[left] = map[labelKey]int32{}
	}
	head, known := o.heads[left][l.labelKey]
	if !known {
		head = -1
	}
	for k := head; k >= 0; k = o.labels[k].next {
		other := &o.labels[k]
		if other.clock <= l.clock && !o.over(l.value, other.value) {
			return
		}
		other.dead = other.dead || l.clock <= other.clock && !o.over(other.value, l.value)
	}
	l.next = head
	if at < 0 {
		at = int32(len(o.labels))
		o.labels = append(o.labels, l)
	} else {
		o.labels[at] = l
	}
	o.heads[left][l.labelKey] = at
	o.layers[left] = append(o.layers[left], at)
}

// over compares the values of two labels of the same key.
func (o *order) over(a, b value) bool {
	if o.clear {
		return a.clearly(b)
	}
	return a.better(b)
}

// rest bounds what the open shots of a label can add, or reports that the label leads to nothing.
func (o *order) rest(l *label) (value, bool) {
	if l.open.empty() {
		return value{}, true
	}
	r := o.scope.r
	from := r.groups
	if l.setup >= 0 {
		from = r.group[l.setup]
	}
	known, ok := o.rests[l.open]
	if !ok {
		known = o.restOf(l.open)
		o.rests[l.open] = known
	}
	lost := o.late(l, &known)
	if lost > 0 && o.whole {
		return value{}, false
	}
	v := known.bounds[from].less(lost)
	if o.places > 1 && lost == 0 {
		var seen set
		if l.setup < 0 { // one of the places is free: the dearest
			most := 0
			for k := range l.open.all {
				if pl := o.place[k]; !seen.has(pl & 127) {
					seen = seen.with(pl & 127)
					most = max(most, o.enter[pl])
					v.worth -= int64(o.enter[pl]) * r.g.p.Price
				}
			}
			v.worth += int64(most) * r.g.p.Price
		} else {
			seen = seen.with(int(l.place) & 127)
			for k := range l.open.all {
				if pl := o.place[k]; !seen.has(pl & 127) {
					seen = seen.with(pl & 127)
					v.worth -= int64(o.enter[pl]) * r.g.p.Price
				}
			}
		}
	}
	if r.onSet > 0 && o.whole {
		v.worth -= int64(o.fetched(l.on, known.needs)) * r.fetch
	}
	return v, true
}

// restOf finds what is known of a set of open shots.
func (o *order) restOf(open set) rest {
	var r rest
	for k := range open.all {
		r.takes += o.takes[k]
		r.shots = r.shots.with(o.ids[k])
		sure := ^uint64(0)
		for _, w := range o.ways[k] {
			sure &= o.scope.r.needs[w.setup]
		}
		r.needs |= sure
	}
	r.bounds = o.scope.bounds(r.shots)
	return r
}

// late gives a weight that a label loses at least, because time has run out for it.
func (o *order) late(l *label, r *rest) (lost int64) {
	clock := int(l.clock)
	room := o.day.End - clock
	if b := o.day.Break; b.To != 0 && clock < b.To {
		room -= b.To - max(clock, b.From)
	}
	shots, takes := r.shots, r.takes
	for k := range l.open.common(o.timed).all {
		if clock > o.last[k] {
			lost += o.scope.r.g.p.Shots[o.ids[k]].Weight
			shots = shots.minus(set{}.with(o.ids[k]))
			takes -= o.takes[k]
		}
	}
	return lost + o.scope.r.g.overflow(shots, takes-room)
}

// trace gives the order that leads to the best label of the pass.
func (o *order) trace() []stopAt {
	var stops []stopAt
	for l := o.finish; l >= 0 && o.labels[l].shot >= 0; l = o.labels[l].parent {
		k := o.labels[l].shot
		way := o.ways[k][o.labels[l].way]
		stops = append(stops, stopAt{o.ids[k], o.fetched(o.labels[o.labels[l].parent].on, o.scope.r.needs[way.setup]), way})
	}
	slices.Reverse(stops)
	return stops
}
