package sure

import (
	"context"
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
// tolerance does not vary. Progress is told how many shots of how many are done.
func First(ctx context.Context, t *engine.Table, kit *engine.Kit, o engine.Options) (*Flip, error) {
	t = t.Eligible()
	shots := t.Scenario.Shots
	o.Runners = 0
	found := make([]candidate, len(shots))
	var done atomic.Int64
	err := parallel.For(ctx, len(shots), o.Workers, func(i int) {
		found[i] = search{table: t, kit: keyOf(kit.Lenses), options: o, shot: i}.soonest()
		if n := int(done.Add(1)); o.Progress != nil {
			o.Progress(n, len(shots))
		}
	})
	if err != nil {
		return nil, err
	}
	best := candidate{}
	for _, c := range found {
		if c.flip != nil && (best.flip == nil || c.at < best.at) {
			best = c
		}
	}
	return best.flip, nil
}

// A candidate is a flip and how many tolerances it takes.
type candidate struct {
	flip *Flip
	at   float64
}

// A search looks for the soonest flip in one shot.
type search struct {
	table   *engine.Table
	kit     string
	options engine.Options
	shot    int
}

func (s search) soonest() candidate {
	best := candidate{at: steps[len(steps)-1]}
	for input := range inputs {
		for _, sign := range []float64{-1, 1} {
			s.improve(&best, input, sign*input.tolerance(s.table.Scenario.Shots[s.shot], s.table.Scenario.Tolerances))
		}
	}
	return best
}

// improve looks for a flip sooner than the best, one way, in steps and then by halving the
// step in which it lies.
func (s search) improve(best *candidate, input Input, tolerance float64) {
	if tolerance == 0 {
		return
	}
	from := 0.0
	for _, at := range steps {
		if at > best.at || input != Light && at*-tolerance > most {
			return
		}
		kit, changes := s.changes(input, at*tolerance)
		if !changes {
			from = at
			continue
		}
		for at-from > 0.01 {
			middle := (from + at) / 2
			if other, sooner := s.changes(input, middle*tolerance); sooner {
				at, kit = middle, other
			} else {
				from = middle
			}
		}
		if best.flip == nil || at < best.at {
			*best = candidate{&Flip{Shot: s.table.Scenario.Shots[s.shot].ID, Input: input, By: at * tolerance, Kit: kit}, at}
		}
		return
	}
}

// changes reports whether the kit is another when a figure of the shot varies. Limits
// that contradict each other do so whatever the shots say.
func (s search) changes(input Input, by float64) (kit []string, changes bool) {
	var off [inputs]float64
	off[input] = by
	choice, err := s.table.WithShot(s.shot, turned(s.table.Scenario.Shots[s.shot], off)).Choose(s.table.Scenario.Limits, s.options)
	if err != nil {
		return nil, false
	}
	return choice.Kit.Lenses, keyOf(choice.Kit.Lenses) != s.kit
}
