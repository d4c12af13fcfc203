package doctor

import (
	"cmp"
	"context"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/rules"
)

// A Scope says which lenses to look at. The zero value is all.
type Scope struct {
	Lens string // the only one to examine; "" for all
	Most int    // lenses to try figures for; 0 for [MostTried]
}

// MostTried bounds the lenses for which kits are chosen anew. Those that could do best are
// tried first.
const MostTried = 200

// An Examination is what an examination found.
type Examination struct {
	Camera string
	Kit    []string // as it is chosen with what is known
	Lenses []Lens   // those with unknown figures, in the order in which to measure them
}

// A Lens is one with unknown figures.
type Lens struct {
	*catalog.Lens        // as it is stated
	Refusal       string // why it does not fit the camera; "" when it does
	Tried         bool   // whether the kit could change was tried
	Gaps          []Gap  // in the order in which to measure them
	// Together are the kits that only come of several figures at once: all at their most,
	// or all at their least favourable.
	Together []OtherKit
}

// A Gap is one unknown figure.
type Gap struct {
	Keyword string
	Blinds  []string   // criteria that cannot be judged without it, in some shot
	Trials  []string   // figures that were tried, the most favourable first
	Changes []OtherKit // of the kit
	weight  float64    // of the criteria that it blinds
}

// An OtherKit is a kit that comes of a figure.
type OtherKit struct {
	With string   // the figure as a file writes it; "" when it comes of all at once
	All  Ends     // of the figures, when it comes of all at once
	Kit  []string // lenses
}

// Ends says at which end of their ranges all figures of a lens are.
type Ends uint8

const (
	NotAll Ends = iota
	MostFavourable
	LeastFavourable
)

// Matters reports whether a figure of the lens could change the kit.
func (l *Lens) Matters() bool {
	return len(l.Together) > 0 || slices.ContainsFunc(l.Gaps, func(g Gap) bool { return len(g.Changes) > 0 })
}

// blinded gives the weight of the criteria that the unknown figures of the lens blind.
func (l *Lens) blinded() float64 {
	sum := 0.0
	for _, g := range l.Gaps {
		sum += g.weight
	}
	return sum
}

// Examine looks at every lens of the scenario's catalogue of which something is unknown.
// Progress is told how many lenses are done, of how many. It fails as [engine.Recommend] does.
func Examine(ctx context.Context, s *brief.Scenario, scope Scope, o engine.Options) (*Examination, error) {
	progress := o.Progress
	o.Progress = nil // judging would tell of its own steps
	table, err := engine.Judge(ctx, s, o)
	if err != nil {
		return nil, err
	}
	choice, err := table.Choose(s.Limits, engine.Options{})
	if err != nil {
		return nil, err
	}
	e := &examiner{table: table, bench: table.Bench(), report: &Examination{Camera: table.Camera.Name.Value, Kit: choice.Kit.Lenses}}
	var lenses []*Lens
	for _, lens := range s.Stated.Lenses.All() {
		if scope.Lens != "" && lens.Name.Value != scope.Lens {
			continue
		}
		if x := e.look(lens); len(x.Gaps) > 0 {
			lenses = append(lenses, x)
		}
	}
	// Those that could do best first, so that a bound leaves out what matters least.
	promise := map[*Lens]float64{}
	for _, x := range lenses {
		promise[x] = e.promise(x)
	}
	slices.SortStableFunc(lenses, func(a, b *Lens) int { return cmp.Compare(promise[b], promise[a]) })
	most := min(cmp.Or(scope.Most, MostTried), len(lenses))
	for i, x := range lenses {
		if i < most && x.Refusal == "" {
			if err := e.try(ctx, x); err != nil {
				return nil, err
			}
		}
		if progress != nil {
			progress(i+1, len(lenses))
		}
	}
	slices.SortStableFunc(lenses, compareLenses)
	for _, x := range lenses {
		e.report.Lenses = append(e.report.Lenses, *x)
	}
	return e.report, nil
}

// compareLenses orders those that matter first, then those of which less can be judged.
func compareLenses(a, b *Lens) int {
	return cmp.Or(
		trueFirst(a.Matters(), b.Matters()),
		trueFirst(a.Refusal == "", b.Refusal == ""),
		cmp.Compare(b.blinded(), a.blinded()),
		cmp.Compare(a.Name.Value, b.Name.Value),
	)
}

// trueFirst orders yes before no.
func trueFirst(a, b bool) int {
	switch {
	case a == b:
		return 0
	case a:
		return -1
	}
	return 1
}

type examiner struct {
	table  *engine.Table
	bench  *engine.Bench
	report *Examination
}

