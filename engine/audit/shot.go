package audit

import (
	"cmp"
	"context"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/parallel"
	"glassbrief/engine/rules"
	"glassbrief/engine/why"
)

// A Lift is a change of the brief by which a lens of the house would do a shot.
type Lift struct {
	Lens string
	why.BriefChange
}

// shots gives the verdicts, and the needs of the shots that no lens of the house does.
func (a *auditor) shots(ctx context.Context) ([]need, error) {
	shots := a.report.Scenario.Shots
	a.report.Shots = make([]ShotVerdict, len(shots))
	needs := make([]*need, len(shots))
	err := parallel.For(ctx, len(shots), a.options.Workers, func(i int) { a.report.Shots[i], needs[i] = a.shot(i) })
	if err != nil {
		return nil, err
	}
	var all []need
	for _, n := range needs {
		if n != nil {
			all = append(all, *n)
		}
	}
	return all, nil
}

// shot gives the verdict on one shot, and its need when no lens of the house does it.
func (a *auditor) shot(i int) (ShotVerdict, *need) {
	shot := a.report.Scenario.Shots[i]
	v := ShotVerdict{Shot: shot}
	if name := a.report.House.Uses[i]; name != "" {
		use := a.table.Explain(i, a.table.Place(name))
		v.Use, v.Compromises = &use, compromises(&use)
		if len(v.Compromises) > 0 {
			v.Verdict = Compromise
		}
		return v, nil
	}
	v.Verdict, v.Hire = Fails, a.offers([]int{i})
	for j, lens := range a.table.Lenses() {
		if a.isHouse(j, lens) && a.table.Outcome(i, j).Acceptable() {
			v.Able = append(v.Able, lens.Name.Value)
		}
	}
	if v.Able != nil {
		return v, nil
	}
	v.Changes = a.changes(i)
	b := newBench(a.table.Bench(), a.report.Scenario, a.table.Camera, shot)
	start, ok := b.start()
	if !ok {
		v.Blocks = b.blocks()
		return v, nil
	}
	w := check(b.passes).window(start)
	v.Window = &w
	return v, &need{i, w, b}
}

// isHouse reports whether a lens may come and need not be hired.
func (a *auditor) isHouse(j int, lens *catalog.Lens) bool {
	return lens.Have.Kind != catalog.Hired && a.table.KeptOut(j).By == ""
}

// Bounds of what is tried and kept of changes: solving takes hundreds of trials for a lens.
const (
	lensesTried  = 24 // those that are nearest to doing the shot
	changesShown = 3
)

// changes gives the smallest changes of the brief by which a lens of the house would do a
// shot, of each figure that with the lens that needs least.
func (a *auditor) changes(i int) []Lift {
	s, shot := a.report.Scenario, a.report.Scenario.Shots[i]
	least := map[why.Figure]Lift{}
	for _, lens := range a.nearest(i) {
		for _, c := range why.Changes(s, a.table.Camera, shot, why.Accepted(a.table.Bench(), lens)) {
			if known, ok := least[c.Figure]; !ok || c.Size < known.Size {
				least[c.Figure] = Lift{lens.Name.Value, c}
			}
		}
	}
	var all []Lift
	for figure := why.Distance; figure <= why.Mass; figure++ {
		if c, ok := least[figure]; ok {
			all = append(all, c)
		}
	}
	slices.SortStableFunc(all, func(x, y Lift) int { return cmp.Compare(x.Size, y.Size) })
	return all[:min(len(all), changesShown)]
}

// nearest gives the lenses of the house that fail a shot by least: by the fewest vetoes,
// and then by score. Vetoes are counted for those that score best, for it takes time.
func (a *auditor) nearest(i int) []*catalog.Lens {
	s, camera := a.report.Scenario, a.table.Camera
	type candidate struct {
		lens   *catalog.Lens
		place  int
		vetoes int
		score  float64
	}
	var all []candidate
	for j, lens := range a.table.Lenses() {
		if o := a.table.Outcome(i, j); o.Standing == engine.Excluded && a.isHouse(j, lens) {
			if _, err := s.Catalogue.Fit(lens, camera); err == nil {
				all = append(all, candidate{lens, j, 0, o.Score})
			}
		}
	}
	slices.SortStableFunc(all, func(x, y candidate) int { return cmp.Compare(y.score, x.score) })
	all = all[:min(len(all), 8*lensesTried)]
	for k := range all {
		judged := a.table.Explain(i, all[k].place)
		all[k].vetoes = len(judged.Vetoes())
	}
	slices.SortStableFunc(all, func(x, y candidate) int { return cmp.Compare(x.vetoes, y.vetoes) })
	lenses := make([]*catalog.Lens, min(len(all), lensesTried))
	for k := range lenses {
		lenses[k] = all[k].lens
	}
	return lenses
}

// blocks says what excludes the made-up lens that comes nearest to doing the shot: that
// with the fewest vetoes, and of these with the highest score.
func (b *bench) blocks() []rules.Raised {
	var reasons []rules.Raised
	score := math.Inf(-1)
	t := b.generous()
	for focal := range focals {
		t[Focal] = focal
		judged := b.stage.Explain(t.lens(b.camera, b.shot))
		vetoes := judged.Vetoes()
		if len(vetoes) == 0 || reasons != nil && (len(vetoes) > len(reasons) || len(vetoes) == len(reasons) && judged.Score <= score) {
			continue
		}
		reasons, score = vetoes, judged.Score
	}
	return reasons
}

// offers lists the lenses for hire that do all of some shots, the cheapest first. What the
// brief keeps out is not offered; a limit on rent keeps nothing out here, for it may be
// what has to give.
func (a *auditor) offers(shots []int) []Offer {
	limits := &a.report.Limits
	var offers []Offer
	for j, lens := range a.table.Lenses() {
		if lens.Have.Kind != catalog.Hired || limits.Bars(lens) {
			continue
		}
		able := true
		for _, i := range shots {
			able = able && a.table.Outcome(i, j).Acceptable()
		}
		if able {
			offers = append(offers, offerOf(lens))
		}
	}
	slices.SortStableFunc(offers, cheaper)
	return offers
}
