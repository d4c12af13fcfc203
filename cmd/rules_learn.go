package cmd

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine/learn"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// learned is what was learned from choices, as "rules learn" shows it.
type learned struct {
	study          *learn.Study
	taste          *learn.Taste
	left, house    []learn.Foreseen // of each choice, by the others and by the weights of the house
	contradictions []learn.Contradiction
	more           bool // contradict each other beside those
	question       *learn.Question
}

// likely is the share of all that is probable within which the weights are shown to lie.
const likely = 0.8

// leastWeight is the least that is written of a weight: less would count no less.
const leastWeight = 0.01

type learnData struct {
	travel.Header
	Weights        []weightData        `json:"weights"`
	Scale          travel.Number       `json:"scale"`
	Choices        []chosenData        `json:"choices"`
	Foreseen       int                 `json:"foreseen"`
	Expected       travel.Number       `json:"expected"`
	ForeseenHouse  int                 `json:"foreseen_house"`
	Contradictions []contradictionData `json:"contradictions"`
	More           bool                `json:"contradictions_more"`
	Questions      []questionData      `json:"questions"`
}

type weightData struct {
	Criterion string        `json:"criterion"`
	Weight    travel.Number `json:"weight"`
	Low       travel.Number `json:"low"`
	High      travel.Number `json:"high"`
	House     travel.Number `json:"house"`
}

type chosenData struct {
	From  string        `json:"from"`
	Shot  string        `json:"shot"`
	Lens  string        `json:"lens"`
	Over  []string      `json:"over"`
	First string        `json:"first"`
	Sure  travel.Number `json:"sure_pct"`
	Taken travel.Number `json:"taken_pct"`
}

type contradictionData struct {
	Choices []int `json:"choices"`
	Least   bool  `json:"least"`
}

type questionData struct {
	Shot    string        `json:"shot"`
	Lens    string        `json:"lens"`
	Against string        `json:"against"`
	Sure    travel.Number `json:"sure_pct"`
	Tells   travel.Number `json:"tells_bits"`
}

// learnRules is the verb that finds weights from choices.
func (a *app) learnRules() *cobra.Command {
	return &cobra.Command{
		Use:   "learn FILE...",
		Short: "weights that explain the lenses somebody chose",
		Long: `Reads from files of choices which lenses somebody took in which shots, and finds
the weights of the criteria that explain them best. It prints a file of rules to
look over and to name in a line "rules" of the scenario: a weight for each
criterion, with where it lies in eight of ten cases. Without choices they
are the weights of the house: those that the criteria have, or that the rules of
the settings give them. Weights in the scenario's own rules are taken for a
taste that was learned before, and are learned anew.

A weight is never below zero, and no taste overrules a veto or a limit: a lens
that is out stays out, and a choice of it counts for nothing.

Above the weights stands how often the choices would have been foreseen, each by
all others, which of them no weights explain together, and the question whose
answer would tell most. Every set-up is that of the weights of the house.`,
		Example: `  glassbrief rules learn night-ferry.choices
  glassbrief rules learn night-ferry.choices -o taste.rules
  glassbrief rules learn *.choices --as json`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return nil
			}
			return usage(lang.MissingValue, "%q lacks the files of choices", c.CommandPath()).
				because("Name at least one, as in: %s night-ferry.choices. \"glassbrief why SCENARIO --shot 4A --chose \"Wide 24\"\" makes one.", c.CommandPath())
		},
		RunE: func(c *cobra.Command, args []string) error {
			study, err := a.study(c.Context(), args)
			if err != nil {
				return err
			}
			if len(study.House) == 0 {
				return usage(lang.MissingField, "these files name no scenario").because("Add a block as: choices \"night-ferry.scenario\" {")
			}
			l := learnFrom(study)
			if a.form.value == "json" {
				return a.show(view{data: l.data()})
			}
			text, err := l.rules()
			if err != nil {
				return err
			}
			if a.output != "" && a.isInput(a.output) && a.holdsTaste(a.output) {
				a.mayReplace(a.output)
			}
			return a.writeText(textWriter(text))
		},
	}
}

