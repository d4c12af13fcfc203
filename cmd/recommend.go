package cmd

import (
	"io"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// maxNearby bounds the nearby briefs: so many take minutes, and tell no more than a
// thousand.
const maxNearby = 100_000

// recommend is the verb that answers the main question.
func (a *app) recommend() *cobra.Command {
	var camera string
	var nearby int
	var full, all, tastes bool
	c := &cobra.Command{
		Use:   "recommend SCENARIO",
		Short: "which lenses to bring, and why",
		Long: `Judges every lens of the catalogue in every shot, chooses the kit, and prints
the answer on one screen: the lenses, what is not done whole and why, and the
set-up of each shot. With --full it adds the reasons, those of the lenses that
lost too, and what a smaller or larger kit, another camera or a slightly other
day would give. It ends with 1 when a shot is left without a lens.

JSON and CSV give the first ten lenses of each ranking and those of the kit;
"ranking_total" counts the whole. A script that reads whole rankings asks for
them with --all. So does whoever wants all of more than 100 lenses or of more
than 100 shots on a page.`,
		Example: `  glassbrief recommend night-ferry.scenario
  glassbrief recommend night-ferry.scenario --full
  glassbrief recommend night-ferry.scenario --nearby 500
  glassbrief recommend night-ferry.scenario --tastes
  glassbrief recommend night-ferry.scenario --camera "House body B"
  glassbrief recommend night-ferry.scenario -o plan.html
  glassbrief recommend night-ferry.scenario -o plan.json
  glassbrief recommend night-ferry.scenario --all -o rankings.csv`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			if nearby < 0 || nearby > maxNearby {
				return usage(lang.OutOfRange, "%d nearby briefs cannot be drawn", nearby).because("Write a number up to %d; 500 is plenty.", maxNearby)
			}
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			hold := answer.Ranked
			switch a.form.value {
			case "text", "markdown":
				if !full {
					hold = engine.KitAlone
				} else if all {
					hold = 0
				}
			case "html":
				if all {
					hold = 0
				}
			}
			bar := a.progress("judging %d lenses", len(s.Catalogue.Lenses.Names()))
			defer bar.end()
			answer, err := answer.Of(c.Context(), s, engine.Options{
				Camera: camera, Runners: answer.Runners, Hold: hold, Progress: bar.step,
			})
			if err != nil {
				return err
			}
			bar.end()
			if err := a.askMore(c.Context(), answer, nearby, tastes); err != nil {
				return err
			}
			v := view{
				page: func(p lang.Printer) show.Page {
					if full {
						return fullPage(answer, p)
					}
					return screenPage(answer, a.settings, p)
				},
				html: func(w io.Writer) error { return a.recommendReport(w, answer, all) },
			}
			switch a.form.value { // what another form would show is as large as the answer
			case "json":
				v.data = travel.Recommendation(answer, all, a.printer())
			case "csv":
				v.rows = travel.Rankings(answer.Recommendation, all, a.printer())
			}
			if err := a.show(v); err != nil {
				return err
			}
			if len(answer.Kit.Uncovered) > 0 {
				return errNo
			}
			return nil
		},
	}
	c.Flags().StringVar(&camera, "camera", "", "judge on this candidate `camera` of the scenario, not on the first")
	c.Flags().BoolVar(&full, "full", false, "all there is to say, in text and Markdown")
	c.Flags().BoolVar(&all, "all", false, "every lens in every ranking, not the first ten and the kit, and on pages every shot")
	c.Flags().BoolVar(&tastes, "tastes", false, "say for which weights of the criteria the kit is the best, and which kit for others")
	c.Flags().IntVar(&nearby, "nearby", 0, "say what the kit still covers and loses in so many nearby `briefs`")
	return c
}
