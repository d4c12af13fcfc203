package cmd

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/taste"
	"glassbrief/lang"
)

// askMore works out what is asked for beyond an answer: with tastes for which the kit is the best, and
// with briefs above 0 how sure it is, by so many nearby briefs.
func (a *app) askMore(ctx context.Context, whole *answer.Answer, briefs int, tastes bool) error {
	if tastes {
		bar := a.progress("for which tastes the kit is the best")
		err := whole.ForWhom(ctx, bar.step)
		if bar.end(); err != nil {
			return err
		}
	}
	if briefs == 0 {
		return nil
	}
	bar := a.progress("%d nearby briefs", briefs)
	err := whole.HowSure(ctx, briefs, bar.step)
	if bar.end(); err != nil {
		return err
	}
	bar = a.progress("what hurts the kit most")
	err = whole.WhatHurts(ctx, bar.step)
	if bar.end(); err != nil {
		return err
	}
	bar = a.progress("what changes the kit first")
	defer bar.end()
	return whole.WhatFirst(ctx, bar.step)
}

// aroundBlocks adds what stands beside the answer to its page.
func aroundBlocks(out *show.Page, r *answer.Answer, p lang.Printer) {
	if len(r.Runners) > 0 {
		out.Heading("Kits behind it")
		out.Grid(runnersGrid(r))
		if r.Neighbours {
			out.Paragraph("The first of these are the best of the kits that differ from it by one lens.")
		}
	}
	if len(r.Sizes) > 1 {
		out.Heading("With one lens fewer, and with one more")
		out.Grid(sizesGrid(r, p))
	}
	if r.Second != nil {
		out.Heading("What decides")
		out.Paragraph(wording.Second(r.Second, r.Recommendation))
	}
	if g := swapsGrid(r, p); len(g.Rows) > 0 {
		out.Heading("Changes of set-up through the day")
		out.Grid(g)
		out.Paragraph("In all: " + wording.ChangesInShort(r, p) + ".")
	}
	if r.Cameras != nil {
		out.Heading("On each camera")
		out.Grid(camerasGrid(r, p))
		out.Paragraph(wording.Cameras(r.Cameras, r.Best))
	}
	if r.Nearby != nil {
		out.Heading("How sure it is")
		out.Paragraph(wording.Nearby(r.Nearby, r.Recommendation))
		out.Paragraph(wording.Hurts(r.Hurts, r.Nearby))
		if g := hurtsGrid(r); len(g.Rows) > 1 {
			out.Grid(g)
		}
		out.Paragraph(wording.Drawn(r.Nearby, r.Scenario, p))
		out.Paragraph(wording.SameKit(r.Nearby, r.Recommendation) + " " + wording.Flip(r.Flip, r.Scenario, p))
		out.Grid(nearbyGrid(r))
	}
	if r.Tastes != nil {
		tastesBlock(out, r.Tastes)
	}
}

// tastesBlock adds for which tastes which kit is the best.
func tastesBlock(out *show.Page, s *taste.Shares) {
	out.Heading("For which tastes")
	out.Paragraph(wording.Tastes(s))
	g := show.Grid{Columns: []show.Column{
		{Title: "kit", Wraps: true}, {Title: "all weightings", Right: true}, {Title: "half to double", Right: true},
		{Title: "central weights (in force)", Wraps: true}, {Title: "with set-ups sought anew", Wraps: true},
	}}
	for i, share := range append(s.Kits[:1:1], s.Rivals(listedRivals)...) {
		mark := show.NoTone
		if i == 0 {
			mark = show.Strong
		}
		g.Rows = append(g.Rows, []show.Cell{
			{Text: wording.Lenses(share.Lenses), Tone: mark}, {Text: wording.Share(float64(share.All) / float64(s.Draws))}, {Text: wording.Share(float64(share.Near) / float64(s.Draws))},
			{Text: wording.CentralWeights(&share, s.Criteria)}, {Text: wording.SolvedAnew(&share)},
		})
	}
	out.Grid(g)
	out.Paragraph(wording.HeldTastes(s))
}

// listedRivals is how many other kits are listed.
const listedRivals = 3

