package cmd

import (
	"strings"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"

	"github.com/spf13/cobra"
)

type factsData struct {
	header
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
			return a.show(view{data: data, rows: rows, page: func(lang.Printer) page { return factsPage(data, word != "") }})
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
	data := factsData{header: headerOf("facts"), Facts: []factData{}, Functions: []functionData{}}
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

func factsPage(data factsData, full bool) page {
	var out page
	if full {
		for _, fact := range data.Facts {
			out.heading(fact.Name)
			about := []pair{{name: "is", value: fact.Meaning}, {name: "kind", value: fact.Dimension}, {name: "of", value: "the " + fact.Scope}}
			if fact.Formula != "" {
				about = append(about, pair{name: "formula", value: fact.Formula})
			}
			if fact.Source != "" {
				about = append(about, pair{name: "source", value: fact.Source})
			}
			out.pairs(about)
		}
	} else {
		g := grid{columns: []column{{title: "fact"}, {title: "unit"}, {title: "meaning", wraps: true}}}
		scope := ""
		for _, fact := range data.Facts {
			if scope != "" && scope != fact.Scope {
				g.rows = append(g.rows, nil)
			}
			scope = fact.Scope
			unit := fact.Unit
			if fact.Kind == "truth" {
				unit = "yes/no"
			}
			g.rows = append(g.rows, []cell{{text: fact.Name, tone: toneStrong}, {text: unit}, {text: fact.Meaning}})
		}
		out.grid(g)
	}
	if len(data.Functions) > 0 {
		out.heading("Functions")
		g := grid{columns: []column{{title: "call"}, {title: "gives", wraps: true}}}
		for _, function := range data.Functions {
			g.rows = append(g.rows, []cell{{text: function.Signature, tone: toneStrong}, {text: function.Meaning}})
		}
		out.grid(g)
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
