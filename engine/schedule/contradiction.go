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
	said := func(i int) bool { return !math.IsNaN(s.Shots[i].Takes) }
	for i := range p.Shots {
		shot := &p.Shots[i]
		if !said(i) {
			shot.Options = nil
		}
		shot.After = slices.DeleteFunc(slices.Clone(shot.After), func(k int) bool { return !said(k) })
	}
	sets, err := days.Contradictions(ctx, p, mostContradictions, timesNodes)
	if err != nil {
		return nil
	}
	var found lang.Diagnostics
	for _, set := range sets {
		found = append(found, bare.contradiction(set))
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
