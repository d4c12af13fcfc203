package cmd

import (
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"

	"github.com/spf13/cobra"
)

type factsData struct {
	travel.Header
	Facts     []factData     `json:"facts"`
	Functions []functionData `json:"functions"`
}

type factData struct {
	Name      string `json:"name"`
	Kind      string `json:"kind"` // number or truth
	Dimension string `json:"dimension"`
	Unit      string `json:"unit"`
	Scope     string `json:"scope"`
	Meaning   string `json:"meaning"`
	Formula   string `json:"formula"`
	Source    string `json:"source"`
}

type functionData struct {
	Name      string `json:"name"`
	Signature string `json:"signature"`
	Meaning   string `json:"meaning"`
}

// facts is the verb that prints the vocabulary of rules.
func (a *app) facts() *cobra.Command {
	return &cobra.Command{
		Use:   "facts [WORD]",
		Short: "the vocabulary of rules: every fact, with formula and source",
		Long: `Lists the facts that need, prefer, veto, score, fact and when may name, and the
functions they may use. With a word, only those whose name or meaning has it,
with formula and source.`,
		Example: `  glassbrief facts
  glassbrief facts focus
  glassbrief facts --as json`,
		Args: atMostOne("word"),
		RunE: func(c *cobra.Command, args []string) error {
			if err := a.loadSettings(""); err != nil {
				return err
			}
			word := ""
			if len(args) == 1 {
				word = strings.ToLower(args[0])
			}
			data := factsDataOf(word)
			if len(data.Facts)+len(data.Functions) == 0 {
				return usage(lang.UnknownName, "no fact has %q in its name or meaning", word).
					or(lang.Nearest(word, factNames())).because("%s lists all.", c.CommandPath())
			}
			rows := []any{}
			for _, fact := range data.Facts {
				rows = append(rows, fact)
			}
			return a.show(view{data: data, rows: rows, page: func(lang.Printer) show.Page { return factsPage(data, word != "") }})
		},
	}
}

func factNames() []string {
	var names []string
	for _, fact := range facts.Table() {
		names = append(names, fact.Name)
	}
	return names
}

func factsDataOf(word string) factsData {
	data := factsData{Header: travel.HeaderOf("facts"), Facts: []factData{}, Functions: []functionData{}}
	has := func(texts ...string) bool {
		for _, text := range texts {
			if strings.Contains(strings.ToLower(text), word) {
				return true
			}
		}
		return false
	}
	for _, fact := range facts.Table() {
		if !has(fact.Name, fact.Meaning) {
			continue
		}
		d := factData{
			Name: fact.Name, Kind: "number", Dimension: fact.Dim.String(), Unit: fact.Unit,
			Scope: fact.Scope.String(), Meaning: fact.Meaning, Formula: fact.Formula, Source: fact.Source,
		}
		if fact.Truth {
			d.Kind, d.Dimension = "truth", "yes or no"
		}
		data.Facts = append(data.Facts, d)
	}
	for _, function := range expression.Functions() {
		if has(function.Name, function.Meaning) {
			data.Functions = append(data.Functions, functionData{function.Name, function.Signature(), function.Meaning})
		}
	}
	return data
}

func factsPage(data factsData, full bool) show.Page {
	var out show.Page
	if full {
		for _, fact := range data.Facts {
			out.Heading(fact.Name)
			about := []show.Pair{{Name: "is", Value: fact.Meaning}, {Name: "kind", Value: fact.Dimension}, {Name: "of", Value: "the " + fact.Scope}}
			if fact.Formula != "" {
				about = append(about, show.Pair{Name: "formula", Value: fact.Formula})
			}
			if fact.Source != "" {
				about = append(about, show.Pair{Name: "source", Value: fact.Source})
			}
			out.Pairs(about)
		}
	} else {
		g := show.Grid{Columns: []show.Column{{Title: "fact"}, {Title: "unit"}, {Title: "meaning", Wraps: true}}}
		scope := ""
		for _, fact := range data.Facts {
			if scope != "" && scope != fact.Scope {
				g.Rows = append(g.Rows, nil)
			}
			scope = fact.Scope
			unit := fact.Unit
			if fact.Kind == "truth" {
				unit = "yes/no"
			}
			g.Rows = append(g.Rows, []show.Cell{{Text: fact.Name, Tone: show.Strong}, {Text: unit}, {Text: fact.Meaning}})
		}
		out.Grid(g)
	}
	if len(data.Functions) > 0 {
		out.Heading("Functions")
		g := show.Grid{Columns: []show.Column{{Title: "call"}, {Title: "gives", Wraps: true}}}
		for _, function := range data.Functions {
			g.Rows = append(g.Rows, []show.Cell{{Text: function.Signature, Tone: show.Strong}, {Text: function.Meaning}})
		}
		out.Grid(g)
	}
	return out
}

// atMostOne is for verbs that take nothing or one thing.
func atMostOne(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) <= 1 {
			return nil
		}
		return usage(lang.ExtraValue, "%q takes one %s, and %q is a second", c.CommandPath(), what, args[1]).
			because("A value with spaces goes between quotes.")
	}
}
