package cmd

import (
	"fmt"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/cmd/wording"
	"glassbrief/engine/rules"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

type rulesTestData struct {
	travel.Header
	Cases     []caseData  `json:"cases"`
	Untouched []pointData `json:"untouched"`
	Touched   int         `json:"touched"`
}

type caseData struct {
	Name   string           `json:"name"`
	From   string           `json:"from"`
	Holds  bool             `json:"holds"`
	Broken lang.Diagnostics `json:"broken"`
}

// pointData is something of the rules that a case can touch.
type pointData struct {
	Kind string `json:"kind"`
	Of   string `json:"of"`
	What string `json:"what"`
	From string `json:"from"`
}

// testRules is the verb for whoever writes rules.
func (a *app) testRules() *cobra.Command {
	return &cobra.Command{
		Use:   "test FILE...",
		Short: "hold criteria to the cases that their files give",
		Long: `Runs the cases of rules files, or of the rules that scenarios name: facts that
are given, and what must come out. It prints which do not hold, and which
vetoes, limits, scores, conditions and branches of the files no case has
touched. It ends with 1 when a case does not hold.

  case "dark corners" {
    given     circle_margin -5%
    expect    veto "coverage"
  }`,
		Example: `  glassbrief rules test house.rules
  glassbrief rules test night-ferry.scenario --as json`,
		Args: someFiles,
		RunE: func(_ *cobra.Command, args []string) error {
			set, sources, err := a.ruleSet(args)
			if err != nil {
				return err
			}
			data, broken := testedRules(set, sources[1:])
			if err := a.show(view{data: data, page: func(lang.Printer) show.Page { return rulesTestPage(data) }}); err != nil {
				return err
			}
			if broken != nil {
				if a.form.value != "json" {
					a.report(broken)
				}
				return errNo
			}
			return nil
		},
	}
}

// testedRules runs the cases of a set and says what of some sources they touch.
func testedRules(set *rules.Set, sources []*lang.Source) (rulesTestData, lang.Diagnostics) {
	data := rulesTestData{Header: travel.HeaderOf("rules-test"), Cases: []caseData{}, Untouched: []pointData{}}
	var coverages []*rules.Coverage
	for _, src := range sources {
		coverages = append(coverages, set.Coverage(src))
	}
	var broken lang.Diagnostics
	for _, c := range set.Cases() {
		found := set.Test(&c, coverages...)
		data.Cases = append(data.Cases, caseData{Name: c.Name, From: c.Span.String(), Holds: found == nil, Broken: append(lang.Diagnostics{}, found...)})
		broken = append(broken, found...)
	}
	for _, coverage := range coverages {
		for _, p := range coverage.Points() {
			if p.Touched {
				data.Touched++
				continue
			}
			data.Untouched = append(data.Untouched, pointData{Kind: p.Kind, Of: p.Of, What: p.Text, From: p.Span.String()})
		}
	}
	return data, broken
}

func rulesTestPage(data rulesTestData) show.Page {
	var out show.Page
	broken := 0
	for _, c := range data.Cases {
		if !c.Holds {
			broken++
		}
	}
	summary := fmt.Sprintf("%s, of which %d %s.", wording.Counted(len(data.Cases), "case"), broken, map[bool]string{true: "does not hold", false: "do not hold"}[broken == 1])
	switch {
	case len(data.Cases) == 0:
		summary = "There are no cases."
	case broken == 0:
		summary = fmt.Sprintf("All %d cases hold.", len(data.Cases))
		if len(data.Cases) == 1 {
			summary = "The case holds."
		}
	}
	if points := data.Touched + len(data.Untouched); points > 0 {
		summary += fmt.Sprintf(" Of what these files define, %d of %d vetoes, limits, scores, conditions, branches and facts are touched.", data.Touched, points)
	}
	out.Paragraph(summary)
	if len(data.Untouched) == 0 {
		return out
	}
	out.Heading("What no case touches")
	g := show.Grid{Columns: []show.Column{{Title: "of"}, {Title: "what", Wraps: true}, {Title: "where", Wraps: true}}}
	for _, p := range data.Untouched {
		g.Rows = append(g.Rows, []show.Cell{{Text: p.Of, Tone: show.Strong}, {Text: p.What}, {Text: p.From}})
	}
	out.Grid(g)
	return out
}
