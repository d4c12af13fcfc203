package cmd

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"glassbrief/cmd/show"
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
	o := engine.Options{}
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
			l.changes = floor.Changes(r)
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
func (l *around) blocks(out *show.Page, p lang.Printer) {
	r := l.answer
	if len(r.Runners) > 0 {
		out.Heading("Kits behind it")
		out.Grid(runnersGrid(r))
		if r.Neighbours {
			out.Paragraph("These are the best of the kits that differ from it by one lens.")
		}
	}
	if len(l.sizes) > 1 {
		out.Heading("With one lens fewer, and with one more")
		out.Grid(l.sizesGrid(p))
	}
	if l.second != nil {
		out.Heading("What decides")
		out.Paragraph(wording.Second(l.second, r))
	}
	if g := l.swapsGrid(p); len(g.Rows) > 0 {
		out.Heading("Changes of lens through the day")
		out.Grid(g)
	}
	if l.cameras != nil {
		out.Heading("On each camera")
		out.Grid(l.camerasGrid(p))
		out.Paragraph(wording.Cameras(l.cameras, l.best))
	}
	if l.nearby != nil {
		out.Heading("How sure it is")
		out.Paragraph(wording.Nearby(l.nearby, r, p))
		out.Grid(l.nearbyGrid())
		out.Paragraph(wording.Flip(l.flip, r.Scenario, p))
	}
}

func (l *around) sizesGrid(p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{
		{Title: "carry", Right: true}, {Title: "kit", Wraps: true}, {Title: "score", Right: true},
		{Title: "not covered", Wraps: true}, {Title: "changes", Right: true, Spare: 1}, {Title: "mass", Right: true, Spare: 2},
	}}
	for i := range l.sizes {
		k := &l.sizes[i].Kit
		mark := show.NoTone
		if l.sizes[i].Carry == l.answer.Scenario.Limits.Carry {
			mark = show.Strong
		}
		g.Rows = append(g.Rows, []show.Cell{
			{Text: fmt.Sprint(l.sizes[i].Carry)}, {Text: strings.Join(k.Lenses, ", "), Tone: mark}, {Text: fmt.Sprintf("%.2f", k.Mean)},
			{Text: strings.Join(k.Uncovered, ", ")}, {Text: fmt.Sprint(k.Swaps)}, {Text: p.Quantity(k.Mass, "g")},
		})
	}
	return g
}

// swapsGrid lists the changes of lens in shooting order with what each takes on the rig.
func (l *around) swapsGrid(p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "before"}, {Title: "change", Wraps: true}, {Title: "minutes", Right: true}}}
	for i := range l.changes {
		c := &l.changes[i]
		g.Rows = append(g.Rows, []show.Cell{
			{Text: c.Before.ID}, {Text: wording.SwapSteps(&c.Swap, p)}, {Text: p.Quantity(c.Swap.Minutes, "")},
		})
	}
	return g
}

// camerasGrid sets the kits of the cameras side by side, and what each shows in each shot.
func (l *around) camerasGrid(p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: ""}}}
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
	rows := make([][]show.Cell, len(lines))
	for i, line := range lines {
		rows[i] = []show.Cell{{Text: line.name}}
	}
	shots := make([][]show.Cell, len(l.answer.Scenario.Shots))
	for i, shot := range l.answer.Scenario.Shots {
		shots[i] = []show.Cell{{Text: shot.ID}}
	}
	for n := range l.cameras {
		c := &l.cameras[n]
		title, mark := c.Camera.Name.Value, show.NoTone
		if n == l.best {
			title, mark = title+" (best)", show.Strong
		}
		g.Columns = append(g.Columns, show.Column{Title: title, Wraps: true})
		for i, line := range lines {
			rows[i] = append(rows[i], show.Cell{Text: line.of(&c.Kit), Tone: mark})
		}
		for i, use := range c.Uses {
			shots[i] = append(shots[i], pictureCell(use, p))
		}
	}
	g.Rows = append(append(rows, nil), shots...)
	return g
}

// pictureCell says with what a shot is done and what the picture shows at its nearest.
func pictureCell(use *engine.Judgement, p lang.Printer) show.Cell {
	if use == nil {
		return show.Cell{Text: "none does it", Tone: show.Bad}
	}
	width, height := pictureSize(use)
	return show.Cell{Text: fmt.Sprintf("%s, %.2f: %s x %s", wording.LensAt(use, p), use.Score, p.Quantity(width, "m"), p.Quantity(height, "m"))}
}

// pictureSize gives the width and height of what the picture shows at the nearest subject.
func pictureSize(use *engine.Judgement) (width, height float64) {
	height = use.Fact(facts.FieldNear)
	return height * use.Fact(facts.SpreadWidth) / use.Fact(facts.SpreadHeight), height
}

// nearbyGrid lists for each shot how often its lens stays, and what comes instead.
func (l *around) nearbyGrid() show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "shot"}, {Title: "lens"}, {Title: "stays", Right: true}, {Title: "else", Wraps: true}}}
	for i := range l.nearby.Shots {
		shot := &l.nearby.Shots[i]
		lens := l.answer.Kit.Uses[i]
		var others []string
		for _, o := range shot.Outcomes {
			if !slices.Equal(o.Lenses, lensList(lens)) {
				others = append(others, fmt.Sprintf("%s %s", wording.Lenses(o.Lenses), wording.Share(l.nearby.Share(o.Briefs))))
			}
		}
		g.Rows = append(g.Rows, []show.Cell{
			{Text: shot.ID}, {Text: wording.Lenses(lensList(lens))}, {Text: wording.Share(l.nearby.Share(shot.Same)), Tone: show.Strong},
			{Text: strings.Join(others[:min(len(others), shownInstead)], ", ")},
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
