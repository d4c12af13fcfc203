package setup

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
)

// A light is one choice of ISO and filter, by what it does to the exposure.
type light struct {
	taken  float64 // log2(ISO) less the stops of the filter
	worth  float64 // product of what the rules say of the choice itself
	pieces float64 // of the filter
	off    float64 // stops of the ISO off its base
	iso    float64
	filter int
}

// better orders the choice that is worth more first; of those alike that with less on the
// lens, and then that with the ISO nearest to its base.
func better(a, b *light) int {
	return cmp.Or(cmp.Compare(b.worth, a.worth), cmp.Compare(a.pieces, b.pieces), cmp.Compare(a.off, b.off), cmp.Compare(a.iso, b.iso))
}

// Lights are the choices of ISO and filter that are worth making, for one shot and camera and
// the filters that fit one thread. They are worked out when they are first asked for, since
// most lenses are out before anybody asks for light, and not changed then.
type Lights struct {
	task    *Task
	filters []Filter
	isos    []float64 // all that can be set
	shot    []float64 // what the rules of the choice read of the shot

	once    sync.Once
	choices []light // by what they take, each the worthiest of its kind
	// below and above hold the best worth of the choices up to and from each place.
	below, above []float64
	best         int // the worthiest of all, for what light is not known of
	all          []light
}

// same is the difference in stops below which two choices take alike.
const same = 1e-9

func (l *Lights) work() { l.once.Do(l.list) }

func (l *Lights) list() {
	all := l.each()
	slices.SortFunc(all, func(a, b light) int { return cmp.Or(cmp.Compare(a.taken, b.taken), cmp.Compare(a.filter, b.filter)) })
	l.all = all
	for i := range all {
		last := len(l.choices) - 1
		switch {
		case last < 0 || all[i].taken-l.choices[last].taken > same:
			l.choices = append(l.choices, all[i])
		case better(&all[i], &l.choices[last]) < 0:
			l.choices[last] = all[i]
		}
	}
	most := 0.0
	l.below, l.above = make([]float64, len(l.choices)), make([]float64, len(l.choices))
	for i := range l.choices {
		most = max(most, l.choices[i].worth)
		l.below[i] = most
		if better(&l.choices[i], &l.choices[l.best]) < 0 {
			l.best = i
		}
	}
	most = 0
	for i := len(l.choices) - 1; i >= 0; i-- {
		most = max(most, l.choices[i].worth)
		l.above[i] = most
	}
}

// each judges every choice by itself.
func (l *Lights) each() []light {
	t := l.task
	var r facts.Record
	for i, id := range t.ofShot {
		r.Set(id, l.shot[i])
	}
	var k rules.Known
	all := make([]light, 0, len(l.filters)*len(l.isos))
	for _, iso := range l.isos {
		log, off := math.Log2(iso), math.Abs(math.Log2(iso/r.Value[facts.BaseISO]))
		for i := range l.filters {
			f := &l.filters[i]
			dialLight(&r, iso, *f)
			facts.Refill(&r, t.choice)
			if len(all) == 0 {
				t.parts.Look(&r, &k)
			}
			all = append(all, light{log - f.Stops, t.parts.Factor(byChoice, &r, &k, 0), f.Pieces, off, iso, i})
		}
	}
	return all
}