// holdsTaste reports whether a file says nothing but weights, of which nothing is learned: the scenario names
// what was learned before, and what is learned anew takes its place.
func (a *app) holdsTaste(path string) bool {
	src, err := a.readPortion(path, lang.OfRules)
	if err != nil {
		return false
	}
	file, found := lang.Parse(src)
	return !found.HasErrors() && !slices.ContainsFunc(file.Statements, func(s *lang.Statement) bool { return s.Keyword.Value != "weight" })
}

func learnFrom(study *learn.Study) *learned {
	l := &learned{
		study: study, taste: learn.Learn(study.House, study.Choices), left: learn.LeaveOut(study.House, study.Choices),
	}
	house := learn.Learn(study.House, nil)
	for i := range study.Choices {
		l.house = append(l.house, house.Foretell(&study.Choices[i]))
	}
	l.contradictions, l.more = learn.Contradict(study.Choices)
	if q, ok := l.taste.Next(study.Shots); ok {
		l.question = &q
	}
	return l
}

// foreseen counts the choices that were foreseen, and how many were said to be.
func foreseen(all []learn.Foreseen) (came int, said float64) {
	for _, f := range all {
		said += f.Sure
		if f.Came {
			came++
		}
	}
	return came, said
}

func (l *learned) data() learnData {
	d := learnData{
		Header: travel.HeaderOf("rules-learn"), Scale: travel.Number(l.taste.Scale),
		Weights: []weightData{}, Choices: []chosenData{}, Contradictions: []contradictionData{}, Questions: []questionData{},
	}
	for c, name := range l.study.Criteria {
		low, high := l.taste.Range(c, likely)
		d.Weights = append(d.Weights, weightData{
			name, travel.Number(l.taste.Weights[c]), travel.Number(low), travel.Number(high), travel.Number(l.study.House[c]),
		})
	}
	for i, said := range l.study.Said {
		f, over := l.left[i], []string{}
		for _, lens := range said.Over {
			over = append(over, lens.Value)
		}
		d.Choices = append(d.Choices, chosenData{
			From: said.Lens.Span.String(), Shot: said.Shot.Value, Lens: said.Lens.Value, Over: over,
			First: l.study.Choices[i].Shot.Lenses[f.First], Sure: travel.Number(100 * f.Sure), Taken: travel.Number(100 * f.Taken),
		})
	}
	said := 0.0
	d.Foreseen, said = foreseen(l.left)
	d.Expected = travel.Number(said)
	d.ForeseenHouse, _ = foreseen(l.house)
	for _, c := range l.contradictions {
		d.Contradictions = append(d.Contradictions, contradictionData{c.Choices, c.Least})
	}
	d.More = l.more
	if q := l.question; q != nil {
		d.Questions = append(d.Questions, questionData{q.Shot.ID, q.Shot.Lenses[q.A], q.Shot.Lenses[q.B], travel.Number(100 * q.Sure), travel.Number(q.Tells)})
	}
	return d
}

// rules writes the file of rules, with all else as comments above the weights.
func (l *learned) rules() (string, error) {
	const width = 96
	var lines []lang.Line
	page := l.page()
	var b strings.Builder
	if err := page.Text(&b, show.NewPalette(false), width); err != nil {
		return "", err
	}
	for line := range strings.Lines(strings.TrimRight(b.String(), "\n")) {
		if line = strings.TrimRight(line, "\n"); line == "" {
			lines = append(lines, lang.Line{})
			continue
		}
		lines = append(lines, lang.Line{Comment: line})
	}
	lines = append(lines, lang.Line{})
	for c, name := range l.study.Criteria {
		line := lang.Line{Keyword: "weight", Value: lang.Quote(name) + " " + weightText(l.taste.Weights[c], len(l.study.Choices) == 0)}
		if len(l.study.Choices) > 0 {
			low, high := l.taste.Range(c, likely)
			line.Comment = fmt.Sprintf("%s to %s; the house has %g", weightText(low, false), weightText(high, false), l.study.House[c])
		}
		lines = append(lines, line)
	}
	text, _ := lang.Compose(lines)
	return text, nil
}