func sizesGrid(r *answer.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{
		{Title: "carry", Right: true}, {Title: "kit", Wraps: true}, {Title: "score", Right: true},
		{Title: "not covered", Wraps: true}, {Title: "changes", Right: true, Spare: 1}, {Title: "mass", Right: true, Spare: 2},
	}}
	for i := range r.Sizes {
		k := &r.Sizes[i].Kit
		mark := show.NoTone
		if r.Sizes[i].Carry == r.Scenario.Limits.Carry {
			mark = show.Strong
		}
		g.Rows = append(g.Rows, []show.Cell{
			{Text: fmt.Sprint(r.Sizes[i].Carry)}, {Text: strings.Join(k.Lenses, ", "), Tone: mark}, {Text: wording.KitScore(r.Recommendation, k)},
			{Text: strings.Join(k.Uncovered, ", ")}, {Text: fmt.Sprint(k.Swaps)}, {Text: wording.KitMass(r.Recommendation, k, p)},
		})
	}
	return g
}

// swapsGrid lists the changes of set-up in shooting order with what each takes on the rig.
func swapsGrid(r *answer.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "before"}, {Title: "change", Wraps: true}, {Title: "minutes", Right: true}}}
	for i, said := range wording.SetupChanges(&r.Changes, p) {
		g.Rows = append(g.Rows, []show.Cell{{Text: r.Changes.All[i].Before.ID}, {Text: said[0]}, {Text: said[1]}})
	}
	return g
}

// camerasGrid sets the kits of the cameras side by side, and what each shows in each shot.
func camerasGrid(r *answer.Answer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: ""}}}
	lines := []struct {
		name string
		of   func(c *engine.Candidate) string
	}{
		{"kit", func(c *engine.Candidate) string { return strings.Join(c.Kit.Lenses, ", ") }},
		{"score", wording.CandidateScore},
		{"not covered", func(c *engine.Candidate) string { return strings.Join(c.Kit.Uncovered, ", ") }},
		{"lens changes", func(c *engine.Candidate) string { return fmt.Sprint(c.Kit.Swaps) }},
		{"mass of glass", func(c *engine.Candidate) string { return wording.KitMass(r.Recommendation, &c.Kit, p) }},
	}
	rows := make([][]show.Cell, len(lines))
	for i, line := range lines {
		rows[i] = []show.Cell{{Text: line.name}}
	}
	shots := make([][]show.Cell, len(r.Scenario.Shots))
	for i, shot := range r.Scenario.Shots {
		shots[i] = []show.Cell{{Text: shot.ID}}
	}
	for n := range r.Cameras {
		c := &r.Cameras[n]
		title, mark := c.Camera.Name.Value, show.NoTone
		if n == r.Best {
			title, mark = title+" (best)", show.Strong
		}
		g.Columns = append(g.Columns, show.Column{Title: title, Wraps: true})
		for i, line := range lines {
			rows[i] = append(rows[i], show.Cell{Text: line.of(c), Tone: mark})
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
	return show.Cell{Text: wording.OfLens(use, func(use *engine.Judgement) string {
		width, height := use.Field()
		return fmt.Sprintf("%s, %.2f: %s x %s", wording.LensAt(use, p), use.Score, p.Quantity(width, "m"), p.Quantity(height, "m"))
	})}
}

// hurtsGrid lists what hurts the kit most by itself.
func hurtsGrid(r *answer.Answer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "what may turn out otherwise", Wraps: true}, {Title: "undone", Right: true}, {Title: "loses", Right: true}}}
	for _, h := range wording.ShownHurts(r.Hurts) {
		g.Rows = append(g.Rows, []show.Cell{{Text: wording.OfCause(&h.Cause)}, {Text: wording.Share(h.Undone)}, {Text: fmt.Sprintf("%.3f", h.Loss)}})
	}
	return g
}

// nearbyGrid lists for each shot how often the kit does it, how often its lens stays, and what comes
// instead.
func nearbyGrid(r *answer.Answer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "shot"}, {Title: "lens"}, {Title: "done", Right: true}, {Title: "stays", Right: true}, {Title: "else", Wraps: true}}}
	for i := range r.Nearby.Shots {
		shot := &r.Nearby.Shots[i]
		lens := r.Kit.Uses[i]
		var others []string
		for _, o := range shot.Outcomes {
			if !slices.Equal(o.Lenses, lensList(lens)) {
				others = append(others, fmt.Sprintf("%s %s", wording.Lenses(o.Lenses), wording.Share(r.Nearby.Share(o.Briefs))))
			}
		}
		g.Rows = append(g.Rows, []show.Cell{
			{Text: shot.ID}, {Text: wording.Lenses(lensList(lens))}, {Text: wording.Share(r.Nearby.Share(shot.Done)), Tone: show.Strong},
			{Text: wording.Share(r.Nearby.Share(shot.Same))},
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
