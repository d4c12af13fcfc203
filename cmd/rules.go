package cmd

import (
	"fmt"
	"path/filepath"
	"slices"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/brief"
	"glassbrief/engine/rules"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

type rulesData struct {
	travel.Header
	Criteria []criterionRuleData `json:"criteria"`
	Facts    []factRuleData      `json:"facts"`
}

type criterionRuleData struct {
	Name     string          `json:"name"`
	About    string          `json:"about"`
	Weight   travel.Number   `json:"weight"`
	Share    travel.Number   `json:"share_pct"`
	When     string          `json:"when"`
	Vetoes   []vetoRuleData  `json:"vetoes"`
	Limits   []limitRuleData `json:"limits"`
	Scores   []string        `json:"scores"`
	From     string          `json:"from"`
	Replaces string          `json:"replaces"`
	Weighed  string          `json:"weighed"`
}

type vetoRuleData struct {
	Code string `json:"code"`
	If   string `json:"if"`
}

// limitRuleData is a factor on the whole score.
type limitRuleData struct {
	Code string `json:"code"`
	Is   string `json:"is"`
}

type factRuleData struct {
	Name    string `json:"name"`
	Is      string `json:"is"`
	Meaning string `json:"meaning"`
	From    string `json:"from"`
}

// rules is the verb for the criteria by which lenses are judged.
func (a *app) rules() *cobra.Command {
	c := a.showRules("rules [FILE...]")
	c.Args = filesOrVerb
	c.AddCommand(a.showRules("show [FILE...]"), a.testRules(), a.learnRules())
	return c
}

// showRules prints the criteria; "rules" alone does what "rules show" does.
func (a *app) showRules(usage string) *cobra.Command {
	return &cobra.Command{
		Use:   usage,
		Short: "the criteria by which lenses are judged",
		Long: `Prints the standard criteria with what the rules files and the settings extend
or replace, each with its weight, its share of all weights, and where both come
from. With a scenario they are those that it is judged by.

A score counts by its weight, in a mean of all. A limit is a factor on that
mean: 1 where it does not bite, 0 where the lens is out.`,
		Example: `  glassbrief rules
  glassbrief rules show house.rules
  glassbrief rules show night-ferry.scenario --as json`,
		RunE: func(_ *cobra.Command, args []string) error {
			set, _, err := a.ruleSet(args)
			if err != nil {
				return err
			}
			data := rulesDataOf(set)
			return a.show(view{data: data, page: func(lang.Printer) show.Page { return rulesPage(data) }})
		},
	}
}

// ruleSet gives the criteria in force, with those of some files, and the texts that they
// come from, the standard ones first.
func (a *app) ruleSet(files []string) (*rules.Set, []*lang.Source, error) {
	sources, err := a.ruleSources(files)
	if err != nil {
		return nil, nil, err
	}
	set, found := rules.Standard().Extend(sources[1:]...)
	return set, sources, found.Err()
}

// ruleSources gives the standard criteria and those of the settings, and behind them
// those of some files: rules, or scenarios that name rules.
func (a *app) ruleSources(files []string) ([]*lang.Source, error) {
	beside := "" // of which file the settings hold
	if len(files) > 0 {
		beside = files[0]
	}
	if err := a.loadSettings(beside); err != nil {
		return nil, err
	}
	own, err := a.readSources(a.settings.Rules, lang.OfRules)
	if err != nil {
		return nil, err
	}
	sources := append([]*lang.Source{rules.StandardSource()}, own...)
	add := func(src *lang.Source) {
		known := func(other *lang.Source) bool { return filepath.Clean(other.Name) == filepath.Clean(src.Name) }
		if !slices.ContainsFunc(sources, known) {
			sources = append(sources, src)
		}
	}
	for _, file := range files {
		if filepath.Ext(file) == ".rules" {
			src, err := a.readPortion(file, lang.OfRules)
			if err != nil {
				return nil, err
			}
			add(src)
			continue
		}
		err := a.withFiles(file, func(src *lang.Source, files brief.Files) error {
			if _, err := a.loadFrom(src, files); err != nil {
				return err
			}
			for _, src := range brief.PartsOf(src, files).Rules {
				add(src)
			}
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return sources, nil
}

func rulesDataOf(set *rules.Set) rulesData {
	data := rulesData{Header: travel.HeaderOf("rules"), Criteria: []criterionRuleData{}, Facts: []factRuleData{}}
	total := 0.0
	for _, c := range set.Criteria() {
		total += c.Weight
	}
	for _, c := range set.Criteria() {
		d := criterionRuleData{
			Name: c.Name, About: c.About, Weight: travel.Number(c.Weight), Share: travel.Number(100 * c.Weight / total),
			Vetoes: []vetoRuleData{}, Limits: []limitRuleData{}, Scores: []string{}, From: c.Span.String(), Replaces: c.Replaces.String(), Weighed: c.Weighed.String(),
		}
		if c.When != nil {
			d.When = c.When.Text()
		}
		for i := range c.Vetoes {
			d.Vetoes = append(d.Vetoes, vetoRuleData{c.Vetoes[i].Code, c.Vetoes[i].Text()})
		}
		for i := range c.Limits {
			d.Limits = append(d.Limits, limitRuleData{c.Limits[i].Code, c.Limits[i].Text()})
		}
		for i := range c.Scores {
			d.Scores = append(d.Scores, c.Scores[i].Text())
		}
		data.Criteria = append(data.Criteria, d)
	}
	names := set.Names()
	for _, fact := range set.Facts() {
		d := factRuleData{Name: fact.Name, Is: fact.Text(), From: fact.Span.String()}
		if index, ok := names.Lookup(fact.Name); ok {
			d.Meaning = names.Name(index).Meaning
		}
		data.Facts = append(data.Facts, d)
	}
	return data
}

func rulesPage(data rulesData) show.Page {
	var out show.Page
	for _, c := range data.Criteria {
		out.Heading(fmt.Sprintf("%s, weight %g (%.0f%%)", c.Name, float64(c.Weight), float64(c.Share)))
		if c.About != "" {
			out.Paragraph(c.About)
		}
		var lines []show.Pair
		if c.When != "" {
			lines = append(lines, show.Pair{Name: "when", Value: c.When})
		}
		for _, veto := range c.Vetoes {
			lines = append(lines, show.Pair{Name: "out if", Value: veto.If})
		}
		for _, limit := range c.Limits {
			lines = append(lines, show.Pair{Name: "limit", Value: limit.Is})
		}
		for _, score := range c.Scores {
			lines = append(lines, show.Pair{Name: "score", Value: score})
		}
		from := show.Pair{Name: "from", Value: c.From}
		if c.Replaces != "" {
			from.Value += ", in the place of " + c.Replaces
		}
		lines = append(lines, from)
		if c.Weighed != "" {
			lines = append(lines, show.Pair{Name: "weight from", Value: c.Weighed})
		}
		out.Pairs(lines)
	}
	if len(data.Facts) > 0 {
		out.Heading("Facts of these files")
		g := show.Grid{Columns: []show.Column{{Title: "fact"}, {Title: "is", Wraps: true}, {Title: "meaning", Wraps: true}, {Title: "from", Wraps: true}}}
		for _, fact := range data.Facts {
			g.Rows = append(g.Rows, []show.Cell{{Text: fact.Name, Tone: show.Strong}, {Text: fact.Is}, {Text: fact.Meaning}, {Text: fact.From}})
		}
		out.Grid(g)
	}
	return out
}
