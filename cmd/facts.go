package cmd

import (
	"strconv"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/facts"
	"glassbrief/engine/people"
	"glassbrief/lang"
	"glassbrief/lang/expression"

	"github.com/spf13/cobra"
)

type factsData struct {
	travel.Header
	Facts     []factData     `json:"facts"`
	Functions []functionData `json:"functions"`
	People    []personData   `json:"people"`
}

type factData struct {
	Name      string `json:"name"`
	Kind      string `json:"kind"`
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

// personData is a figure of people in its unit.
type personData struct {
	Name    string        `json:"name"`
	Assumed bool          `json:"assumed"`
	Value   travel.Number `json:"value"`
	Low     travel.Number `json:"low"`
	High    travel.Number `json:"high"`
	Unit    string        `json:"unit"`
	Persons int           `json:"persons"`
	Source  string        `json:"source"`
	Moves   string        `json:"moves"`

	shown people.Figure
}

// facts is the verb that prints the vocabulary of rules.
func (a *app) facts() *cobra.Command {
	return &cobra.Command{
		Use:   "facts [WORD]",
		Short: "the vocabulary of rules: every fact, with formula and source",
		Long: `Lists the facts that need, prefer, veto, score, fact and when may name, the
functions they may use, and the figures of people behind the facts: what was
measured, and what is assumed since no published figure was found, with what
its range moves. With a word, only those whose name or meaning has it, with
formula and source.`,
		Example: `  glassbrief facts
  glassbrief facts focus
  glassbrief facts steadiness
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
			if len(data.Facts)+len(data.Functions)+len(data.People) == 0 {
				return usage(lang.UnknownName, "no fact has %q in its name or meaning", word).
					or(lang.Nearest(word, factNames())).because("%s lists all.", c.CommandPath())
			}
			return a.show(view{data: data, rows: rowsOf(data.Facts), page: func(p lang.Printer) show.Page { return factsPage(data, word != "", p) }})
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
	data := factsData{Header: travel.HeaderOf("facts"), Facts: []factData{}, Functions: []functionData{}, People: []personData{}}
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
	for _, figure := range people.Figures() {
		if !has(figure.Name, figure.Moves) {
			continue
		}
		data.People = append(data.People, personData{
			Name: figure.Name, Assumed: figure.Assumed(), Unit: figure.Unit, Persons: figure.Persons, Source: figure.Source, Moves: figure.Moves,
			Value: travel.In(figure.Value, figure.Unit), Low: travel.In(figure.Low, figure.Unit), High: travel.In(figure.High, figure.Unit),
			shown: figure,
		})
	}
	return data
}

func factsPage(data factsData, full bool, p lang.Printer) show.Page {
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
	peoplePage(&out, data.People, full, p)
	return out
}

// peoplePage adds the figures of people, those with a source first. A range is two standard
// deviations either way of what is measured.
func peoplePage(out *show.Page, all []personData, full bool, p lang.Printer) {
	for _, assumed := range []bool{false, true} {
		g := show.Grid{Columns: []show.Column{{Title: "figure", Wraps: true}, {Title: "is"}, {Title: "from"}, {Title: "to"}, {Title: "bears on", Wraps: true}}}
		var about [][]show.Pair
		for _, figure := range all {
			if figure.Assumed != assumed {
				continue
			}
			f := &figure.shown
			is, from, to := p.Quantity(f.Value, f.Unit), p.Quantity(f.Low, f.Unit), p.Quantity(f.High, f.Unit)
			said := []show.Pair{{Name: "figure", Value: f.Name}, {Name: "is", Value: is}}
			if f.Low == f.High {
				from, to = "", ""
			} else {
				said[1].Value += ", from " + from + " to " + to
			}
			g.Rows = append(g.Rows, []show.Cell{{Text: f.Name, Tone: show.Strong}, {Text: is}, {Text: from}, {Text: to}, {Text: f.Moves}})
			if f.Persons > 0 {
				said = append(said, show.Pair{Name: "persons", Value: strconv.Itoa(f.Persons)})
			}
			if !assumed {
				said = append(said, show.Pair{Name: "source", Value: f.Source})
			}
			about = append(about, append(said, show.Pair{Name: "bears on", Value: f.Moves}))
		}
		if len(g.Rows) == 0 {
			continue
		}
		if assumed {
			out.Heading("People, as assumed: no published figure was found")
		} else {
			out.Heading("People, as measured")
		}
		if full {
			out.Pairs(about...)
		} else {
			out.Grid(g)
		}
		if assumed && !full {
			out.Paragraph("Nothing was found of the wobble and the isolation of a rig either: they are lines of the catalogue, and \"catalog doctor\" says how to measure them.")
		}
	}
}

// atMostOne is for verbs that take nothing or one thing.
func atMostOne(what string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if len(args) <= 1 {
			return nil
		}
		return usage(lang.ExtraValue, "%q takes one %s, and %q is a second", c.CommandPath(), what, args[1]).
			because("%s", extraRemedy(c, args[1], ""))
	}
}
