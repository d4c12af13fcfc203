package schedule

import (
	"context"
	"slices"

	"glassbrief/engine/brief"
	"glassbrief/engine/days"
)

// An Answer is the plan of a shoot with what stands beside it.
type Answer struct {
	*Shoot
	*Plan
	Written *Plan   // in the order as written; nil where nothing is freed, or where it ran out of time
	Saving  *Saving // nil where freeing a scene would save nothing
	Free    *Plan   // with changes and moves that weigh nothing; nil where they do not, or where it ran out of time
}

// Assumed counts the assumed figures of what the units bring, stand on and shoot. One that several
// units rest on counts once.
func (a *Answer) Assumed() int {
	type figure struct {
		of            brief.Owner
		name, keyword string
	}
	all := map[figure]bool{}
	for u, unit := range a.Units {
		for _, f := range unit.Table.Scenario.AssumedOf(unit.Table.Camera.Name.Value, a.Bags[u]) {
			all[figure{f.Of, f.Name, f.Keyword}] = true
		}
	}
	return len(all)
}

// A Saving is the scene of which freeing would save most: its shots then may be done on any day that
// their light allows, anywhere in the order.
type Saving struct {
	Scene string
	Shots []int
	Plan  *Plan
	Sure  bool // nothing that was tried was cut short
}

// besideNodes bounds the search for each plan that stands beside the answer: what it finds is shown
// as what it is, and is no promise that nothing else is better.
const besideNodes = 300_000

// Around works out what stands beside a plan. When the context ends, what is not done by then
// is left out. Progress is told how many plans of how many are made.
func (s *Shoot) Around(ctx context.Context, plan *Plan, progress func(done, total int)) (a *Answer, err error) {
	a = &Answer{Shoot: s, Plan: plan}
	beside := days.Solver{Nodes: besideNodes}
	scenes := s.scenes()
	done := 0
	tell := func() {
		if done++; progress != nil {
			progress(done, len(scenes)+2)
		}
	}
	if s.freed() && ctx.Err() == nil {
		if a.Written, err = s.Plan(ctx, Variant{AsWritten: true}, beside); err != nil {
			return nil, err
		}
	}
	tell()
	if s.Scenario.Prices.Change > 0 && ctx.Err() == nil {
		if a.Free, err = s.Plan(ctx, Variant{Unpriced: true}, beside); err != nil {
			return nil, err
		}
	}
	tell()
	sure := true
	for _, scene := range scenes {
		if ctx.Err() != nil {
			break
		}
		freed, err := s.Plan(ctx, Variant{Freed: scene}, beside)
		if err != nil {
			return nil, err
		}
		tell()
		sure = sure && freed.Proven
		if freed.Better(plan) && (a.Saving == nil || freed.Better(a.Saving.Plan)) {
			a.Saving = &Saving{Scene: scene, Plan: freed}
		}
	}
	if a.Saving != nil {
		a.Saving.Sure = sure && ctx.Err() == nil
		for i, shot := range s.Scenario.Shots {
			if shot.Scene == a.Saving.Scene {
				a.Saving.Shots = append(a.Saving.Shots, i)
			}
		}
	}
	return a, nil
}

// freed reports whether anything may be done in another order than written.
func (s *Shoot) freed() bool {
	for _, shot := range s.Scenario.Shots {
		if shot.Free > 0 {
			return true
		}
	}
	return false
}

// scenes lists the scenes of the shots in the order of the file, each once.
func (s *Shoot) scenes() []string {
	var all []string
	for _, shot := range s.Scenario.Shots {
		if shot.Scene != "" && !slices.Contains(all, shot.Scene) {
			all = append(all, shot.Scene)
		}
	}
	return all
}
