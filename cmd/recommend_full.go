package cmd

import (
	"slices"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

// fullPage is all there is to say, in the order of use: what to set, what to find out, what else was
// looked at, and what another choice would give.
func fullPage(a *answer.Answer, p lang.Printer) show.Page {
	var out show.Page
	r := a.Recommendation
	out.Heading(r.Scenario.Name)
	out.Paragraph(strings.TrimSpace(wording.Bring(r, a.Figures) + " " + wording.InAll(r, p)))
	out.Grid(setupGrid(r, p))
	if doubts := doubtsGrid(r, p); len(doubts.Rows) > 0 {
		out.Grid(doubts)
	}
	if open := openGrid(r, p); len(open.Rows) > 0 {
		out.Paragraph(wording.TildeKey + " Over all that is plausible for them:")
		out.Grid(open)
	}
	if questions := questionsGrid(a.Figures, p); len(questions.Rows) > 0 {
		out.Heading("Find out first")
		out.Grid(questions)
		out.Paragraph("\"glassbrief catalog doctor\" with this scenario lists all of them, and how to find each out.")
	}
	out.Heading("Every lens in every shot")
	lenses, more := r.Shown(wording.MostCompared)
	for _, g := range show.MatrixGrids(r, lenses) {
		out.Grid(g)
	}
	out.Paragraph(strings.TrimSpace(show.MatrixKey + " " + wording.NotCompared(more)))
	out.Heading("Focus")
	out.Grid(show.RingGrid(r, p))
	out.Paragraph(show.RingKey)
	for i := range r.Shots {
		shot := &r.Shots[i]
		out.Heading(strings.TrimSpace("Shot " + shot.Shot.ID + "  " + shot.Shot.Title))
		out.Grid(shotGrid(shot, p))
		if rescue := a.Rescue(shot); rescue != nil {
			out.Paragraph(wording.Rescue(rescue, p))
		}
	}
	aroundBlocks(&out, a, p)
	if lacking := lackingGrid(r); len(lacking.Rows) > 0 {
		out.Heading("Left out for lack of data")
		out.Grid(lacking)
	}
	tildeKey(&out)
	out.Paragraph(wording.Limits)
	return out
}

// tildeKey says what a tilde means on a page that has one and does not say so.
func tildeKey(out *show.Page) {
	if out.Says(lang.Assumed) && !out.Says(wording.TildeKey) {
		out.Paragraph(wording.TildeKey)
	}
}

// settingColumns says how the columns of settings give way.
var settingColumns = [wording.Settings]show.Column{
	wording.FocalLength: {Right: true, Spare: 1}, // the names of lenses have it as a rule
	wording.Stop:        {Right: true},
	wording.TStop:       {Right: true, Spare: 2},
	wording.FocusAt:     {Wraps: true},
	wording.Sharp:       {Wraps: true},
	wording.ISO:         {Right: true},
	wording.ND:          {Wraps: true},
	wording.StandAt:     {Wraps: true},
}

// questionsGrid lists the assumed figures that settle most.
func questionsGrid(f *sure.Figures, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "figure", Wraps: true}, {Title: "taken as", Right: true}, {Title: "it lies in", Wraps: true, Spare: 1}, {Title: "what it does", Wraps: true}}}
	asked := wording.Questions(f)
	for i := range asked {
		middle, between := wording.Taken(asked[i].Assumption, p)
		g.Rows = append(g.Rows, []show.Cell{{Text: wording.Figure(&asked[i])}, {Text: middle}, {Text: between}, {Text: wording.Otherwise(&asked[i], p)}})
	}
	return g
}

