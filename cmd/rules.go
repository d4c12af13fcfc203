package cmd

import (
	"fmt"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

type rulesData struct {
	header
	Criteria []criterionRuleData `json:"criteria"`
}

type criterionRuleData struct {
	Name   string         `json:"name"`
	About  string         `json:"about"`
	Weight number         `json:"weight"`
	Share  number         `json:"share_pct"` // of the weight of all criteria
	When   string         `json:"when"`      // "" for always
	Vetoes []vetoRuleData `json:"vetoes"`
	Scores []string       `json:"scores"`
	From   string         `json:"from"`
}

type vetoRuleData struct {
	Code string `json:"code"`
	If   string `json:"if"`
}

// rules is the verb that prints the criteria by which lenses are judged.
func (a *app) rules() *cobra.Command {
	return &cobra.Command{
		Use:   "rules [SCENARIO]",
		Short: "the criteria by which lenses are judged",
		Long: `Prints the standard criteria, or with a scenario those that it is judged by: the
standard ones with what its own rules files and the settings extend or replace.`,
		Example: `  glassbrief rules
  glassbrief rules night-ferry.scenario --as json`,
		Args:              atMostOne("scenario"),
		ValidArgsFunction: completeScenarios,
		RunE: func(_ *cobra.Command, args []string) error {
			set, err := a.ruleSet(args)
			if err != nil {
				return err
			}
			data := rulesDataOf(set)
			return a.show(view{data: data, page: func(lang.Printer) page { return rulesPage(data) }})
		},
	}
}

func (a *app) ruleSet(args []string) (*rules.Set, error) {
	if len(args) == 1 {
		s, err := a.load(args[0])
		if err != nil {
			return nil, err
		}
		return s.Rules, nil
	}
	if err := a.loadSettings(""); err != nil {
		return nil, err
	}
	own, err := readSources(a.settings.Rules)
	if err != nil {
		return nil, err
	}
	set, found := rules.Load(facts.Vocabulary(), append([]*lang.Source{engine.StandardRules()}, own...)...)
	return set, found.Err()
}

func rulesDataOf(set *rules.Set) rulesData {
	data := rulesData{header: headerOf("rules"), Criteria: []criterionRuleData{}}
	total := 0.0
	for _, c := range set.Criteria() {
		total += c.Weight
	}
	for _, c := range set.Criteria() {
		d := criterionRuleData{
			Name: c.Name, About: c.About, Weight: number(c.Weight), Share: number(100 * c.Weight / total),
			Vetoes: []vetoRuleData{}, Scores: []string{}, From: c.Span.String(),
		}
		if c.When != nil {
			d.When = c.When.Text()
		}
		for i := range c.Vetoes {
			d.Vetoes = append(d.Vetoes, vetoRuleData{c.Vetoes[i].Code, c.Vetoes[i].Text()})
		}
		for i := range c.Scores {
			d.Scores = append(d.Scores, c.Scores[i].Text())
		}
		data.Criteria = append(data.Criteria, d)
	}
	return data
}

func rulesPage(data rulesData) page {
	var out page
	for _, c := range data.Criteria {
		out.heading(fmt.Sprintf("%s, weight %g (%.0f%%)", c.Name, float64(c.Weight), float64(c.Share)))
		out.paragraph(c.About)
		var lines []pair
		if c.When != "" {
			lines = append(lines, pair{name: "when", value: c.When})
		}
		for _, veto := range c.Vetoes {
			lines = append(lines, pair{name: "out if", value: veto.If})
		}
		for _, score := range c.Scores {
			lines = append(lines, pair{name: "score", value: score})
		}
		out.pairs(lines)
	}
	return out
}
