package cmd

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/engine/parallel"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

// around is what stands beside an answer: what other choices would give, what decides,
// and how sure it is.
type around struct {
	answer  *engine.Recommendation
	sizes   []engine.Sized
	second  *engine.Second     // nil for a kit of one lens
	changes []floor.Change     // of lens through the day
	cameras []engine.Candidate // nil for a brief of one camera
	best    int                // of the cameras
	nearby  *sure.Nearby       // nil unless asked for
	flip    *sure.Flip         // nil when no figure alone changes the kit
}

// lookAround works out what stands beside an answer; with briefs above 0, how sure it is
// too, by so many nearby briefs.
func (a *app) lookAround(ctx context.Context, r *engine.Recommendation, briefs int) (*around, error) {
	o := engine.Options{Printer: a.printer()}
	l := &around{answer: r}
	parts := []func() error{
		func() (err error) {
			if len(r.Scenario.Cameras) > 1 {
				l.cameras, l.best, err = r.Table.Candidates(ctx, o)
			}
			return err
		},
		func() (err error) {
			l.second, err = r.Table.Second(ctx, &r.Kit, o)
			return err
		},
		func() error {
			l.sizes = r.Table.Sizes(o)
			l.changes = floor.Changes(r, a.printer())
			return nil
		},
	}
	faults := make([]error, len(parts))
	if err := parallel.For(ctx, len(parts), 0, func(i int) { faults[i] = parts[i]() }); err != nil {
		return nil, err
	}
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	if briefs > 0 {
		if err := l.howSure(ctx, a, briefs, o); err != nil {
			return nil, err
		}
	}
	return l, nil
}

// howSure works out how sure the answer is, by so many nearby briefs.
func (l *around) howSure(ctx context.Context, a *app, briefs int, o engine.Options) (err error) {
	table, kit := l.answer.Table, &l.answer.Kit
	bar := a.progress("%d nearby briefs", briefs)
	o.Progress = bar.step
	l.nearby, err = sure.Draw(ctx, table, kit, briefs, o)
	bar.end()
	if err != nil {
		return err
	}
	bar = a.progress("what changes the kit first")
	defer bar.end()
	o.Progress = bar.step
	l.flip, err = sure.First(ctx, table, kit, o)
	return err
}

// blocks adds what stands beside the answer to its page.
func (l *around) blocks(out *page, p lang.Printer) {
	r := l.answer
	if len(r.Runners) > 0 {
		out.heading("Kits behind it")
		out.grid(runnersGrid(r))
		if r.Neighbours {
			out.paragraph("These are the best of the kits that differ from it by one lens.")
		}
	}
	if len(l.sizes) > 1 {
		out.heading("With one lens fewer, and with one more")
		out.grid(l.sizesGrid(p))
	}
	if l.second != nil {
		out.heading("What decides")
		out.paragraph(wording.Second(l.second, r))
	}
	if g := l.swapsGrid(p); len(g.rows) > 0 {
		out.heading("Changes of lens through the day")
		out.grid(g)
	}
	if l.cameras != nil {
		out.heading("On each camera")
		out.grid(l.camerasGrid(p))
		out.paragraph(wording.Cameras(l.cameras, l.best))
	}
	if l.nearby != nil {
		out.heading("How sure it is")
		out.paragraph(wording.Nearby(l.nearby, r, p))
		out.grid(l.nearbyGrid())
		out.paragraph(wording.Flip(l.flip, r.Scenario, p))
	}
}

func (l *around) sizesGrid(p lang.Printer) grid {
	g := grid{columns: []column{
		{title: "carry", right: true}, {title: "kit", wraps: true}, {title: "score", right: true},
		{title: "not covered", wraps: true}, {title: "changes", right: true, spare: 1}, {title: "mass", right: true, spare: 2},
	}}
	for i := range l.sizes {
		k := &l.sizes[i].Kit
		mark := toneNone
		if l.sizes[i].Carry == l.answer.Scenario.Limits.Carry {
			mark = toneStrong
		}
		g.rows = append(g.rows, []cell{
			{text: fmt.Sprint(l.sizes[i].Carry)}, {text: strings.Join(k.Lenses, ", "), tone: mark}, {text: fmt.Sprintf("%.2f", k.Mean)},
			{text: strings.Join(k.Uncovered, ", ")}, {text: fmt.Sprint(k.Swaps)}, {text: p.Quantity(k.Mass, "g")},
		})
	}
	return g
}

