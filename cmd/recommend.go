package cmd

import (
	"fmt"
	"io"
	"strings"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// shownBehind is how many lenses behind the best each shot lists in text.
const shownBehind = 2

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
what a smaller or larger kit, another camera or a slightly other day would give.`,
		Example: `  glassbrief recommend night-ferry.scenario
  glassbrief recommend night-ferry.scenario --nearby 500
  glassbrief recommend night-ferry.scenario --camera "House body B"
  glassbrief recommend night-ferry.scenario --as html -o plan.html
  glassbrief recommend night-ferry.scenario --as json -o plan.json`,
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
				explain = shownBehind + 1
			}
			bar := a.progress("judging %d lenses", len(s.Catalogue.Lenses.Names()))
			defer bar.end()
			answer, err := engine.Recommend(c.Context(), s, engine.Options{
				Camera: camera, Printer: a.printer(), Runners: shownRunners, Explain: explain, Progress: bar.step,
			})
			if err != nil {
				return err
			}
			beside, err := a.lookAround(c.Context(), answer, nearby)
			if err != nil {
				return err
			}
			bar.end()
			v := view{
				page: func(p lang.Printer) page { return recommendPage(answer, beside, p) },
				html: func(w io.Writer) error { return a.recommendReport(c.Context(), w, beside, "") },
			}
			switch a.form.value { // what another form would show is as large as the answer
			case "json":
				v.data = recommendDataOf(answer, beside)
			case "csv":
				v.rows = recommendRowsOf(answer)
			}
			return a.show(v)
		},
	}
	c.Flags().StringVar(&camera, "camera", "", "judge on this candidate `camera` of the scenario, not on the first")
	c.Flags().IntVar(&nearby, "nearby", 0, "say how sure the kit is, by so many nearby `briefs`")
	return c
}

func recommendPage(r *engine.Recommendation, beside *around, p lang.Printer) page {
	var out page
	s := r.Scenario
	out.heading(s.Name)
	out.paragraph(wording.Bring(r, p))
	out.grid(setupGrid(r, p))
	out.heading("Every lens in every shot")
	for _, g := range matrixGrids(r) {
		out.grid(g)
	}
	out.paragraph(matrixKey)
	out.heading("Focus")
	out.grid(focusGrid(r, p))
	out.paragraph(focusKey)
	for i := range r.Shots {
		shot := &r.Shots[i]
		out.heading(strings.TrimSpace("Shot " + shot.Shot.ID + "  " + shot.Shot.Title))
		out.grid(shotGrid(shot))
	}
	beside.blocks(&out, p)
	if lacking := lackingGrid(r); len(lacking.rows) > 0 {
		out.heading("Left out for lack of data")
		out.grid(lacking)
	}
	out.paragraph(wording.Limits)
	return out
}

// setupGrid is what to dial in, shot by shot.
func setupGrid(r *engine.Recommendation, p lang.Printer) grid {
	g := grid{columns: []column{
		{title: "shot"}, {title: "lens", wraps: true}, {title: "stop", right: true}, {title: "T", right: true, spare: 2},
		{title: "focus at", right: true}, {title: "sharp", wraps: true}, {title: "ISO", right: true},
		{title: "ND", right: true}, {title: "score", right: true, spare: 1},
	}}
	for i := range r.Shots {
		shot := &r.Shots[i]
		if shot.Use == nil {
			g.rows = append(g.rows, []cell{{text: shot.Shot.ID}, {text: "none does it", tone: toneBad}, {}, {}, {}, {}, {}, {}, {}})
			continue
		}
		j := shot.Use
		fact := func(id facts.ID) string { return wording.Fact(j, id, p) }
		g.rows = append(g.rows, []cell{
			{text: shot.Shot.ID}, {text: wording.LensAt(j, p), tone: toneStrong}, {text: fact(facts.Stop)}, {text: fact(facts.TStop)},
			{text: fact(facts.FocusMark)}, {text: fact(facts.NearLimit) + " to " + fact(facts.FarLimit)},
			{text: fact(facts.ISO)}, {text: fact(facts.ND)}, {text: fmt.Sprintf("%.2f", j.Score)},
		})
	}
	return g
}

// shotGrid lists the best lenses of a shot with the reason for the place of each.
func shotGrid(shot *engine.ShotAnswer) grid {
	g := grid{columns: []column{{title: "lens"}, {title: "score", right: true}, {title: "why", wraps: true}}}
	add := func(j *engine.Judgement, mark tone, why string) {
		score := fmt.Sprintf("%.2f", j.Score)
		if j.Standing != engine.Judged {
			score = "out"
		}
		g.rows = append(g.rows, []cell{{text: j.Lens, tone: mark}, {text: score}, {text: why}})
	}
	reference := shot.Use
	if reference != nil {
		add(reference, toneGood, "in the kit: "+wording.Strengths(reference))
	} else if len(shot.Ranking) > 0 {
		reference = &shot.Ranking[0]
		add(reference, toneBad, wording.WhyNot(reference, nil))
	}
	others := 0
	for i := range shot.Ranking {
		j := &shot.Ranking[i]
		if j == reference || others == shownBehind {
			continue
		}
		others++
		add(j, toneNone, wording.WhyNot(j, reference))
	}
	return g
}

// runnersGrid says what the kits behind the best would lose, and where.
func runnersGrid(r *engine.Recommendation) grid {
	g := grid{columns: []column{{title: "kit"}, {title: "score", right: true}, {title: "loses most", wraps: true}}}
	for i := range r.Runners {
		k := &r.Runners[i]
		g.rows = append(g.rows, []cell{
			{text: strings.Join(k.Lenses, ", ")}, {text: fmt.Sprintf("%.2f", k.Mean)}, {text: wording.LosesMost(r, k)},
		})
	}
	return g
}

// lackingGrid lists the lenses that stay out because too little is known of them.
func lackingGrid(r *engine.Recommendation) grid {
	g := grid{columns: []column{{title: "lens"}, {title: "the catalogue lacks its", wraps: true}}}
	seen := map[string]bool{}
	for i := range r.Shots {
		for k := range r.Shots[i].Ranking {
			j := &r.Shots[i].Ranking[k]
			if j.Standing != engine.Undecided || seen[j.Lens] {
				continue
			}
			seen[j.Lens] = true
			g.rows = append(g.rows, []cell{{text: j.Lens}, {text: wording.List(j.Missing, "and")}})
		}
	}
	return g
}
