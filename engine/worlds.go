package engine

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"

	"glassbrief/engine/brief"
)

// Worlds are what becomes of a thing under other values of the assumed figures that bear on it.
// Each is made when it is asked for, and kept. Nil worlds are of a thing that nothing assumed
// bears on.
type Worlds[T any] struct {
	assumed []brief.Assumption
	figures []int // that bear, by their places in assumed
	draws   []brief.Values
	make    func(brief.Values) T

	mu   sync.Mutex
	made map[string]T
}

// NewWorlds gives the worlds of a thing that make makes for values of some of the figures, none
// of them for the middle.
func NewWorlds[T any](s *brief.Scenario, figures []int, make func(brief.Values) T) *Worlds[T] {
	if len(figures) == 0 {
		return nil
	}
	return &Worlds[T]{assumed: s.Assumed, figures: figures, make: make, made: map[string]T{}}
}

// Drawn adds so many worlds to be tried for spans, in which all figures are drawn within their
// ranges, the same each time.
func (w *Worlds[T]) Drawn(s *brief.Scenario, draws int) {
	if w == nil {
		return
	}
	random := rand.New(rand.NewPCG(uint64(draws), 0))
	for range draws {
		w.draws = append(w.draws, s.Draw(func(int) float64 { return 2*random.Float64() - 1 }))
	}
}

// Under gives the thing under values of figures; those that do not bear on it are left out.
func (w *Worlds[T]) Under(values brief.Values) T {
	own := brief.Values{}
	var key strings.Builder
	for _, i := range w.figures {
		if value, ok := values[i]; ok {
			own[i] = value
			fmt.Fprintf(&key, "%d %x ", i, math.Float64bits(value))
		}
	}
	w.mu.Lock()
	made, ok := w.made[key.String()]
	w.mu.Unlock()
	if !ok {
		made = w.make(own)
		w.mu.Lock()
		w.made[key.String()] = made
		w.mu.Unlock()
	}
	return made
}

// trials lists the values that are tried whatever is asked: each figure at the values that can
// matter with the others at their middle, and all masses at one end.
func (w *Worlds[T]) trials() []brief.Values {
	var all []brief.Values
	for _, i := range w.figures {
		for _, value := range w.assumed[i].Probes() {
			all = append(all, brief.Values{i: value})
		}
	}
	if light := massesAt(w.assumed, w.figures, lowEnd); len(light) > 1 {
		all = append(all, light, massesAt(w.assumed, w.figures, highEnd))
	}
	return all
}

// All gives the thing in every world that is tried whatever is asked, none for nil.
func (w *Worlds[T]) All() []T {
	if w == nil {
		return nil
	}
	var all []T
	for _, values := range w.trials() {
		all = append(all, w.Under(values))
	}
	return all
}

// A Span is where a number lies over the worlds.
type Span struct{ Low, High float64 }

// Spans gives where numbers of the thing lie, by their keys; those alone that come out otherwise
// in some world. A number that is lacking in a world counts for nothing there. Beside the worlds
// of [Worlds.All] those are tried in which all figures move one number down, and all up: so the
// span is exact of a number that each figure moves one way.
func (w *Worlds[T]) Spans(of func(T) map[string]float64) map[string]Span {
	if w == nil {
		return nil
	}
	middle := of(w.Under(nil))
	spans, down, up := map[string]Span{}, map[string]brief.Values{}, map[string]brief.Values{}
	for key, value := range middle {
		if !math.IsNaN(value) {
			spans[key], down[key], up[key] = Span{value, value}, brief.Values{}, brief.Values{}
		}
	}
	widen := func(values brief.Values) map[string]float64 {
		numbers := of(w.Under(values))
		for key, value := range numbers {
			if s, ok := spans[key]; ok && !math.IsNaN(value) {
				spans[key] = Span{min(s.Low, value), max(s.High, value)}
			}
		}
		return numbers
	}
	for _, i := range w.figures {
		low, high := maps.Clone(middle), maps.Clone(middle)
		for _, value := range w.assumed[i].Probes() {
			for key, number := range widen(brief.Values{i: value}) {
				if _, ok := spans[key]; !ok {
					continue
				}
				if number < low[key] {
					low[key], down[key][i] = number, value
				}
				if number > high[key] {
					high[key], up[key][i] = number, value
				}
			}
		}
	}
	for _, values := range w.trials() {
		if len(values) > 1 {
			widen(values)
		}
	}
	for _, values := range w.draws {
		widen(values)
	}
	for _, ends := range []map[string]brief.Values{down, up} {
		for _, key := range slices.Sorted(maps.Keys(ends)) {
			if len(ends[key]) > 1 {
				widen(ends[key])
			}
		}
	}
	maps.DeleteFunc(spans, func(_ string, s Span) bool {
		return s.Low == s.High || !math.IsInf(s.High, 1) && s.High-s.Low <= 1e-9*max(math.Abs(s.Low), math.Abs(s.High))
	})
	return spans
}

// Together gives the worlds of several judgements; nil when nothing assumed bears on any.
func Together(all ...*Judgement) *Worlds[[]*Judgement] {
	w := &Worlds[[]*Judgement]{made: map[string][]*Judgement{}}
	for _, j := range all {
		if j != nil && j.worlds != nil {
			w.assumed, w.figures = j.worlds.assumed, append(w.figures, j.worlds.figures...)
		}
	}
	if w.figures == nil {
		return nil
	}
	slices.Sort(w.figures)
	w.figures = slices.Compact(w.figures)
	w.make = func(values brief.Values) []*Judgement {
		others := slices.Clone(all)
		for k, j := range all {
			if j != nil && j.worlds != nil {
				others[k] = j.worlds.Under(values)
			}
		}
		return others
	}
	return w
}
