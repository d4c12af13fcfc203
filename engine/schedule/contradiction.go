package schedule

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/days"
	"glassbrief/lang"
)

// timesNodes bounds the search whether some shots can all be done. A search that is cut short counts as
// one that they can, so that nothing is reported that is not so.
const timesNodes = 200_000

// mostContradictions bounds how many sets of shots are named at once.
const mostContradictions = 5

// Contradictions names shots that cannot all be done at the times that the scenario gives them, even if
// every lens did every shot and changes of set-up took no time. Of each set that is named none can be left
// out. A shot that does not say how long it takes is left out.
func Contradictions(ctx context.Context, s *brief.Scenario) lang.Diagnostics {
	if len(s.Days) == 0 || len(s.Shots) > days.MostShots {
		return nil
	}
	bare := timesOnly(s)
	p := bare.problem(Variant{Unpriced: true})
	p.Change, p.MaxCost = nil, -1
	var found lang.Diagnostics
	var left []int
	for i, shot := range s.Shots {
		if !math.IsNaN(shot.Takes) {
			left = append(left, i)
		}
	}
	for len(found) < mostContradictions {
		set := least(ctx, p, left)
		if set == nil {
			break
		}
		found = append(found, bare.contradiction(set))
		left = slices.DeleteFunc(left, func(i int) bool { return i == set[len(set)-1] })
	}
	slices.SortFunc(found, func(a, b lang.Diagnostic) int { return cmp.Compare(a.Span.Start, b.Span.Start) })
	return found
}

// timesOnly gives the shoot of a scenario in which each unit has a lens that does every shot.
func timesOnly(s *brief.Scenario) *Shoot {
	bare := &Shoot{Scenario: s, Units: make([]Unit, max(1, len(s.Units))), options: make([][]days.Option, len(s.Shots))}
	for u := range bare.Units {
		bare.Units[u].Carry = 1
		bare.lenses = append(bare.lenses, lens{of: &catalog.Lens{}})
		bare.ofLens, bare.owners = append(bare.ofLens, u), append(bare.owners, u)
		for i, shot := range s.Shots {
			if shot.Unit < 0 || shot.Unit == u {
				bare.options[i] = append(bare.options[i], days.Option{Unit: u, Setup: u, Worth: 1})
			}
		}
	}
	return bare
}

// least gives shots of which not all can be done, while all can be without any one of them; nil where
// all can.
func least(ctx context.Context, p *days.Problem, shots []int) []int {
	if allDone(ctx, p, shots) {
		return nil
	}
	set := slices.Clone(shots)
	for i := 0; i < len(set); {
		if without := slices.Delete(slices.Clone(set), i, i+1); len(without) > 0 && !allDone(ctx, p, without) {
			set = without
			continue
		}
		i++
	}
	return set
}

// allDone reports whether some shots of a problem can all be done.
func allDone(ctx context.Context, p *days.Problem, shots []int) bool {
	some := *p
	some.Shots = make([]days.Shot, len(shots))
	for k, i := range shots {
		some.Shots[k] = p.Shots[i]
		some.Shots[k].After = nil
		for _, j := range p.Shots[i].After {
			if at := slices.Index(shots, j); at >= 0 {
				some.Shots[k].After = append(some.Shots[k].After, at)
			}
		}
	}
	solution, err := days.Solver{Nodes: timesNodes}.Solve(ctx, &some)
	return err != nil || solution.LeastLeft == 0
}

func (s *Shoot) contradiction(set []int) lang.Diagnostic {
	shots := s.Scenario.Shots
	last := set[len(set)-1]
	d := lang.Diagnostic{
		Severity: lang.Error, Code: lang.Contradiction, Span: shots[last].Span,
		Summary: fmt.Sprintf("shot %q cannot be done", shots[last].ID),
		Detail:  "Its days, its hours and its minutes leave no room. Loosen one of them.",
	}
	if len(set) == 1 {
		return d
	}
	var names []string
	for _, i := range set {
		names = append(names, shots[i].ID)
		if i != last {
			d.Related = append(d.Related, lang.Related{Span: shots[i].Span, Note: fmt.Sprintf("shot %q is here", shots[i].ID)})
		}
	}
	d.Summary = fmt.Sprintf("the shots %s cannot all be done", lang.QuotedAll(names))
	d.Detail = "Their days, hours, minutes, places and order leave no room, even if changes of set-up take no time. Loosen one of them."
	return d
}
