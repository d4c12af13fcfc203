package cmd

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/engine/why"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// why is the verb that shows all that is behind one judgement.
func (a *app) why() *cobra.Command {
	var q whyQuestion
	c := &cobra.Command{
		Use:   "why SCENARIO --shot ID",
		Short: "all that is behind one judgement, and what would change it",
		Long: `Shows how one lens comes to its place in one shot: what would change it, the
criteria with their weights, each rule with the values put in, and every fact
with its formula and source. Without --lens it takes the lens of the kit; the
lens to compare with is the best other one, unless --against names it.`,
		Example: `  glassbrief why night-ferry.scenario --shot 4A
  glassbrief why night-ferry.scenario --shot 4A --lens "Wide 24"
  glassbrief why night-ferry.scenario --shot 9A --against "Zoom 24-70"`,
		Args:              oneFile,
		ValidArgsFunction: completeScenarios,
		RunE: func(c *cobra.Command, args []string) error {
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			answer, err := engine.Recommend(c.Context(), s, engine.Options{Camera: q.camera})
			if err != nil {
				return err
			}
			reasons, err := q.answer(answer)
			if err != nil {
				return err
			}
			return a.show(view{
				data: whyDataOf(reasons, a.printer()),
				page: func(p lang.Printer) show.Page { return whyPage(reasons, p) },
			})
		},
	}
	c.Flags().SortFlags = false
	c.Flags().StringVar(&q.shot, "shot", "", "the shot by its `id`")
	c.Flags().StringVar(&q.lens, "lens", "", "the lens by its `name`; that of the kit unless given")
	c.Flags().StringVar(&q.against, "against", "", "compare with this `lens`; the best other one unless given")
	c.Flags().StringVar(&q.camera, "camera", "", "judge on this candidate `camera` of the scenario, not on the first")
	return c
}

// A whyQuestion is what the flags ask about.
type whyQuestion struct{ shot, lens, against, camera string }

// reasons is all that is behind one judgement.
type reasons struct {
	recommendation *engine.Recommendation
	shot           *engine.ShotAnswer
	lens           *engine.Judgement
	against        *engine.Judgement // nil when there is no other
	trace          []rules.Trace
	turns          []turn
}

// A turn is something that would be otherwise, and the changes that bring it about.
type turn struct {
	to      string
	lenses  []*catalog.Lens // that it is about, the one that gains first
	changes []why.Change
}

func (q *whyQuestion) answer(r *engine.Recommendation) (*reasons, error) {
	shot, err := q.findShot(r)
	if err != nil {
		return nil, err
	}
	w := &reasons{recommendation: r, shot: shot, lens: shot.Use}
	if w.lens == nil && len(shot.Ranking) > 0 {
		w.lens = &shot.Ranking[0]
	}
	if q.lens != "" {
		if w.lens, err = findLens(shot, "lens", q.lens); err != nil {
			return nil, err
		}
	}
	if q.against != "" {
		if w.against, err = findLens(shot, "against", q.against); err != nil {
			return nil, err
		}
	} else {
		w.against = bestOther(shot, w.lens)
	}
	w.trace = shot.Shot.Rules.Trace(w.lens.Facts)
	w.turn()
	return w, nil
}

func (q *whyQuestion) findShot(r *engine.Recommendation) (*engine.ShotAnswer, error) {
	var ids []string
	for i := range r.Shots {
		ids = append(ids, r.Shots[i].Shot.ID)
		if ids[i] == q.shot {
			return &r.Shots[i], nil
		}
	}
	if q.shot == "" {
		return nil, usage(lang.MissingValue, "\"--shot\" is missing").because("It names one of the shots %s.", lang.Quoted(ids))
	}
	return nil, usage(lang.UnknownName, "there is no shot %q", q.shot).or(lang.Nearest(q.shot, ids)).
		because("The shots are %s.", lang.Quoted(ids))
}

func findLens(shot *engine.ShotAnswer, flag, name string) (*engine.Judgement, error) {
	if j := shot.Find(name); j != nil {
		return j, nil
	}
	var names []string
	for i := range shot.Ranking {
		names = append(names, shot.Ranking[i].Lens)
	}
	return nil, usage(lang.UnknownName, "the catalogue has no lens %q, which \"--%s\" names", name, flag).
		or(lang.Nearest(name, names)).because("\"glassbrief catalog list\" shows the names.")
}

// bestOther gives the best lens beside one that can do the shot, or nil.
func bestOther(shot *engine.ShotAnswer, lens *engine.Judgement) *engine.Judgement {
	for i := range shot.Ranking {
		if j := &shot.Ranking[i]; j != lens && j.Standing == engine.Judged {
			return j
		}
	}
	return nil
}

