package cmd

import (
	"io"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
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
	var full bool
	c := &cobra.Command{
		Use:   "recommend SCENARIO",
		Short: "which lenses to bring, and why",
		Long: `Judges every lens of the catalogue in every shot, chooses the kit, and prints
the answer on one screen: the lenses, what is not done whole and why, and the
set-up of each shot. With --full it adds the reasons, those of the lenses that
lost too, and what a smaller or larger kit, another camera or a slightly other
day would give. It ends with 1 when a shot is left without a lens.`,
		Example: `  glassbrief recommend night-ferry.scenario
  glassbrief recommend night-ferry.scenario --full
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
				explain = engine.KitsAlone
				if full {
					explain = wording.ShownBehind + 1
				}
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
				page: func(p lang.Printer) show.Page {
					if full {
						return fullPage(answer, p)
					}
					return screenPage(answer, a.settings, p)
				},
				html: func(w io.Writer) error { return a.recommendReport(w, answer) },
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
	c.Flags().BoolVar(&full, "full", false, "all there is to say, in text and Markdown")
	c.Flags().IntVar(&nearby, "nearby", 0, "say how sure the kit is, by so many nearby `briefs`")
	return c
}
