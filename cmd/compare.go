package cmd

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"glassbrief/cmd/report"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/engine/compare"
	"glassbrief/engine/facts"
	"glassbrief/engine/schedule"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// compare is the verb for whoever reviews a changed scenario.
func (a *app) compare() *cobra.Command {
	var camera string
	var all bool
	c := &cobra.Command{
		Use:   "compare OLD NEW | BASE OURS THEIRS",
		Short: "what a changed scenario does to the plan, and why",
		Long: `Reads two versions of a scenario with all that they name, and says what they say
otherwise (120cm for 1.2m is no change), what that does to the kit, to the setup
of each shot and to the order of the lenses, and because of which changes. Shots
are matched by name, then by title. A version is a file, or REVISION:FILE as git
has it. It ends with 1 when the plan changes. JSON holds the first ten lenses of
each ranking and those of the kit, with --all every one.

Of three versions the first is what the other two come from. It says what each
changes, what both change and where they contradict each other, and what the
brief with the changes of both recommends beside what each does. It ends with 1
when they contradict each other, when the brief with both cannot be read, and
when its plan is that of neither.

Of two files of choices it says in which shots which lens was taken otherwise,
and ends with 1 when there is one.`,
		Example: `  glassbrief compare HEAD:night-ferry.scenario night-ferry.scenario
  glassbrief compare main:night-ferry.scenario HEAD:night-ferry.scenario \
    --as markdown
  glassbrief compare HEAD:night-ferry.scenario night-ferry.scenario \
    --as html -o review.html
  glassbrief compare base.scenario mine.scenario hers.scenario
  glassbrief compare HEAD:night-ferry.choices night-ferry.choices`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 2 || len(args) == 3 {
				return nil
			}
			return usage(lang.MissingValue, "%q takes two or three versions of a scenario, not %d", c.CommandPath(), len(args)).
				because("Name files, or as git does: HEAD~1:night-ferry.scenario night-ferry.scenario")
		},
		RunE: func(c *cobra.Command, args []string) error {
			if slices.ContainsFunc(args, isChoices) {
				for _, flag := range []string{"camera", "all"} {
					if c.Flags().Changed(flag) {
						return usage(lang.Contradiction, "\"--%s\" is for scenarios, and a file of choices is compared", flag).because("Leave it out.")
					}
				}
				return a.compareChoices(c.Context(), args)
			}
			o := engine.Options{Camera: camera, Hold: answer.Ranked}
			if len(args) == 3 {
				return a.review(c.Context(), args, o)
			}
			var r *compare.Comparison
			err := a.withVersion(c.Context(), args[0], func(oldText *lang.Source, oldFiles brief.Files) error {
				return a.withVersion(c.Context(), args[1], func(newText *lang.Source, newFiles brief.Files) (err error) {
					r, err = compare.Compare(c.Context(), compare.Side{Source: oldText, Files: oldFiles},
						compare.Side{Source: newText, Files: newFiles}, o)
					return err
				})
			})
			if err != nil {
				return err
			}
			a.reportWarnings(r.Warnings)
			if err := a.show(view{
				data: travel.Comparison(r, args, all),
				page: func(p lang.Printer) show.Page { return comparePage(r, args, p) },
				html: func(w io.Writer) error {
					return report.Writer{Printer: a.printer()}.Comparison(w, comparePage(r, args, a.printer()), r)
				},
			}); err != nil {
				return err
			}
			if !r.SamePlan() {
				return errNo
			}
			return nil
		},
	}
	c.Flags().BoolVar(&all, "all", false, "every lens in every ranking of JSON, not the first ten and the kit")
	c.Flags().StringVar(&camera, "camera", "", "judge on this candidate `camera` of both, not on the first")
	return c
}