// turn looks for what would turn the judgement.
func (w *reasons) turn() {
	r, shot := w.recommendation, w.shot.Shot
	lenses := &r.Scenario.Catalogue.Lenses
	lens, _ := lenses.Lookup(w.lens.Lens)
	if w.lens.Standing == engine.Excluded {
		w.turns = append(w.turns, turn{
			to: fmt.Sprintf("%s would not be excluded", w.lens.Lens), lenses: []*catalog.Lens{lens},
			changes: why.Changes(r.Scenario, r.Camera, shot, why.Lifted(r.Scenario, r.Camera, lens)),
		})
	}
	if w.against == nil || w.against == w.lens {
		return
	}
	behind, ahead := w.lens, w.against
	if behind.Standing < ahead.Standing || behind.Standing == ahead.Standing && behind.Score > ahead.Score {
		behind, ahead = ahead, behind
	}
	loser, _ := lenses.Lookup(behind.Lens)
	winner, _ := lenses.Lookup(ahead.Lens)
	w.turns = append(w.turns, turn{
		to: fmt.Sprintf("%s would come before %s", behind.Lens, ahead.Lens), lenses: []*catalog.Lens{loser, winner},
		changes: why.Changes(r.Scenario, r.Camera, shot, why.Overtakes(r.Scenario, r.Camera, loser, winner)),
	})
}

func whyPage(w *reasons, p lang.Printer) show.Page {
	var out show.Page
	shot := w.shot.Shot
	out.Heading(strings.TrimSpace("Shot "+shot.ID+"  "+shot.Title) + ": " + wording.LensAt(w.lens, p))
	out.Paragraph(w.verdict(p))
	for _, turn := range w.turns {
		out.Heading(turn.to)
		if len(turn.changes) == 0 {
			out.Paragraph("No change of distance, light, highest ISO, speed or accessories alone brings that about.")
			continue
		}
		out.Grid(changesGrid(&turn, w.recommendation.Camera, p))
	}
	out.Heading("Criteria")
	out.Grid(criteriaGrid(w, p))
	out.Paragraph("The score is the product of the criteria's scores, each to the power of its share of the weight.")
	out.Heading("Rules, with the values put in")
	out.Grid(rulesGrid(w.trace, p))
	out.Heading("Facts")
	out.Grid(factsGrid(w, p))
	out.Paragraph(wording.Limits)
	return out
}

// verdict says where the lens stands.
func (w *reasons) verdict(p lang.Printer) string {
	j := w.lens
	on := fmt.Sprintf("On %s, %s ", w.recommendation.Camera.Name.Value, j.Lens)
	switch j.Standing {
	case engine.Excluded:
		if j.Refusal != "" {
			return on + "is excluded: " + j.Refusal + "."
		}
		return on + "is excluded: " + strings.Join(wording.Vetoes(j.Vetoes(), p), "; ") + "."
	case engine.Undecided:
		return fmt.Sprintf("%sis undecided: only %s of what it is judged by is known; the catalogue lacks its %s.",
			on, p.Quantity(j.Known, "%"), wording.List(j.Missing, "and"))
	}
	place, able := 0, 0
	for i := range w.shot.Ranking {
		if w.shot.Ranking[i].Standing != engine.Judged {
			break
		}
		able++
		if &w.shot.Ranking[i] == j {
			place = able
		}
	}
	text := fmt.Sprintf("%sscores %.3f, place %d of the %s that can do the shot.", on, j.Score, place, wording.Counted(able, "lens"))
	if w.shot.Use == j {
		text += " The kit uses it here."
	}
	return text
}