// setupGrid is what to dial in, shot by shot.
func setupGrid(r *engine.Recommendation, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "shot"}, {Title: "lens", Wraps: true}}}
	shown := settingsOf(r, p)
	for _, setting := range shown {
		column := settingColumns[setting]
		column.Title = setting.String()
		g.Columns = append(g.Columns, column)
	}
	g.Columns = append(g.Columns, show.Column{Title: "score", Wraps: true})
	for i := range r.Shots {
		shot := &r.Shots[i]
		row := []show.Cell{{Text: shot.Shot.ID}, {Text: "none does it", Tone: show.Bad}}
		if j := shot.Use; j == nil {
			row = append(append(row, make([]show.Cell, len(shown))...), show.Cell{Text: engine.Out.String(), Tone: show.Bad})
		} else {
			row[1] = show.Cell{Text: wording.OfLens(j, func(j *engine.Judgement) string { return wording.LensAt(j, p) }), Tone: show.Strong}
			for _, setting := range shown {
				row = append(row, show.Cell{Text: wording.OfLens(j, func(j *engine.Judgement) string { return setting.In(j, p) })})
			}
			row = append(row, show.Cell{Text: wording.Score(j), Tone: verdictTones[j.Verdict()]})
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// settingsOf lists the settings that some shot has.
func settingsOf(r *engine.Recommendation, p lang.Printer) []wording.Setting {
	var all []wording.Setting
	for s := range wording.Settings {
		if slices.ContainsFunc(r.Shots, func(shot engine.ShotAnswer) bool { return shot.Use != nil && s.In(shot.Use, p) != "" }) {
			all = append(all, s)
		}
	}
	return all
}

var verdictTones = [...]show.Tone{engine.Good: show.Good, engine.Fair: show.NoTone, engine.Poor: show.Warn, engine.Out: show.Bad}

// doubtsGrid says what the shots lack that are not good or not done whole.
func doubtsGrid(r *engine.Recommendation, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "shot"}, {Title: "verdict", Wraps: true}}, Untitled: true}
	for i := range r.Shots {
		if doubt := wording.Doubt(&r.Shots[i], p); doubt != "" {
			g.Rows = append(g.Rows, []show.Cell{{Text: r.Shots[i].Shot.ID}, {Text: doubt}})
		}
	}
	return g
}

// openGrid says where what is dialled in lies that rests on assumed figures.
func openGrid(r *engine.Recommendation, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "shot"}, {Title: "lies between", Wraps: true}}, Untitled: true}
	for i := range r.Shots {
		if j := r.Shots[i].Use; j != nil {
			if open := wording.Open(j, p); open != "" {
				g.Rows = append(g.Rows, []show.Cell{{Text: r.Shots[i].Shot.ID}, {Text: open}})
			}
		}
	}
	return g
}

// shotGrid lists the best lenses of a shot with the reason for the place of each.
func shotGrid(shot *engine.ShotAnswer, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "lens"}, {Title: "score"}, {Title: "why", Wraps: true}}}
	shown := shot.Foremost(wording.ShownBehind)
	for i, j := range shown {
		mark, why := show.NoTone, ""
		switch {
		case i > 0:
			why = wording.OfLenses(j, shown[0], func(j, reference *engine.Judgement) string { return wording.WhyNot(j, reference, p) })
		case j == shot.Use:
			mark, why = show.Good, "in the kit: "+wording.OfLens(j, func(j *engine.Judgement) string { return wording.Strengths(j, p) })
		default:
			mark, why = show.Bad, wording.OfLens(j, func(j *engine.Judgement) string { return wording.WhyNot(j, nil, p) })
		}
		g.Rows = append(g.Rows, []show.Cell{{Text: j.Lens, Tone: mark}, {Text: wording.Score(j)}, {Text: why}})
	}
	return g
}

// runnersGrid says what the kits behind the best would lose, and where.
func runnersGrid(a *answer.Answer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "kit", Wraps: true}, {Title: "score", Right: true}, {Title: "loses most", Wraps: true}}}
	if a.Tastes != nil {
		g.Columns = append(g.Columns, show.Column{Title: "best for", Right: true})
	}
	for i := range a.Runners {
		k := &a.Runners[i]
		row := []show.Cell{{Text: strings.Join(k.Lenses, ", ")}, {Text: wording.KitScore(a.Recommendation, k)}, {Text: wording.LosesMost(a.Recommendation, k)}}
		if a.Tastes != nil {
			row = append(row, show.Cell{Text: wording.TasteOf(k, a.Tastes)})
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// lackingGrid lists the lenses that stay out because too little is known of them, or because what a
// limit asks for is not.
func lackingGrid(r *engine.Recommendation) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "lens"}, {Title: "the catalogue lacks its", Wraps: true}}}
	for _, out := range r.LeftOut {
		g.Rows = append(g.Rows, []show.Cell{{Text: out.Lens}, {Text: wording.LeftOut(&out)}})
	}
	return g
}
