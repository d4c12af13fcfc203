package sure

import (
	"context"
	"math"
	"sync/atomic"

	"glassbrief/engine"
	"glassbrief/engine/parallel"
)

// A Flip is a figure of one shot that changes the kit when it alone turns out otherwise.
type Flip struct {
	Shot  string
	Input Input
	By    float64 // a share, or stops for light: the least that does it
	Kit   []string
}

// steps are how far a figure is taken to look for a change, in tolerances. Beyond a few
// tolerances a figure is no longer near what the brief says.
var steps = []float64{0.125, 0.25, 0.5, 0.75, 1, 1.5, 2, 3}

// most bounds shares, so that nothing shrinks to nothing.
const most = 0.9

// First gives the figure that changes the kit soonest when it alone varies, counted in
// tolerances, of which it may be more than one; nil when none does within three. What has no
// tolerance does not vary. Progress is told how many trials of how many at most are done.
func First(ctx context.Context, t *engine.Table, kit *engine.Kit, o engine.Options) (*Flip, error) {
	t = t.Eligible()
	o.Runners = 0
	s := &search{table: t, kit: keyOf(kit.Lenses), options: o}
	for i, shot := range t.Scenario.Shots {
		for input := range inputs {
			if tolerance := input.tolerance(shot, t.Scenario.Tolerances); tolerance > 0 {
				s.ways = append(s.ways, way{i, input, -tolerance}, way{i, input, tolerance})
			}
		}
	}
	from := 0.0
	for n, at := range steps {
		flips, err := s.within(ctx, from, at, n*len(s.ways))
		if err != nil {
			return nil, err
		}
		var first *Flip
		least := math.Inf(1)
		for k, f := range flips {
			if f != nil && f.By/s.ways[k].tolerance < least {
				first, least = f, f.By/s.ways[k].tolerance
			}
		}
		if first != nil {
			return first, nil
		}
		from = at
	}
	return nil, nil
}

// A way is an input of a shot that is taken one way.
type way struct {
	shot      int
	input     Input
	tolerance float64 // below 0 for less
}

// A search looks for the soonest flip, all ways at once and step by step.
type search struct {
	table   *engine.Table
	kit     string
	options engine.Options
	ways    []way
}

// within gives for each way the flip within a step of tolerances, found by halving the step; nil where
// the step ends with the same kit. So many trials are done.
func (s *search) within(ctx context.Context, from, to float64, done int) ([]*Flip, error) {
	flips := make([]*Flip, len(s.ways))
	var tried atomic.Int64
	err := parallel.For(ctx, len(s.ways), s.options.Workers, func(k int) {
		flips[k] = s.ways[k].within(s, from, to)
		if n := int(tried.Add(1)); s.options.Progress != nil {
			s.options.Progress(done+n, len(steps)*len(s.ways))
		}
	})
	return flips, err
}

func (w *way) within(s *search, from, to float64) *Flip {
	if w.input != Light && to*-w.tolerance > most {
		return nil
	}
	kit, changes := s.changes(w, to)
	if !changes {
		return nil
	}
	for to-from > 0.01 {
		middle := (from + to) / 2
		if other, sooner := s.changes(w, middle); sooner {
			to, kit = middle, other
		} else {
			from = middle
		}
	}
	return &Flip{Shot: s.table.Scenario.Shots[w.shot].ID, Input: w.input, By: to * w.tolerance, Kit: kit}
}

// changes reports whether the kit is another so many tolerances along a way. Limits
// that contradict each other do so whatever the shots say.
func (s *search) changes(w *way, tolerances float64) (kit []string, changes bool) {
	choice, err := off(s.table, w.shot, w.input, tolerances*w.tolerance).Choose(s.table.Scenario.Limits, s.options)
	if err != nil {
		return nil, false
	}
	return choice.Kit.Lenses, keyOf(choice.Kit.Lenses) != s.kit
}
