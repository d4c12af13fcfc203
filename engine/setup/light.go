package setup

import (
	"math"
	"slices"
	"sync"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// A light is one choice of ISO and filter, by what it does to the exposure. There are many, so it
// holds little.
type light struct {
	taken       float64 // log2(ISO) less the stops of the filter
	worth       float64 // product of what the rules say of the choice itself
	iso, filter int32   // their places
}

// better reports whether a choice is worth more than another; of those alike that with less on
// the lens is better, and then that with the ISO nearer to its base.
func (l *Lights) better(a, b *light) bool {
	if a.worth != b.worth {
		return a.worth > b.worth
	}
	if a, b := l.filters[a.filter].Pieces, l.filters[b.filter].Pieces; a != b {
		return a < b
	}
	if a, b := l.off[a.iso], l.off[b.iso]; a != b {
		return a < b
	}
	return l.isos[a.iso].Speed < l.isos[b.iso].Speed
}

// setup gives the set-up of a choice with a focal length, a stop and a mark.
func (l *Lights) setup(c light, focal, stop float64, m mark) Setup {
	return Setup{focal, stop, m.from, m.follows, l.isos[c.iso], int(c.filter)}
}

// Lights are the choices of ISO and filter that are worth making, for one shot and camera and
// the filters that fit one thread. They are worked out when they are first asked for, since
// most lenses are out before anybody asks for light, and not changed then.
type Lights struct {
	task    *Task
	filters []Filter
	byStops []int     // the filters in the order of the stops that they take
	like    []int     // for each filter the first with the same pieces and cross
	isos    []ISO     // all that can be set
	off     []float64 // stops of each off the base
	shot    []float64 // what the rules of the choice read of the shot

	once    sync.Once
	choices []light // by what they take, each the worthiest of its kind
	// below and above hold the best worth of the choices up to and from each place.
	below, above []float64
	best         int     // the worthiest of all, for what light is not known of
	all          []light // that trying every set-up takes; nil where nobody does
}

// A sorter is the memory in which one worker sorts choices, used for one list after another.
type sorter struct {
	all     []light
	order   []place
	worth   []float64 // of the filters at one ISO
	choices []light
}

// same is the difference in stops below which two choices take alike.
const same = 1e-9

func (l *Lights) work(m *sorter) { l.once.Do(func() { l.list(m) }) }

// List works choices out before they are asked for.
func (s *Search) List(l *Lights) { l.work(&s.sorter) }

func (l *Lights) list(m *sorter) {
	l.each(m)
	if l.task.plain || l.task.turns {
		l.all = slices.Clone(m.all)
	}
	m.order, m.choices = slices.Grow(m.order[:0], len(m.all)), m.choices[:0] // sorted in place of the choices, which are larger
	for i := range m.all {
		m.order = append(m.order, placeOf(m.all[i].taken, i))
	}
	slices.Sort(m.order)
	for _, p := range m.order {
		m.choices = l.put(m.choices, 0, &m.all[p.at()])
	}
	l.choices = slices.Clone(m.choices)
	most := 0.0
	l.below, l.above = make([]float64, len(l.choices)), make([]float64, len(l.choices))
	for i := range l.choices {
		most = max(most, l.choices[i].worth)
		l.below[i] = most
		if l.better(&l.choices[i], &l.choices[l.best]) {
			l.best = i
		}
	}
	most = 0
	for i := len(l.choices) - 1; i >= 0; i-- {
		most = max(most, l.choices[i].worth)
		l.above[i] = most
	}
}

// from gives the place of the first choice that takes no less.
func (l *Lights) from(taken float64) int {
	low, high := 0, len(l.choices)
	for low < high {
		if middle := (low + high) / 2; l.choices[middle].taken < taken {
			low = middle + 1
		} else {
			high = middle
		}
	}
	return low
}

// A place says where a choice stands in a list, and sorts by what it takes: numbers sort in a
// fraction of the time of pairs.
type place uint64

const (
	placeBits = 24
	mostTaken = 256 // stops, more than any ISO and any filters
)

func placeOf(taken float64, at int) place {
	steps := min(max(taken, -mostTaken), mostTaken) + mostTaken
	if math.IsNaN(taken) {
		steps = 0
	}
	return place(steps/same)<<placeBits | place(at)
}

func (p place) at() int { return int(p & (1<<placeBits - 1)) }

// put adds a choice to a list that stands in the order of what is taken. Of two that take
// alike, and stand at or behind a place, the better stays.
func (l *Lights) put(list []light, from int, one *light) []light {
	switch last := len(list) - 1; {
	case last < from || math.Abs(one.taken-list[last].taken) > same:
		return append(list, *one)
	case l.better(one, &list[last]):
		list[last] = *one
	}
	return list
}

// each judges every choice by itself. Of filters that take alike it keeps the better.
func (l *Lights) each(m *sorter) {
	t := l.task
	var r facts.Record
	for i, id := range t.ofShot {
		r.Set(id, l.shot[i])
	}
	var k rules.Known
	l.off = make([]float64, len(l.isos))
	m.all, m.worth = slices.Grow(m.all[:0], len(l.isos)*len(l.byStops)), slices.Grow(m.worth[:0], len(l.filters))[:len(l.filters)]
	for n, iso := range l.isos {
		log := math.Log2(iso.Speed)
		l.off[n] = math.Abs(math.Log2(iso.Speed / r.Value[facts.BaseISO]))
		dialLight(&r, iso, l.filters[0])
		facts.Refill(&r, t.choice)
		if n == 0 {
			t.parts.Look(&r, &k)
		}
		first := len(m.all)
		for i := range m.worth {
			m.worth[i] = -1 // not judged yet
		}
		for _, i := range l.byStops {
			f, like := &l.filters[i], l.like[i]
			if t.readsND {
				like = i
			}
			if m.worth[like] < 0 {
				dialLight(&r, iso, *f)
				facts.Refill(&r, t.filter)
				m.worth[like] = t.parts.Factor(byChoice, &r, &k, 0, 0)
			}
			one := light{log - f.Stops, m.worth[like], int32(n), int32(i)}
			if t.plain {
				m.all = append(m.all, one)
			} else {
				m.all = l.put(m.all, first, &one)
			}
		}
	}
}
