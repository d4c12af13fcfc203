package cmd

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine"
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
lens to compare with is the best other one, unless --against names it.

With --chose it also writes down that somebody took that lens in this shot: out
of all that can do it, or with --against over that one lens. "glassbrief rules
learn" finds from such choices how much each criterion counts for them.`,
		Example: `  glassbrief why night-ferry.scenario --shot 4A
  glassbrief why night-ferry.scenario --shot 4A --lens "Wide 24"
  glassbrief why night-ferry.scenario --shot 9A --against "Zoom 24-70"
  glassbrief why night-ferry.scenario --shot 8A --chose "Normal 35"`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			if err := q.check(args[0]); err != nil {
				return err
			}
			s, err := a.load(args[0])
			if err != nil {
				return err
			}
			answer, err := engine.Recommend(c.Context(), s, engine.Options{Camera: q.camera, Hold: foremost})
			if err != nil {
				return err
			}
			behind, err := q.answer(answer)
			if err != nil {
				return err
			}
			if q.chose != "" {
				if err := a.writeChoice(args[0], &q, behind); err != nil {
					return err
				}
			}
			return a.show(view{
				data: travel.Why(behind, a.printer()),
				page: func(p lang.Printer) show.Page { return whyPage(behind, p) },
			})
		},
	}
	c.Flags().SortFlags = false
	c.Flags().StringVar(&q.shot, "shot", "", "the shot by its `id`")
	c.Flags().StringVar(&q.lens, "lens", "", "the lens by its `name`; that of the kit unless given")
	c.Flags().StringVar(&q.against, "against", "", "compare with this `lens`; the best other one unless given")
	c.Flags().StringVar(&q.chose, "chose", "", "write down that somebody took this `lens` here")
	c.Flags().StringVar(&q.choices, "choices", "", "the `file` of choices; that of the scenario's name unless given")
	c.Flags().StringVar(&q.camera, "camera", "", "judge on this candidate `camera` of the scenario, not on the first")
	return c
}

// foremost is how many lenses of a ranking a question needs: the best, and the one to compare it with.
const foremost = 2

// A whyQuestion is what the flags ask about.
type whyQuestion struct{ shot, lens, against, camera, chose, choices string }

// check refuses flags that make no sense together. The lens that was chosen is the one that is asked about.
func (q *whyQuestion) check(scenario string) error {
	switch {
	case q.chose == "" && q.choices != "":
		return usage(lang.MissingValue, "\"--choices\" has nothing to write").because("Name the lens that somebody took with --chose.")
	case q.chose == "":
		return nil
	case q.lens != "" && q.lens != q.chose:
		return usage(lang.Contradiction, "\"--lens\" and \"--chose\" name two lenses").because("Name the one that somebody took with --chose, and one to compare it with by --against.")
	case q.against == q.chose:
		return usage(lang.Contradiction, "%q is taken over itself", q.chose).because("Name another lens with --against.")
	case q.camera != "":
		return usage(lang.Contradiction, "a choice is one on the first camera of a scenario").because("Leave --camera out.")
	case scenario == "-":
		return usage(lang.MissingValue, "standard input has no path that a file of choices could name").because("Write the scenario to a file.")
	}
	q.lens = q.chose
	return nil
}