// swapsGrid lists the changes of lens in shooting order with what each takes on the rig.
func (l *around) swapsGrid(p lang.Printer) grid {
	g := grid{columns: []column{{title: "before"}, {title: "change", wraps: true}, {title: "minutes", right: true}}}
	for i := range l.changes {
		c := &l.changes[i]
		g.rows = append(g.rows, []cell{
			{text: c.Before.ID}, {text: wording.SwapSteps(&c.Swap, p)}, {text: p.Quantity(c.Swap.Minutes, "")},
		})
	}
	return g
}

// camerasGrid sets the kits of the cameras side by side, and what each shows in each shot.
func (l *around) camerasGrid(p lang.Printer) grid {
	g := grid{columns: []column{{title: ""}}}
	lines := []struct {
		name string
		of   func(k *engine.Kit) string
	}{
		{"kit", func(k *engine.Kit) string { return strings.Join(k.Lenses, ", ") }},
		{"score", func(k *engine.Kit) string { return fmt.Sprintf("%.2f", k.Mean) }},
		{"not covered", func(k *engine.Kit) string { return strings.Join(k.Uncovered, ", ") }},
		{"lens changes", func(k *engine.Kit) string { return fmt.Sprint(k.Swaps) }},
		{"mass of glass", func(k *engine.Kit) string { return p.Quantity(k.Mass, "g") }},
	}
	rows := make([][]cell, len(lines))
	for i, line := range lines {
		rows[i] = []cell{{text: line.name}}
	}
	shots := make([][]cell, len(l.answer.Scenario.Shots))
	for i, shot := range l.answer.Scenario.Shots {
		shots[i] = []cell{{text: shot.ID}}
	}
	for n := range l.cameras {
		c := &l.cameras[n]
		title, mark := c.Camera.Name.Value, toneNone
		if n == l.best {
			title, mark = title+" (best)", toneStrong
		}
		g.columns = append(g.columns, column{title: title, wraps: true})
		for i, line := range lines {
			rows[i] = append(rows[i], cell{text: line.of(&c.Kit), tone: mark})
		}
		for i, use := range c.Uses {
			shots[i] = append(shots[i], pictureCell(use, p))
		}
	}
	g.rows = append(append(rows, nil), shots...)
	return g
}

// pictureCell says with what a shot is done and what the picture shows at its nearest.
func pictureCell(use *engine.Judgement, p lang.Printer) cell {
	if use == nil {
		return cell{text: "none does it", tone: toneBad}
	}
	width, height := pictureSize(use)
	return cell{text: fmt.Sprintf("%s, %.2f: %s x %s", wording.LensAt(use, p), use.Score, p.Quantity(width, "m"), p.Quantity(height, "m"))}
}

// pictureSize gives the width and height of what the picture shows at the nearest subject.
func pictureSize(use *engine.Judgement) (width, height float64) {
	height = use.Fact(facts.FieldNear)
	return height * use.Fact(facts.SpreadWidth) / use.Fact(facts.SpreadHeight), height
}

// nearbyGrid lists for each shot how often its lens stays, and what comes instead.
func (l *around) nearbyGrid() grid {
	g := grid{columns: []column{{title: "shot"}, {title: "lens"}, {title: "stays", right: true}, {title: "else", wraps: true}}}
	for i := range l.nearby.Shots {
		shot := &l.nearby.Shots[i]
		lens := l.answer.Kit.Uses[i]
		var others []string
		for _, o := range shot.Outcomes {
			if !slices.Equal(o.Lenses, lensList(lens)) {
				others = append(others, fmt.Sprintf("%s %s", wording.Lenses(o.Lenses), wording.Share(l.nearby.Share(o.Briefs))))
			}
		}
		g.rows = append(g.rows, []cell{
			{text: shot.ID}, {text: wording.Lenses(lensList(lens))}, {text: wording.Share(l.nearby.Share(shot.Same)), tone: toneStrong},
			{text: strings.Join(others[:min(len(others), shownInstead)], ", ")},
		})
	}
	return g
}

// shownInstead is how many other lenses are listed for a shot.
const shownInstead = 3

func lensList(lens string) []string {
	if lens == "" {
		return nil
	}
	return []string{lens}
}