// weightText writes a weight as a file of rules has it: in three digits, or in all.
func weightText(weight float64, whole bool) string {
	if whole {
		return strconv.FormatFloat(weight, 'f', -1, 64)
	}
	weight = max(weight, leastWeight)
	decimals := max(0, 2-int(math.Floor(math.Log10(weight))))
	text := strconv.FormatFloat(weight, 'f', decimals, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// page says in words what was learned.
func (l *learned) page() show.Page {
	var out show.Page
	n := len(l.study.Choices)
	if n == 0 {
		out.Paragraph("There is no choice to learn from: these are the weights of the house.")
		l.ask(&out)
		return out
	}
	out.Paragraph(fmt.Sprintf("Learned from %s. Look the weights over, and name this file in a line \"rules\" of the scenario. "+
		"Behind each stands where it lies in eight of ten cases.", wording.Counted(n, "choice")))
	sum := 0.0
	for _, w := range l.study.House {
		sum += w
	}
	const better, worse = 0.90, 0.88
	out.Paragraph(fmt.Sprintf("Of two lenses that score %.2f and %.2f, whoever chose takes the first in %.0f of 100 cases: that decided the choices are.",
		better, worse, 100/(1+math.Pow(worse/better, l.taste.Scale*sum))))
	came, said := foreseen(l.left)
	before, _ := foreseen(l.house)
	out.Paragraph(fmt.Sprintf("Left out in turn, %d of %d choices are foreseen by the others, which expect to foresee %.1f. The weights of the house foresee %d.", came, n, said, before))
	var alone []int
	for _, c := range l.contradictions {
		if len(c.Choices) == 1 {
			alone = append(alone, c.Choices[0])
		}
	}
	if len(alone) > 0 {
		out.Paragraph("No weights put these lenses first: whatever they are, another lens that could be taken scores as much or more.")
		out.Grid(l.statements(alone))
	}
	for _, c := range l.contradictions {
		switch {
		case len(c.Choices) == 1:
			continue
		case c.Least:
			out.Paragraph(fmt.Sprintf("No weights explain these %d choices together, though some explain any part of them:", len(c.Choices)))
		default:
			out.Paragraph(fmt.Sprintf("No weights explain these %d choices together; fewer of them may contradict each other:", len(c.Choices)))
		}
		out.Grid(l.statements(c.Choices))
	}
	if l.more {
		out.Paragraph("Others contradict each other beside those.")
	}
	l.ask(&out)
	return out
}

// statements lists choices with their places.
func (l *learned) statements(choices []int) show.Grid {
	g := show.Grid{Columns: []show.Column{{}, {Wraps: true}}, Untitled: true}
	for _, i := range choices {
		g.Rows = append(g.Rows, []show.Cell{{Text: l.study.Said[i].Lens.Span.String()}, {Text: l.study.Said[i].String()}})
	}
	return g
}

// ask puts the question whose answer would tell most.
func (l *learned) ask(out *show.Page) {
	q := l.question
	if q == nil {
		return
	}
	a, b := lang.Text{Value: q.Shot.Lenses[q.A]}, lang.Text{Value: q.Shot.Lenses[q.B]}
	said := learn.Said{Lens: a, Over: []lang.Text{b}, Shot: lang.Text{Value: q.Shot.ID}}
	out.Paragraph(fmt.Sprintf("The answer to this would tell most, %.2f bits: in shot %q, %q or %q? As far as is known, the first is taken in %.0f of 100 cases. "+
		"Write it as: %s", q.Tells, q.Shot.ID, a.Value, b.Value, 100*q.Sure, said))
}
