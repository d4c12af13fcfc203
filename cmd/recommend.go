package cmd

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/kit"
	"glassbrief/engine/rules"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// shownBehind is how many lenses behind the best each shot lists in text.
const shownBehind = 2

// shownRunners is how many kits behind the best are listed.
const shownRunners = 2

// recommend is the verb that answers the main question.
func (a *app) recommend() *cobra.Command {
	var camera string
	c := &cobra.Command{
		Use:   "recommend SCENARIO",
		Short: "which lenses to bring, and why",
		Long: `Judges every lens of the catalogue in every shot, chooses the kit, and prints the
setup for each shot and the reasons, those of the lenses that lost included.`,
		Example: `  glassbrief recommend night-ferry.scenario
  glassbrief recommend night-ferry.scenario --camera "House body B"
  glassbrief recommend night-ferry.scenario --as json -o plan.json`,
		Args:              oneFile,
		ValidArgsFunction: completeScenarios,
		RunE: func(c *cobra.Command, args []string) error {
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			answer, err := engine.Recommend(c.Context(), s, engine.Options{
				Camera: camera, Printer: a.printer(), Runners: shownRunners,
			})
			if err != nil {
				return a.noKit(err)
			}
			return a.show(view{
				data: recommendDataOf(answer),
				rows: recommendRowsOf(answer),
				page: func(p lang.Printer) page { return recommendPage(answer, p) },
			})
		},
	}
	c.Flags().StringVar(&camera, "camera", "", "judge on this candidate `camera` of the scenario, not on the first")
	return c
}

// noKit words the failure to find a kit.
func (a *app) noKit(err error) error {
	var limit *kit.LimitError
	if errors.As(err, &limit) {
		return usage(lang.Contradiction, "%s", limit.Reason).
			because("Loosen one of the limits: carry, bag, rent, bring, leave or owned_only in the scenario block.")
	}
	return err
}

func recommendPage(r *engine.Recommendation, p lang.Printer) page {
	var out page
	s := r.Scenario
	out.heading(s.Name)
	out.paragraph(bringSentence(r, p))
	out.grid(setupGrid(r, p))
	for i := range r.Shots {
		shot := &r.Shots[i]
		out.heading(strings.TrimSpace("Shot " + shot.Shot.ID + "  " + shot.Shot.Title))
		out.grid(shotGrid(shot))
	}
	if len(r.Runners) > 0 {
		out.heading("Kits behind it")
		out.grid(runnersGrid(r))
	}
	if lacking := lackingGrid(r); len(lacking.rows) > 0 {
		out.heading("Left out for lack of data")
		out.grid(lacking)
	}
	out.paragraph(limitsOfComputation)
	return out
}

const limitsOfComputation = "Computed for a thin lens from the figures of the catalogue; a lens test tells more. " +
	"The production's risk assessment, local codes and licensed practice come first."

