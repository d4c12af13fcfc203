package doctor

import (
	"cmp"
	"context"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/rules"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

// A Scope says which lenses to look at. The zero value is all.
type Scope struct {
	Lens string // the only item to examine; "" for all
	Most int    // lenses to try figures for; 0 for [MostTried], and of many shots for fewer
}

// MostTried bounds the lenses for which kits are chosen anew. Those that could do best are
// tried first.
const MostTried = 200

// mostJudged bounds the lenses that are tried times the shots that they are tried in, so that
// an examination of many shots takes about as long as one of a few.
const mostJudged = 6_000

// most gives the number of lenses to try in so many shots, at least one.
func (s Scope) most(shots int) int {
	return cmp.Or(s.Most, max(1, min(MostTried, mostJudged/max(1, shots))))
}

// An Examination is what an examination found.
type Examination struct {
	Camera  string
	Kit     []string      // as it is chosen with what is known, and the middle of what is assumed
	Figures *sure.Figures // how far it hangs on what is assumed; nil when nothing assumed bears on it
	Items   []Item        // of which something is unknown, in the order in which to ask
}

// An Item is a shot or a piece of equipment with unknown figures.
type Item struct {
	Of      brief.Owner
	Name    string
	At      lang.Span // where it is described
	Refusal string    // why a lens does not fit the camera; "" when it does, and of all else
	Tried   bool      // whether the kit could change was tried
	Gaps    []Gap     // in the order in which to find them out
	// Together are the kits that only come of several figures of a lens at once: all at their
	// most, or all at their least favourable.
	Together []OtherKit

	lens *catalog.Lens // as it is stated; nil of all else
}

// A Gap is one unknown figure, or a question that no figure answers.
type Gap struct {
	Keyword string
	Assumed *brief.Assumption // what stands in for it; nil for a question
	Bears   []string          // criteria that it bears on, in some shot
	// Trials are what was tried, as a file writes it: of a lens the most favourable first.
	Trials  []string
	Changes []OtherKit // of the kit
	// Settles is what choosing the kit with this known adds to its mean score: of what is assumed
	// see [sure.Question]; else in the mean of what was tried.
	Settles  float64
	Moves    float64 // how far the mean score of the kit moves
	weight   float64 // of the criteria that it bears on
	doubtful bool    // see [question]
	weighed  bool    // Settles and Moves are those of package sure
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

// Matters reports whether a figure of the item could change the kit.
func (x *Item) Matters() bool {
	return len(x.Together) > 0 || slices.ContainsFunc(x.Gaps, func(g Gap) bool { return len(g.Changes) > 0 })
}

// An Asked is a gap with the item that has it.
type Asked struct {
	*Item
	*Gap
}

// Idle reports whether the figure changes nothing by itself and bears on nothing.
func (a Asked) Idle() bool { return len(a.Changes) == 0 && len(a.Bears) == 0 && a.Settles == 0 }

// Ask lists the gaps of an item in the order in which to ask for them.
func (x *Item) Ask() []Asked {
	all := make([]Asked, len(x.Gaps))
	for k := range x.Gaps {
		all[k] = Asked{x, &x.Gaps[k]}
	}
	return all
}

// Ask lists the gaps of all items in the order in which to ask for them: the one first that
// settles most.
func (e *Examination) Ask() []Asked {
	var all []Asked
	for i := range e.Items {
		all = append(all, e.Items[i].Ask()...)
	}
	slices.SortStableFunc(all, func(a, b Asked) int { return compareGaps(a.Gap, b.Gap) })
	return all
}

func compareGaps(a, b *Gap) int {
	return cmp.Or(
		cmp.Compare(b.Settles, a.Settles),
		trueFirst(len(a.Changes) > 0, len(b.Changes) > 0),
		cmp.Compare(b.Moves, a.Moves),
		cmp.Compare(b.weight, a.weight),
	)
}

// compareItems orders that first which has the gap to ask for first, then what matters only with
// several figures at once, then what bears on more.
func compareItems(a, b *Item) int {
	return cmp.Or(
		compareGaps(&a.Gaps[0], &b.Gaps[0]),
		trueFirst(a.Matters(), b.Matters()),
		trueFirst(a.Refusal == "", b.Refusal == ""),
		cmp.Compare(a.Of, b.Of),
		cmp.Compare(a.Name, b.Name),
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

// Examine looks at everything in the scenario of which something is unknown. Progress is told
// how many items are done, of how many. It fails as [engine.Recommend] does.
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
	figures, err := sure.OfFigures(ctx, table, &choice.Kit, o)
	if err != nil {
		return nil, err
	}
	o.Camera = table.Camera.Name.Value
	e := &examiner{
		table: table, kit: &choice.Kit, options: o,
		report: &Examination{Camera: o.Camera, Kit: choice.Kit.Lenses, Figures: figures},
	}
	for _, shot := range s.Shots {
		e.stages = append(e.stages, table.Bench().Stage(shot))
	}
	items := slices.DeleteFunc(e.items(), func(x *Item) bool { return scope.Lens != "" && (x.Of != brief.OfLens || x.Name != scope.Lens) })
	// Of lenses, those that could do best first, so that a bound leaves out what matters least.
	promise := map[*Item]float64{}
	for _, x := range items {
		promise[x] = e.promise(x)
	}
	slices.SortStableFunc(items, func(a, b *Item) int { return cmp.Compare(promise[b], promise[a]) })
	lenses, most := 0, scope.most(len(s.Shots))
	for i, x := range items {
		if x.Of == brief.OfLens {
			lenses++
		}
		if lenses <= most && x.Refusal == "" {
			if x.lens != nil {
				e.lookAt(x)
			}
			if err := e.try(ctx, x); err != nil {
				return nil, err
			}
		}
		if progress != nil {
			progress(i+1, len(items))
		}
	}
	slices.SortStableFunc(items, compareItems)
	for _, x := range items {
		e.report.Items = append(e.report.Items, *x)
	}
	return e.report, nil
}

type examiner struct {
	table   *engine.Table
	kit     *engine.Kit
	options engine.Options
	stages  []*engine.Stage // by shot
	report  *Examination
}

// items lists what has gaps: shots and camera first.
func (e *examiner) items() []*Item {
	s := e.table.Scenario
	var items []*Item
	named := map[brief.Owner]map[string]*Item{}
	item := func(of brief.Owner, name string, at lang.Span) *Item {
		if named[of] == nil {
			named[of] = map[string]*Item{}
		}
		if named[of][name] == nil {
			named[of][name] = &Item{Of: of, Name: name, At: at}
			items = append(items, named[of][name])
		}
		return named[of][name]
	}
	for i := range s.Assumed {
		a := &s.Assumed[i]
		at, stated, ok := e.stated(a)
		if !ok {
			continue
		}
		x := item(a.Of, a.Name, at)
		g := Gap{Keyword: a.Keyword, Assumed: a, Trials: trialsOf(a, stated)}
		if f := e.report.Figures; f != nil {
			if k := slices.IndexFunc(f.Ask, func(q sure.Question) bool { return q.Assumption == a }); k >= 0 {
				g.Settles, g.Moves, g.weighed = f.Ask[k].Settles, f.Ask[k].Moves, true
			}
		}
		x.Gaps = append(x.Gaps, g)
	}
	for _, f := range s.Stated.Filters.All() {
		if f.Kind.Value == catalog.FilterND && !f.Strength.Known() {
			x := item(brief.OfFilter, f.Name.Value, f.Span)
			x.Gaps = append(x.Gaps, Gap{Keyword: "strength", Trials: strengths})
		}
	}
	for _, lens := range s.Stated.Lenses.All() {
		for i := range questions {
			q := &questions[i]
			if !q.asked(lens, s) {
				continue
			}
			x := item(brief.OfLens, lens.Name.Value, lens.Span)
			if !slices.ContainsFunc(x.Gaps, func(g Gap) bool { return g.Keyword == q.keyword }) {
				x.Gaps = append(x.Gaps, Gap{Keyword: q.keyword, Trials: q.trials(lens, s), doubtful: q.doubtful})
			}
		}
		if x := named[brief.OfLens][lens.Name.Value]; x != nil {
			x.lens = lens
			if _, err := s.Catalogue.Fit(lens, e.table.Camera); err != nil {
				x.Refusal = err.Error()
			}
		}
	}
	return items
}

// stated gives the place of what lacks a figure, and of an interval what is stated of it. It is
// false for what has no part in the examination: another candidate camera, and its mount.
func (e *examiner) stated(a *brief.Assumption) (at lang.Span, interval lang.Interval, ok bool) {
	s := e.table.Scenario
	switch a.Of {
	case brief.OfShot:
		k := slices.IndexFunc(s.Shots, func(shot *brief.Shot) bool { return shot.ID == a.Name })
		return s.Shots[k].Span, interval, true
	case brief.OfCamera:
		camera, _ := s.Stated.Cameras.Lookup(a.Name)
		return camera.Span, camera.ISORange, a.Name == e.table.Camera.Name.Value
	case brief.OfRig:
		rig, _ := s.Stated.Rigs.Lookup(a.Name)
		return rig.Span, rig.Payload, true
	case brief.OfMount:
		mount, _ := s.Stated.Mounts.Lookup(a.Name)
		return mount.Span, interval, a.Name == e.table.Camera.Mount.Value
	case brief.OfAdapter:
		adapter, _ := s.Stated.Adapters.Lookup(a.Name)
		return adapter.Span, interval, adapter.From.Camera.Value == e.table.Camera.Mount.Value
	}
	lens, _ := s.Stated.Lenses.Lookup(a.Name)
	return lens.Span, lens.Aperture, true
}

// promise says how well a lens could do: the weight of the shots times its score, with what is
// tried first in the place of its widest stop, without which it has none. All else comes before.
func (e *examiner) promise(x *Item) (sum float64) {
	switch {
	case x.lens == nil:
		return math.Inf(1)
	case x.Refusal != "":
		return math.Inf(-1)
	}
	lens := x.lens
	if k := slices.IndexFunc(x.Gaps, func(g Gap) bool { return g.Keyword == "aperture" && g.Assumed == nil }); k >= 0 {
		_, sum = e.judge(with(lens, "aperture "+x.Gaps[k].Trials[0]))
		return sum
	}
	place := e.table.Place(x.Name)
	for i, shot := range e.table.Scenario.Shots {
		if o := e.table.Outcome(i, place); o.Acceptable() {
			sum += o.Score * shot.Weight
		}
	}
	return sum
}

// judge explains a lens, as it is stated, in all shots, and says how well it does.
func (e *examiner) judge(lens *catalog.Lens) (judged []engine.Judgement, worth float64) {
	filled := e.table.Scenario.Filled(lens)
	for i, stage := range e.stages {
		j := stage.Explain(filled)
		if j.Standing == engine.Judged {
			worth += j.Score * e.table.Scenario.Shots[i].Weight
		}
		judged = append(judged, j)
	}
	return judged, worth
}

// lookAt finds what the gaps of a lens bear on, and puts what is tried in the order in which it
// favours the lens.
func (e *examiner) lookAt(x *Item) {
	before, _ := e.judge(x.lens)
	for i := range x.Gaps {
		g := &x.Gaps[i]
		worth := map[string]float64{}
		for _, trial := range g.Trials {
			after, with := e.judge(with(x.lens, g.Keyword+" "+trial))
			worth[trial] = with
			for k := range before {
				g.bear(&before[k], &after[k])
			}
		}
		g.Trials = slices.Clone(g.Trials)
		slices.SortStableFunc(g.Trials, func(a, b string) int { return cmp.Compare(worth[b], worth[a]) })
	}
}

// bear adds the criteria that two judgements differ in.
func (g *Gap) bear(before, after *engine.Judgement) {
	for k := range min(len(before.Criteria), len(after.Criteria)) {
		a, b := &before.Criteria[k], &after.Criteria[k]
		if differ(a, b) && !slices.Contains(g.Bears, a.Name) {
			g.Bears = append(g.Bears, a.Name)
			if !g.doubtful {
				g.weight += a.Weight
			}
		}
	}
}

// differ reports whether a criterion says other things, beyond rounding.
func differ(a, b *rules.Finding) bool {
	const rounding = 1e-6
	same := func(x, y float64) bool { return math.IsNaN(x) && math.IsNaN(y) || math.Abs(x-y) <= rounding }
	return a.Applies != b.Applies || !same(a.Score, b.Score) || !same(a.Leaves(), b.Leaves()) || len(a.Unknown) != len(b.Unknown)
}

// with gives a lens with a line that this package writes.
func with(lens *catalog.Lens, line string) *catalog.Lens { return amended(lens, line) }

func amended[T catalog.Lens | catalog.Camera | catalog.Rig | catalog.Mount | catalog.Adapter | catalog.Filter](item *T, line string) *T {
	changed, err := catalog.Amended(item, line)
	if err != nil {
		panic(err) // the lines are those of gap.go
	}
	return changed
}

// try chooses kits with what could stand in the gaps, each by itself and then, of a lens, all at
// once.
func (e *examiner) try(ctx context.Context, x *Item) error {
	x.Tried = true
	for i := range x.Gaps {
		g := &x.Gaps[i]
		low, high, gained := e.kit.Mean, e.kit.Mean, 0.0
		for _, trial := range g.Trials {
			line := g.Keyword + " " + trial
			table, err := e.stating(ctx, x, line)
			if err != nil {
				return err
			}
			kept := table.Kit(e.kit.Lenses)
			low, high = min(low, kept.Mean), max(high, kept.Mean)
			if x.Of != brief.OfLens {
				e.bearOnKit(g, table)
			}
			if kit, ok := e.change(table); ok {
				g.Changes = append(g.Changes, OtherKit{With: line, Kit: kit.Lenses})
				gained += max(0, kit.Value-kept.Value)
			}
		}
		if !g.weighed {
			g.Settles, g.Moves = gained/float64(len(g.Trials)), high-low
		}
	}
	if x.lens != nil && len(x.Gaps) > 1 && !x.Matters() {
		for _, all := range []struct {
			ends Ends
			of   func(*Gap) string
		}{
			{MostFavourable, func(g *Gap) string { return g.Trials[0] }},
			{LeastFavourable, func(g *Gap) string { return g.Trials[len(g.Trials)-1] }},
		} {
			lens := x.lens
			for i := range x.Gaps {
				lens = with(lens, x.Gaps[i].Keyword+" "+all.of(&x.Gaps[i]))
			}
			if kit, ok := e.change(e.table.WithLens(e.table.Scenario.Filled(lens))); ok {
				x.Together = append(x.Together, OtherKit{All: all.ends, Kit: kit.Lenses})
			}
		}
	}
	slices.SortStableFunc(x.Gaps, func(a, b Gap) int { return compareGaps(&a, &b) })
	return nil
}

// stating gives the table as it would be with a line more in the files.
func (e *examiner) stating(ctx context.Context, x *Item, line string) (*engine.Table, error) {
	s := e.table.Scenario
	if x.lens != nil {
		return e.table.WithLens(s.Filled(with(x.lens, line))), ctx.Err()
	}
	var said brief.Statement
	switch x.Of {
	case brief.OfShot:
		said.Shot, said.Light = x.Name, luxOf(line)
	case brief.OfCamera:
		item, _ := s.Stated.Cameras.Lookup(x.Name)
		said.Cameras = []*catalog.Camera{amended(item, line)}
	case brief.OfRig:
		item, _ := s.Stated.Rigs.Lookup(x.Name)
		said.Rigs = []*catalog.Rig{amended(item, line)}
	case brief.OfMount:
		item, _ := s.Stated.Mounts.Lookup(x.Name)
		said.Mounts = []*catalog.Mount{amended(item, line)}
	case brief.OfAdapter:
		item, _ := s.Stated.Adapters.Lookup(x.Name)
		said.Adapters = []*catalog.Adapter{amended(item, line)}
	case brief.OfFilter:
		item, _ := s.Stated.Filters.Lookup(x.Name)
		said.Filters = []*catalog.Filter{amended(item, line)}
	}
	return engine.Judge(ctx, s.Stating(said), e.options)
}

// bearOnKit adds the criteria in which the lenses of the kit differ, or else those that rank
// first.
func (e *examiner) bearOnKit(g *Gap, other *engine.Table) {
	for i, use := range e.kit.Uses {
		place := e.table.Place(use)
		if place < 0 {
			place = e.table.Ranked(i)[0]
		}
		before, after := e.table.Explain(i, place), other.Explain(i, place)
		g.bear(&before, &after)
	}
}

// change chooses the kit of a table. It is false when the kit stays, and when no kit is left.
func (e *examiner) change(table *engine.Table) (engine.Kit, bool) {
	choice, err := table.Choose(table.Scenario.Limits, engine.Options{})
	if err != nil {
		return engine.Kit{}, false
	}
	return choice.Kit, !engine.SameLenses(choice.Kit.Lenses, e.report.Kit)
}