func changesGrid(t *turn, camera *catalog.Camera, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "with this alone", Wraps: true}, {Title: "of its tolerance", Right: true, Spare: 1}}}
	for _, lens := range t.lenses {
		g.Columns = append(g.Columns, show.Column{Title: lens.Name.Value, Right: true})
	}
	for i := range t.changes {
		c := &t.changes[i]
		size := "-"
		if (c.Figure == why.Distance || c.Figure == why.Light) && !math.IsInf(c.Size, 0) {
			size = fmt.Sprintf("%.0f%%", 100*c.Size)
		}
		row := []show.Cell{{Text: wording.Change(c, p)}, {Text: size}}
		for _, lens := range t.lenses {
			row = append(row, show.Cell{Text: outcomeText(engine.Try(c.Scenario, camera, lens, c.Shot))})
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

func criteriaGrid(w *reasons, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{
		{Title: "criterion"}, {Title: "weight", Right: true}, {Title: "share", Right: true}, {Title: "score", Right: true},
	}}
	if w.against != nil {
		g.Columns = append(g.Columns, show.Column{Title: w.against.Lens, Right: true})
	}
	g.Columns = append(g.Columns, show.Column{Title: "because", Wraps: true})
	for i := range w.trace {
		t := &w.trace[i]
		row := []show.Cell{{Text: t.Name}, {Text: fmt.Sprintf("%g", t.Weight)}, {Text: share(t.Share)}, {Text: scoreOf(&t.Finding), Tone: show.Strong}}
		if w.against != nil {
			row = append(row, show.Cell{Text: scoreOf(&w.against.Criteria[i])})
		}
		g.Rows = append(g.Rows, append(row, show.Cell{Text: strings.Join(wording.Said(&t.Finding, p), "; ")}))
	}
	total := []show.Cell{{Text: "all"}, {}, {}, {Text: standingOf(w.lens), Tone: show.Strong}}
	if w.against != nil {
		total = append(total, show.Cell{Text: standingOf(w.against)})
	}
	g.Rows = append(g.Rows, nil, append(total, show.Cell{}))
	return g
}

// standingOf gives a lens's score, or why it has none that counts.
func standingOf(j *engine.Judgement) string {
	return outcomeText(engine.Outcome{Score: j.Score, Standing: j.Standing})
}

func outcomeText(o engine.Outcome) string {
	switch o.Standing {
	case engine.Excluded:
		return "out"
	case engine.Undecided:
		return "?"
	}
	return fmt.Sprintf("%.3f", o.Score)
}

func share(x float64) string {
	if x == 0 {
		return "-"
	}
	return fmt.Sprintf("%.0f%%", 100*x)
}

func scoreOf(f *rules.Finding) string {
	switch {
	case len(f.Raised) > 0:
		return "out"
	case !f.Applies:
		return "-"
	case math.IsNaN(f.Score) && len(f.Unknown) > 0:
		return "?"
	case math.IsNaN(f.Score):
		return "-"
	}
	return fmt.Sprintf("%.2f", f.Score)
}

func rulesGrid(trace []rules.Trace, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "criterion"}, {Title: "rule", Wraps: true}, {Title: "with values", Wraps: true}, {Title: "gives", Right: true}}}
	for i := range trace {
		t := &trace[i]
		if i > 0 {
			g.Rows = append(g.Rows, nil)
		}
		name := t.Name
		add := func(prefix string, line *rules.Line, gives string, mark show.Tone) {
			if !line.Known {
				gives, mark = "unknown", show.Warn
			}
			g.Rows = append(g.Rows, []show.Cell{{Text: name}, {Text: prefix + line.Text}, {Text: line.Values.In(p)}, {Text: gives, Tone: mark}})
			name = ""
		}
		if t.When != nil {
			add("when ", t.When, map[bool]string{true: "applies", false: "does not"}[t.When.Holds], show.NoTone)
		}
		for k := range t.Vetoes {
			line := &t.Vetoes[k]
			prefix := "out if "
			if strings.HasPrefix(line.Code, "need-") {
				prefix = "needs "
			}
			if line.Holds {
				add(prefix, line, "out", show.Bad)
			} else {
				add(prefix, line, "passes", show.Good)
			}
		}
		for k := range t.Scores {
			gives := fmt.Sprintf("%.3f", t.Scores[k].Value)
			if !t.Applies {
				gives = "no matter"
			}
			add("score ", &t.Scores[k], gives, show.Strong)
		}
	}
	return g
}

// factsGrid lists every fact with its formula and source.
func factsGrid(w *reasons, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "fact"}, {Title: "value", Right: true}, {Title: "formula", Wraps: true}, {Title: "source", Wraps: true}}}
	scope := facts.OfShot
	for id, fact := range facts.Table() {
		if fact.Scope != scope {
			g.Rows, scope = append(g.Rows, nil), fact.Scope
		}
		g.Rows = append(g.Rows, []show.Cell{
			{Text: fact.Name}, {Text: factText(w, facts.ID(id), fact.Unit, fact.Truth, p), Tone: show.Strong}, {Text: fact.Formula}, {Text: fact.Source},
		})
	}
	for i, fact := range w.shot.Shot.Rules.Facts() {
		if i == 0 {
			g.Rows = append(g.Rows, nil)
		}
		id, unit := definedFact(w, fact.Name)
		g.Rows = append(g.Rows, []show.Cell{
			{Text: fact.Name}, {Text: factText(w, id, unit, false, p), Tone: show.Strong}, {Text: fact.Text()}, {Text: "the rules: " + fact.Span.String()},
		})
	}
	return g
}

// definedFact gives the place and unit of a fact that a rules file defines.
func definedFact(w *reasons, name string) (id facts.ID, unit string) {
	names := w.shot.Shot.Rules.Names()
	index, _ := names.Lookup(name)
	return facts.ID(index), names.Name(index).Unit
}

// moneyUnit is the unit of the facts that are money; which money it is the brief says.
const moneyUnit = "money"

func factText(w *reasons, id facts.ID, unit string, truth bool, p lang.Printer) string {
	value := w.lens.Fact(id)
	switch {
	case truth && !math.IsNaN(value):
		return map[bool]string{true: "yes", false: "no"}[value == 1]
	case unit == moneyUnit:
		return p.Quantity(value, cmp.Or(w.recommendation.Scenario.Limits.Currency, unit))
	}
	return p.Quantity(value, unit)
}
