package setup

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"glassbrief/engine/facts"
)

// A Filter is one way to take light away: pieces on the lens, a filter of the camera, or both,
// turned to one strength. The first of a list is none at all.
type Filter struct {
	Stops  float64 // that it takes
	Pieces float64 // on the lens; a ring or a filter of the camera counts a quarter
	Cross  float64 // stops into the last stop of a turning filter's range, where a wide picture shows a cross
}

// Filters are the ways to take light away that there are for some lenses, with the choices of
// light made of them so far: briefs that differ in distances or light share them. Several
// goroutines may use them.
type Filters struct {
	list    []Filter
	byStops []int // the places of the list in the order of the stops that they take, of those alike the first
	like    []int // for each of the list the first with the same pieces and cross

	mu   sync.Mutex
	made map[string][]*Lights // by what the rules say of the choice; the last first
}

// mostMade bounds what is kept for one shot: a search for the ISO that makes a difference
// tries hundreds of ranges.
const mostMade = 4

// NewFilters takes the ways, of which the first is none at all.
func NewFilters(list []Filter) *Filters {
	f := &Filters{list: list, byStops: make([]int, len(list)), like: make([]int, len(list)), made: map[string][]*Lights{}}
	var kinds []int // the first of each
	for i := range list {
		f.byStops[i] = i
		k := slices.IndexFunc(kinds, func(k int) bool { return list[k].Pieces == list[i].Pieces && list[k].Cross == list[i].Cross })
		if k < 0 {
			k, kinds = len(kinds), append(kinds, i)
		}
		f.like[i] = kinds[k]
	}
	slices.SortFunc(f.byStops, func(a, b int) int {
		return cmp.Or(cmp.Compare(list[a].Stops, list[b].Stops), f.like[a]-f.like[b], a-b)
	})
	f.byStops = slices.CompactFunc(f.byStops, func(a, b int) bool { return list[a] == list[b] })
	return f
}

// All gives the list, which is not to be changed.
func (f *Filters) All() []Filter { return f.list }

// At gives the way at a place of the list.
func (f *Filters) At(i int) Filter { return f.list[i] }

// An ISO is one that can be set, NaN where it is not known.
type ISO struct {
	Speed float64
	Base  float64 // of the camera, that it stands on: the highest not above it, or the lowest
}

func (i ISO) is(other ISO) bool {
	return i == other || math.IsNaN(i.Speed) && math.IsNaN(other.Speed)
}

// Lights gives the choices of light for a shot, of which r holds the facts. isos are all that
// can be set.
func (f *Filters) Lights(t *Task, r *facts.Record, isos []ISO) *Lights {
	shot := make([]float64, len(t.ofShot))
	for i, id := range t.ofShot {
		shot[i] = r.Value[id]
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	kept := f.made[t.mark]
	for _, l := range kept {
		if slices.EqualFunc(l.isos, isos, ISO.is) && alike(l.shot, shot) {
			return l
		}
	}
	l := &Lights{task: t, filters: f.list, byStops: f.byStops, like: f.like, isos: isos, shot: shot}
	f.made[t.mark] = slices.Insert(kept[:min(len(kept), mostMade-1)], 0, l)
	return l
}

// alike reports whether two lists are the same; what is not known is like itself.
func alike(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return x == y || math.IsNaN(x) && math.IsNaN(y) })
}