// look finds the gaps of a lens, and what each blinds.
func (e *examiner) look(lens *catalog.Lens) *Lens {
	x := &Lens{Lens: lens}
	unknown := map[string]bool{}
	for _, f := range catalog.Fields(lens) {
		unknown[f.Keyword] = !f.Known()
	}
	unknown["have"] = unknown["have"] || lens.Have.Kind == catalog.Hired && !lens.Have.DayRate.Known()
	if _, measured := lens.Correction.DistortionCurve(); measured {
		unknown["distortion"] = false
	}
	if len(lens.Correction.Shadings) > 0 {
		unknown["falloff"] = false
	}
	s := e.table.Scenario
	if _, err := s.Catalogue.Fit(lens, e.table.Camera); err != nil {
		x.Refusal = err.Error()
	}
	for _, g := range gaps {
		if !unknown[g.keyword] {
			continue
		}
		if trials := g.trials(lens, s); trials != nil {
			x.Gaps = append(x.Gaps, Gap{Keyword: g.keyword, Trials: trials})
		}
	}
	if x.Refusal == "" && len(x.Gaps) > 0 {
		for _, shot := range s.Shots {
			e.blinds(x, shot)
		}
	}
	return x
}

// blinds adds to each gap of a lens the criteria of which less is unknown in a shot once it
// is filled.
func (e *examiner) blinds(x *Lens, shot *brief.Shot) {
	stage := e.bench.Stage(shot)
	criteria := func(lens *catalog.Lens) []rules.Finding {
		return stage.Explain(lens).Criteria
	}
	before := criteria(x.Lens)
	for i := range x.Gaps {
		g := &x.Gaps[i]
		after := criteria(with(x.Lens, g.Keyword+" "+g.Trials[0]))
		for k := range before {
			if len(after[k].Unknown) < len(before[k].Unknown) && !slices.Contains(g.Blinds, before[k].Name) {
				g.Blinds = append(g.Blinds, before[k].Name)
				g.weight += before[k].Weight
			}
		}
	}
}

// with gives the lens with a line that this package writes.
func with(lens *catalog.Lens, line string) *catalog.Lens {
	changed, err := lens.Amended(line)
	if err != nil {
		panic(err) // the lines are those of gap.go
	}
	return changed
}

// promise says how well a lens could do: the weight of the shots times what it would score
// with all its gaps filled in its favour.
func (e *examiner) promise(x *Lens) float64 {
	if x.Refusal != "" {
		return 0
	}
	best := x.filled(func(g *Gap) string { return g.Trials[0] })
	fitted, sum := e.bench.Fit(e.table.Scenario.Filled(best)), 0.0
	for _, shot := range e.table.Scenario.Shots {
		if o := fitted.Try(e.table.Scenario, shot); o.Acceptable() {
			sum += shot.Weight * o.Score
		}
	}
	return sum
}

// filled gives the lens with all its gaps filled.
func (l *Lens) filled(by func(*Gap) string) *catalog.Lens {
	lens := l.Lens
	for i := range l.Gaps {
		lens = with(lens, l.Gaps[i].Keyword+" "+by(&l.Gaps[i]))
	}
	return lens
}

// try chooses kits with the figures that could stand in the gaps, each by itself and then
// all at once.
func (e *examiner) try(ctx context.Context, x *Lens) error {
	x.Tried = true
	for i := range x.Gaps {
		g := &x.Gaps[i]
		for _, trial := range g.Trials {
			if err := ctx.Err(); err != nil {
				return err
			}
			if change, ok := e.change(with(x.Lens, g.Keyword+" "+trial), g.Keyword+" "+trial); ok {
				g.Changes = append(g.Changes, change)
			}
		}
	}
	if len(x.Gaps) > 1 && !x.Matters() {
		for _, all := range []struct {
			ends Ends
			by   func(*Gap) string
		}{
			{MostFavourable, func(g *Gap) string { return g.Trials[0] }},
			{LeastFavourable, func(g *Gap) string { return g.Trials[len(g.Trials)-1] }},
		} {
			if change, ok := e.change(x.filled(all.by), ""); ok {
				change.All = all.ends
				x.Together = append(x.Together, change)
			}
		}
	}
	slices.SortStableFunc(x.Gaps, func(a, b Gap) int {
		return cmp.Or(trueFirst(len(a.Changes) > 0, len(b.Changes) > 0), cmp.Compare(b.weight, a.weight))
	})
	return nil
}

// change chooses the kit with another lens in the place of one. It is false when the kit
// stays, and when no kit is left.
func (e *examiner) change(lens *catalog.Lens, by string) (OtherKit, bool) {
	choice, err := e.table.WithLens(e.table.Scenario.Filled(lens)).Choose(e.table.Scenario.Limits, engine.Options{})
	if err != nil {
		return OtherKit{}, false
	}
	return OtherKit{With: by, Kit: choice.Kit.Lenses}, !engine.SameLenses(choice.Kit.Lenses, e.report.Kit)
}