func comparePage(r *compare.Comparison, names []string, p lang.Printer) (out show.Page) {
	defer tildeKey(&out)
	out.Heading(fmt.Sprintf("%s: %s against %s", r.New.Scenario.Name, names[1], names[0]))
	switch {
	case len(r.Changes) == 0:
		out.Paragraph("The briefs say the same. " + wording.Bring(r.New, r.Figures) + " " + wording.InAll(r.New, p))
		return out
	case r.SamePlan():
		out.Paragraph("The plan stays the same. " + wording.Bring(r.New, r.Figures) + " " + wording.InAll(r.New, p))
	default:
		out.Paragraph("The plan changes. " + wording.Bring(r.New, r.Figures) + " " + wording.InAll(r.New, p))
	}
	out.Heading("What changed in the brief")
	out.Grid(briefChangesGrid(r))
	if grid := effectsGrid(r, p); len(grid.Rows) > 0 {
		out.Heading("What it does")
		out.Grid(grid)
	}
	d := r.Days
	moves := d != nil && (len(d.Moved) > 0 || wording.Work(d.Old) != wording.Work(d.New) || d.Old.Cost != d.New.Cost)
	switch idle := r.Idle(); {
	case len(idle) == len(r.Changes) && len(r.Effects) == 0 && moves:
		out.Paragraph("As of one unit in one day, nothing of that moves a lens or a setup.")
	case len(idle) == len(r.Changes) && len(r.Effects) == 0:
		out.Paragraph("Nothing of that moves a lens or a setup.")
	case len(idle) > 0:
		out.Paragraph(fmt.Sprintf("No part in that: %s.", changeNumbers(idle)))
	}
	if moves {
		out.Heading("What changes, moves and hire take")
		out.Grid(daysChangeGrid(r, p))
		out.Paragraph(wording.MovedShots(r, p) + wording.PlansCutShort(r))
	}
	return out
}

// longestShown bounds what a table quotes from a brief.
const longestShown = 60

func shorten(text string) string {
	if runes := []rune(text); len(runes) > longestShown {
		return string(runes[:longestShown-1]) + "…"
	}
	return text
}

func briefChangesGrid(r *compare.Comparison) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "no", Right: true}, {Title: "what", Wraps: true}, {Title: "before", Wraps: true}, {Title: "now", Wraps: true}}}
	for i := range r.Changes {
		g.Rows = append(g.Rows, append([]show.Cell{{Text: fmt.Sprint(i + 1)}}, changeCells(&r.Changes[i])...))
	}
	return g
}

// changeCells says what is changed, and what stood and stands there.
func changeCells(c *compare.Edit) []show.Cell {
	return []show.Cell{{Text: changeName(c), Tone: show.Strong}, {Text: shorten(absent(c.Old))}, {Text: shorten(absent(c.New))}}
}

func absent(text string) string {
	if text == "" {
		return "–"
	}
	return text
}

// changeName says what is changed and how, where the two values do not tell.
func changeName(c *compare.Edit) string {
	what := strings.TrimSpace(c.Block + " " + c.Field)
	switch c.Kind {
	case compare.Reordered:
		return "order of the shots"
	case compare.Renamed:
		word, _, _ := strings.Cut(c.Block, " ")
		return word + " renamed"
	case compare.Added, compare.Removed:
		if c.Field == "" {
			word, _, _ := strings.Cut(c.Block, " ")
			return word + " " + c.Kind.String()
		}
	case compare.Changed:
		if c.Field == "scene" {
			return c.Block + " moved to another scene"
		}
	}
	return what
}

// changeNumbers lists changes by their numbers in the table.
func changeNumbers(places []int) string {
	if places == nil {
		return "all of it together"
	}
	numbers := make([]string, len(places))
	for i, at := range places {
		numbers[i] = fmt.Sprint(at + 1)
	}
	return wording.List(numbers, "and")
}

func effectsGrid(r *compare.Comparison, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "what", Wraps: true}, {Title: "before", Wraps: true}, {Title: "now", Wraps: true}, {Title: "because of", Wraps: true}}}
	add := func(what, before, now, because string) {
		g.Rows = append(g.Rows, []show.Cell{{Text: what, Tone: show.Strong}, {Text: before}, {Text: now}, {Text: because}})
	}
	for _, effect := range r.Effects {
		because := changeNumbers(effect.Because)
		switch effect.Of {
		case compare.Camera:
			add("camera", r.Old.Camera.Name.Value, r.New.Camera.Name.Value, because)
		case compare.Kit:
			add("kit", kitText(r.Old), kitText(r.New), because)
		case compare.Setup:
			before, now := setupTexts(r.Shots[effect.Shot], p)
			add("shot "+r.Shots[effect.Shot].New.Shot.ID, before, now, because)
		case compare.Ranking:
			shot := r.Shots[effect.Shot]
			add("lenses for "+shot.New.Shot.ID, topText(shot.Old), topText(shot.New)+fallen(shot, p), because)
		}
	}
	for _, shot := range r.Shots {
		switch {
		case shot.Old == nil:
			add("shot "+shot.New.Shot.ID, "–", setupText(shot.New.Use, p), "it is new")
		case shot.New == nil:
			add("shot "+shot.Old.Shot.ID, setupText(shot.Old.Use, p), "–", "it is gone")
		}
	}
	return g
}

