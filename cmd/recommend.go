package cmd

import (
	"io"
	"slices"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/sure"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// shownRunners is how many kits behind the best are listed.
const shownRunners = 2

// maxNearby bounds the nearby briefs: so many take minutes, and tell no more than a
// thousand.
const maxNearby = 100_000

// recommend is the verb that answers the main question.
func (a *app) recommend() *cobra.Command {
	var camera string
	var nearby int
	c := &cobra.Command{
		Use:   "recommend SCENARIO",
		Short: "which lenses to bring, and why",
		Long: `Judges every lens of the catalogue in every shot, chooses the kit, and prints
the setup for each shot and the reasons, those of the lenses that lost too; and
what a smaller or larger kit, another camera or a slightly other day would give.
It ends with 1 when a shot is left without a lens.`,
		Example: `  glassbrief recommend night-ferry.scenario
  glassbrief recommend night-ferry.scenario --nearby 500
  glassbrief recommend night-ferry.scenario --camera "House body B"
  glassbrief recommend night-ferry.scenario -o plan.html
  glassbrief recommend night-ferry.scenario -o plan.json`,
		Args:              oneFile,
		ValidArgsFunction: completeScenarios,
		RunE: func(c *cobra.Command, args []string) error {
			if nearby < 0 || nearby > maxNearby {
				return usage(lang.OutOfRange, "%d nearby briefs cannot be drawn", nearby).because("Write a number up to %d; 500 is plenty.", maxNearby)
			}
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			explain := 0 // all: they are shown
			if a.form.value == "text" || a.form.value == "markdown" {
				explain = wording.ShownBehind + 1
			}
			bar := a.progress("judging %d lenses", len(s.Catalogue.Lenses.Names()))
			defer bar.end()
			r, err := engine.Recommend(c.Context(), s, engine.Options{
				Camera: camera, Runners: shownRunners, Explain: explain, Progress: bar.step,
			})
			if err != nil {
				return err
			}
			answer, err := a.lookAround(c.Context(), r, nearby)
			if err != nil {
				return err
			}
			bar.end()
			v := view{
				page: func(p lang.Printer) show.Page { return recommendPage(answer, p) },
				html: func(w io.Writer) error { return a.recommendReport(c.Context(), w, answer, "") },
			}
			switch a.form.value { // what another form would show is as large as the answer
			case "json":
				v.data = travel.Recommendation(answer, a.printer())
			case "csv":
				v.rows = travel.Rankings(r, a.printer())
			}
			if err := a.show(v); err != nil {
				return err
			}
			if len(r.Kit.Uncovered) > 0 {
				return errNo
			}
			return nil
		},
	}
	c.Flags().StringVar(&camera, "camera", "", "judge on this candidate `camera` of the scenario, not on the first")
	c.Flags().IntVar(&nearby, "nearby", 0, "say how sure the kit is, by so many nearby `briefs`")
	return c
}

func recommendPage(a *answer.Answer, p lang.Printer) show.Page {
	var out show.Page
	r := a.Recommendation
	out.Heading(r.Scenario.Name)
	out.Paragraph(wording.Bring(r, a.Figures, p))
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
	for _, g := range show.MatrixGrids(r) {
		out.Grid(g)
	}
	out.Paragraph(show.MatrixKey)
	out.Heading("Focus")
	out.Grid(show.FocusGrid(r, p))
	out.Paragraph(show.FocusKey)
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
	if f == nil {
		return g
	}
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
func runnersGrid(r *engine.Recommendation) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "kit"}, {Title: "score", Right: true}, {Title: "loses most", Wraps: true}}}
	for i := range r.Runners {
		k := &r.Runners[i]
		g.Rows = append(g.Rows, []show.Cell{
			{Text: strings.Join(k.Lenses, ", ")}, {Text: wording.KitScore(r, k)}, {Text: wording.LosesMost(r, k)},
		})
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