// bringSentence says the answer in two sentences.
func bringSentence(r *engine.Recommendation, p lang.Printer) string {
	k := &r.Kit
	var b strings.Builder
	if len(k.Lenses) == 0 {
		fmt.Fprintf(&b, "On %s with %s, no lens that the limits allow does any shot.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value)
	} else {
		fmt.Fprintf(&b, "On %s with %s, bring %s.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value, joined(k.Lenses, "and"))
		fmt.Fprintf(&b, " Score %.2f; %s in shooting order; %s of glass", k.Mean, counted(k.Swaps, "lens change"), p.Quantity(k.Mass, "g"))
		if k.Cost > 0 {
			fmt.Fprintf(&b, "; %s a day", p.Quantity(k.Cost, r.Scenario.Limits.Currency))
		}
		b.WriteString(".")
	}
	if len(k.Uncovered) == 0 {
		b.WriteString(" Every shot is covered.")
	} else {
		fmt.Fprintf(&b, " Not covered: %s.", joined(k.Uncovered, "and"))
	}
	if !r.Proven {
		b.WriteString(" The search was cut short: a better kit may exist.")
	}
	return b.String()
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// joined writes a list as people do: "a, b and c".
func joined(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
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
		fact := func(id facts.ID) string { return show(j, id, p) }
		g.rows = append(g.rows, []cell{
			{text: shot.Shot.ID}, {text: lensAt(j, p), tone: toneStrong}, {text: fact(facts.Stop)}, {text: fact(facts.TStop)},
			{text: fact(facts.FocusMark)}, {text: fact(facts.NearLimit) + " to " + fact(facts.FarLimit)},
			{text: fact(facts.ISO)}, {text: fact(facts.ND)}, {text: fmt.Sprintf("%.2f", j.Score)},
		})
	}
	return g
}

// show writes a fact in its own unit.
func show(j *engine.Judgement, id facts.ID, p lang.Printer) string {
	fact := facts.Table()[id]
	value := j.Fact(id)
	switch {
	case id == facts.ISO && !math.IsNaN(value):
		return fmt.Sprintf("%.0f", value)
	case id == facts.ND && value == 0:
		return "none"
	}
	return p.Quantity(value, fact.Unit)
}

// lensAt names a lens, with the focal length when it is a zoom, and with its adapter.
func lensAt(j *engine.Judgement, p lang.Printer) string {
	name := j.Lens
	if j.Fact(facts.IsZoom) == 1 {
		name += " at " + p.Quantity(j.Fact(facts.FocalLength), "mm")
	}
	return name
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
		add(reference, toneGood, "in the kit: "+strengths(reference))
	} else if len(shot.Ranking) > 0 {
		reference = &shot.Ranking[0]
		add(reference, toneBad, whyNot(reference, nil))
	}
	others := 0
	for i := range shot.Ranking {
		j := &shot.Ranking[i]
		if j == reference || others == shownBehind {
			continue
		}
		others++
		add(j, toneNone, whyNot(j, reference))
	}
	return g
}

// strengths gives the reasons of the criteria that weigh most, which the reader wants to
// see confirmed.
func strengths(j *engine.Judgement) string {
	var said []string
	for _, c := range j.Criteria {
		if c.Applies && len(c.Said) > 0 && c.Weight >= 3 {
			said = append(said, c.Said[0])
		}
	}
	return strings.Join(said, "; ")
}

// whyNot says why a lens does not come before the reference.
func whyNot(j, reference *engine.Judgement) string {
	if vetoes := j.Vetoes(); len(vetoes) > 0 {
		if j.Refusal != "" {
			return j.Refusal
		}
		return vetoes[0].Reason
	}
	if j.Standing == engine.Undecided {
		return "too little is known of it: " + joined(j.Missing, "and") + " missing"
	}
	if reference == nil {
		return ""
	}
	if lost, won, ok := engine.Behind(j, reference); ok && j.Score <= reference.Score {
		return fmt.Sprintf("loses on %s, %.2f against %.2f%s", lost.Name, lost.Score, won.Score, saidBy(&lost))
	}
	if gained, over, ok := engine.Behind(reference, j); ok {
		return fmt.Sprintf("better here on %s, %.2f against %.2f, but not in the best kit", gained.Name, over.Score, gained.Score)
	}
	return "as good here, but not in the best kit"
}

// saidBy gives the reason of a criterion, or what it asks when it has no words for it.
func saidBy(f *rules.Finding) string {
	switch {
	case len(f.Said) > 0:
		return ": " + f.Said[0]
	case len(f.Scores) > 0:
		return ": " + f.Scores[0].Text()
	}
	return ""
}

// runnersGrid says what the kits behind the best would lose, and where.
func runnersGrid(r *engine.Recommendation) grid {
	g := grid{columns: []column{{title: "kit"}, {title: "score", right: true}, {title: "loses most", wraps: true}}}
	for i := range r.Runners {
		k := &r.Runners[i]
		g.rows = append(g.rows, []cell{
			{text: strings.Join(k.Lenses, ", ")}, {text: fmt.Sprintf("%.2f", k.Mean)}, {text: losesMost(r, k)},
		})
	}
	return g
}

// losesMost names the shot that costs a kit most against the best one, and on what.
func losesMost(r *engine.Recommendation, k *engine.Kit) string {
	worst, cost := -1, 0.0
	for i := range r.Shots {
		if r.Shots[i].Use == nil {
			continue
		}
		loss := r.Shots[i].Use.Score
		if j := r.Shots[i].Find(k.Uses[i]); j != nil {
			loss -= j.Score
		}
		if loss *= r.Shots[i].Shot.Weight; loss > cost {
			worst, cost = i, loss
		}
	}
	if worst < 0 {
		return "nothing but swaps or mass"
	}
	shot := &r.Shots[worst]
	j := shot.Find(k.Uses[worst])
	if j == nil {
		return "shot " + shot.Shot.ID + ", which it does not cover"
	}
	lost, won, ok := engine.Behind(j, shot.Use)
	if !ok {
		return "shot " + shot.Shot.ID
	}
	return fmt.Sprintf("shot %s with %s, on %s: %.2f against %.2f", shot.Shot.ID, j.Lens, lost.Name, lost.Score, won.Score)
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
			g.rows = append(g.rows, []cell{{text: j.Lens}, {text: joined(j.Missing, "and")}})
		}
	}
	return g
}