func (q *whyQuestion) answer(r *engine.Recommendation) (*why.Case, error) {
	shot, err := q.findShot(r)
	if err != nil {
		return nil, err
	}
	lens, against := shot.Use, (*engine.Judgement)(nil)
	if lens == nil && len(shot.Ranking) > 0 {
		lens = &shot.Ranking[0]
	}
	if q.lens != "" {
		if lens, err = findLens(r, shot, map[bool]string{true: "chose", false: "lens"}[q.chose != ""], q.lens); err != nil {
			return nil, err
		}
	}
	if q.against != "" {
		if against, err = findLens(r, shot, "against", q.against); err != nil {
			return nil, err
		}
	}
	return why.Of(r, shot, lens, against), nil
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

func findLens(r *engine.Recommendation, shot *engine.ShotAnswer, flag, name string) (*engine.Judgement, error) {
	if j := shot.Find(name); j != nil {
		return j, nil
	}
	names := r.Scenario.Catalogue.Lenses.Names()
	return nil, usage(lang.UnknownName, "the catalogue has no lens %q, which \"--%s\" names", name, flag).
		or(lang.Nearest(name, names)).because("\"glassbrief catalog list\" shows the names.")
}

func whyPage(c *why.Case, p lang.Printer) show.Page {
	var out show.Page
	shot := c.Shot.Shot
	out.Heading(strings.TrimSpace("Shot "+shot.ID+"  "+shot.Title) + ": " + wording.LensAt(c.Lens, p))
	out.Paragraph(verdict(c, p))
	if c.Duel != nil {
		out.Paragraph(wording.Duel(c))
	}
	if c.Rescue != nil {
		out.Paragraph(wording.Rescue(c.Rescue, p))
	}
	for i := range c.Turns {
		turn := &c.Turns[i]
		out.Heading(wording.Turn(turn))
		if turn.Filter != nil {
			out.Paragraph(wording.WithFilter(turn.Filter, p))
		}
		if len(turn.Changes) == 0 {
			out.Paragraph(wording.NoChange + " brings that about.")
			continue
		}
		out.Grid(changesGrid(c, turn, p))
	}
	out.Heading("Criteria")
	out.Grid(ofCase(c, func(c *why.Case) show.Grid { return criteriaGrid(c, p) }, func(int) bool { return false }))
	out.Paragraph("The score is the product of the criteria's scores, each to the power of its share of the weight, and of what " +
		"their limits leave of it, which stands behind ×.")
	out.Heading("Rules, with the values put in")
	out.Grid(ofCase(c, func(c *why.Case) show.Grid { return rulesGrid(c.Trace, p) }, func(int) bool { return false }))
	out.Heading("Facts")
	out.Grid(ofCase(c, func(c *why.Case) show.Grid { return factsGrid(c, p) }, func(column int) bool { return column == 1 }))
	tildeKey(&out)
	out.Paragraph(wording.Limits)
	return out
}

// ofCase makes a grid of a case with its numbers marked that rest on assumed figures, and with
// where they lie in some of its columns.
func ofCase(c *why.Case, grid func(*why.Case) show.Grid, ranged func(column int) bool) show.Grid {
	g := grid(c)
	var columns []int // of the cells
	cells := func(g show.Grid) (texts []string) {
		columns = nil
		for _, row := range g.Rows {
			for i, cell := range row {
				texts, columns = append(texts, cell.Text), append(columns, i)
			}
		}
		return texts
	}
	texts := wording.RangedAll([]*engine.Judgement{c.Lens, c.Against}, engine.Together(c.Lens, c.Against), func(both []*engine.Judgement) []string {
		switch {
		case both[0] == c.Lens && both[1] == c.Against:
			return cells(g)
		case both[0].Standing != c.Lens.Standing:
			return nil
		}
		return cells(grid(c.With(both[0], both[1])))
	}, func(text int) bool { return ranged(columns[text]) })
	for _, row := range g.Rows {
		for i := range row {
			row[i].Text, texts = texts[0], texts[1:]
		}
	}
	return g
}

// verdict says where the lens stands.
func verdict(c *why.Case, p lang.Printer) string {
	j := c.Lens
	on := fmt.Sprintf("On %s, %s ", c.Recommendation.Camera.Name.Value, j.Lens)
	switch j.Standing {
	case engine.Excluded:
		return on + "is excluded: " + wording.OfLens(j, func(j *engine.Judgement) string { return strings.Join(wording.WhyOut(j, p), "; ") }) + "."
	case engine.Undecided:
		return fmt.Sprintf("%sis undecided: only %s of what it is judged by is known; the catalogue lacks its %s.",
			on, p.Quantity(j.Known, "%"), wording.Unjudged(j.Unjudged()))
	}
	score := fmt.Sprintf("%.3f", j.Score)
	if span := wording.ScoreSpan(j); span != "" {
		score = fmt.Sprintf("%s%s (%s)", lang.Assumed, score, span)
	}
	text := fmt.Sprintf("%sscores %s, place %d of the %s that can do the shot.", on, score, j.Rank, wording.Counted(c.Shot.Able, "lens"))
	if doubt := wording.OfLens(j, func(j *engine.Judgement) string { return wording.DoubtOf(j, p) }); doubt != "" {
		text += " It is " + doubt + "."
	} else {
		text += " It is good, and whole."
	}
	if c.Shot.Use == j {
		text += " The kit uses it here."
	}
	return text
}

func changesGrid(of *why.Case, t *why.Turn, p lang.Printer) show.Grid {
	on := of.Recommendation.Table.Bench()
	g := show.Grid{Columns: []show.Column{{Title: "with this alone", Wraps: true}, {Title: "of its tolerance", Right: true, Spare: 1}}}
	lenses := []*catalog.Lens{t.Lens}
	if t.Over != nil {
		lenses = append(lenses, t.Over)
	}
	for _, lens := range lenses {
		g.Columns = append(g.Columns, show.Column{Title: lens.Name.Value, Right: true})
	}
	for i := range t.Changes {
		c := &t.Changes[i]
		size := "-"
		if (c.Figure == why.Distance || c.Figure == why.Light) && !math.IsInf(c.Size, 0) {
			size = fmt.Sprintf("%.0f%%", 100*c.Size)
		}
		row := []show.Cell{{Text: wording.Change(c, p)}, {Text: size}}
		for _, lens := range lenses {
			score := outcomeText(on.Fit(lens).Try(c.Scenario, c.Shot))
			if j := of.Shot.Find(lens.Name.Value); j != nil && j.ScoreRests() {
				score = lang.Assumed + score
			}
			row = append(row, show.Cell{Text: score})
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

func criteriaGrid(c *why.Case, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{
		{Title: "criterion"}, {Title: "weight", Right: true}, {Title: "share", Right: true}, {Title: "score", Right: true},
	}}
	if c.Against != nil {
		g.Columns = append(g.Columns, show.Column{Title: c.Against.Lens, Right: true})
	}
	g.Columns = append(g.Columns, show.Column{Title: "because", Wraps: true})
	for i := range c.Trace {
		t := &c.Trace[i]
		row := []show.Cell{{Text: t.Name}, {Text: fmt.Sprintf("%g", t.Weight)}, {Text: share(t.Share)}, {Text: scoreOf(&t.Finding), Tone: show.Strong}}
		if c.Against != nil {
			row = append(row, show.Cell{Text: scoreUnder(t.Name, c.Against)})
		}
		g.Rows = append(g.Rows, append(row, show.Cell{Text: wording.Because(&t.Finding, p)}))
	}
	total := []show.Cell{{Text: "all"}, {}, {}, {Text: standingOf(c.Lens), Tone: show.Strong}}
	if c.Against != nil {
		total = append(total, show.Cell{Text: standingOf(c.Against)})
	}
	g.Rows = append(g.Rows, nil, append(total, show.Cell{}))
	return g
}

// scoreUnder gives the score of a lens by one criterion; it has none by the needs that bar every other lens
// than the one that a shot asks for.
func scoreUnder(criterion string, j *engine.Judgement) string {
	for i := range j.Criteria {
		if f := &j.Criteria[i]; f.Name == criterion {
			return scoreOf(f)
		}
	}
	return "-"
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
	}
	score := fmt.Sprintf("%.2f", f.Score)
	switch {
	case math.IsNaN(f.Score) && len(f.Unknown) > 0:
		score = "?"
	case math.IsNaN(f.Score):
		score = "-"
	}
	return score + wording.Limited(f)
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
		for k := range t.Limits {
			line := &t.Limits[k]
			switch {
			case !t.Applies:
				add("limit ", line, "no matter", show.NoTone)
			case line.Holds:
				add("limit ", line, "out", show.Bad)
			case line.Value < 1:
				add("limit ", line, fmt.Sprintf("× %.3f", line.Value), show.Warn)
			default:
				add("limit ", line, "no bite", show.Good)
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
func factsGrid(c *why.Case, p lang.Printer) show.Grid {
	g := show.Grid{Columns: []show.Column{{Title: "fact"}, {Title: "value", Right: true}, {Title: "formula", Wraps: true}, {Title: "source", Wraps: true}}}
	values := c.Values()
	for i := range values {
		v := &values[i]
		source := v.Source
		if v.Scope == "rules" {
			source = "the rules: " + source
		}
		if i > 0 && v.Scope != values[i-1].Scope {
			g.Rows = append(g.Rows, nil)
		}
		g.Rows = append(g.Rows, []show.Cell{{Text: v.Name}, {Text: wording.Value(c, v, p), Tone: show.Strong}, {Text: v.Formula}, {Text: source}})
	}
	return g
}
