package audit

import (
	"context"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/parallel"
	"glassbrief/engine/rules"
	"glassbrief/engine/why"
)

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
		v.Filter = why.FilterFor(a.table, i, a.table.Place(name))
		return v, nil
	}
	v.Verdict, v.Hire = Fails, a.offers([]int{i})
	for j, lens := range a.table.Lenses() {
		if a.table.Lends(j) && a.table.Outcome(i, j).Acceptable() {
			v.Able = append(v.Able, lens.Name.Value)
		}
	}
	if v.Able != nil {
		return v, nil
	}
	if v.Rescue = why.RescueOf(a.table, i); v.Rescue == nil { // the shot asks for one that is hired
		return v, nil
	}
	v.Filter = v.Rescue.Filter
	b := newBench(a.table.Bench(), a.report.Scenario, a.table.Camera, shot)
	start, ok := b.start()
	if !ok {
		v.Blocks = b.blocks()
		return v, nil
	}
	w := check(b.passes).window(start)
	w.Thread = b.needsThread(w.Middle)
	v.Window = &w
	return v, &need{i, w, b}
}

// blocks says what excludes the made-up lens that comes nearest to doing the shot: that
// with the fewest vetoes, and of these with the highest score.
func (b *bench) blocks() []rules.Raised {
	var reasons []rules.Raised
	score := math.Inf(-1)
	t := b.generous()
	for focal := range focals {
		t[Focal] = focal
		judged := b.stage.Explain(b.lens(&t))
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