// daysChangeGrid sets the plans of the days beside each other.
func daysChangeGrid(r *compare.Comparison, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "what", Wraps: true}, {Title: "before", Right: true}, {Title: "now", Right: true}}}
	for _, row := range []struct {
		what string
		of   func(*schedule.Plan, *engine.Recommendation) string
	}{
		{"changes of lens", func(d *schedule.Plan, _ *engine.Recommendation) string { return fmt.Sprint(d.Changes) }},
		{"other changes of set-up", func(d *schedule.Plan, _ *engine.Recommendation) string { return fmt.Sprint(d.Adjustments) }},
		{"minutes of changes and moves", func(d *schedule.Plan, _ *engine.Recommendation) string { return wording.InMinutes(d.Minutes) }},
		{"hire", func(d *schedule.Plan, of *engine.Recommendation) string {
			if d.Cost == 0 {
				return "none"
			}
			return p.Quantity(d.Cost, of.Scenario.Limits.Currency)
		}},
		{"shots not done", func(d *schedule.Plan, _ *engine.Recommendation) string { return fmt.Sprint(len(d.Left)) }},
	} {
		g.Rows = append(g.Rows, []show.Cell{{Text: row.what, Tone: show.Strong}, {Text: row.of(r.Days.Old, r.Old)}, {Text: row.of(r.Days.New, r.New)}})
	}
	return g
}

func kitText(r *engine.Recommendation) string {
	if len(r.Kit.Lenses) == 0 {
		return "nothing"
	}
	return wording.List(r.Kit.Lenses, "and")
}

// dialled are the settings of a shot with what stands before their values.
var dialled = []struct {
	wording.Setting
	before string
}{{wording.StandAt, "stand at "}, {wording.Stop, ""}, {wording.FocusAt, "focus "}, {wording.ISO, "ISO "}, {wording.ND, "with "}}

// A saying says something of a lens in a shot.
type saying func(*engine.Judgement, lang.Printer) string

// marked says it with the numbers marked that rest on assumed figures.
func (say saying) marked(use *engine.Judgement, p lang.Printer) string {
	return wording.OfLens(use, func(use *engine.Judgement) string { return say(use, p) })
}

// dialledText writes a place of dialled; "" where there is nothing to set.
func dialledText(place int) saying {
	return func(use *engine.Judgement, p lang.Printer) string {
		switch value := dialled[place].In(use, p); {
		case value == "":
			return ""
		case dialled[place].Setting == wording.ND && !(use.Fact(facts.ND) > 0):
			return "no ND"
		default:
			return dialled[place].before + value
		}
	}
}

func setupText(use *engine.Judgement, p lang.Printer) string {
	if use == nil {
		return "no lens does it"
	}
	parts := []string{saying(wording.LensAt).marked(use, p)}
	for place := range dialled {
		if text := dialledText(place).marked(use, p); text != "" {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, ", ")
}

// setupTexts gives the setups of a shot, of two with one lens only what differs.
func setupTexts(shot compare.Shots, p lang.Printer) (before, now string) {
	old, new := shot.Old.Use, shot.New.Use
	if old == nil || new == nil || wording.LensAt(old, p) != wording.LensAt(new, p) {
		return setupText(old, p), setupText(new, p)
	}
	var was, is []string
	for place := range dialled {
		if say := dialledText(place); say(old, p) != say(new, p) {
			was, is = append(was, say.marked(old, p)), append(is, say.marked(new, p))
		}
	}
	return strings.Join(was, ", "), strings.Join(is, ", ")
}

// topLenses is how many lenses of a ranking a table shows.
const topLenses = 3

// topText lists the best lenses of a shot with their scores.
func topText(a *engine.ShotAnswer) string {
	var names []string
	for i := range a.Ranking {
		if j := &a.Ranking[i]; j.Standing == engine.Judged && len(names) < topLenses {
			names = append(names, fmt.Sprintf("%s %s%.2f", j.Lens, wording.Tilde(j.ScoreRests()), j.Score))
		}
	}
	if names == nil {
		return "none"
	}
	return strings.Join(names, ", ")
}

// fallen says why the best lens of before can no longer do a shot.
func fallen(shot compare.Shots, p lang.Printer) string {
	if len(shot.Old.Ranking) == 0 || shot.Old.Ranking[0].Standing != engine.Judged {
		return ""
	}
	j := shot.New.Find(shot.Old.Ranking[0].Lens)
	if j == nil || j.Standing == engine.Judged {
		return ""
	}
	return fmt.Sprintf("; %s is out: %s", j.Lens, saying(whyOut).marked(j, p))
}

func whyOut(j *engine.Judgement, p lang.Printer) string { return wording.WhyNot(j, nil, p) }
