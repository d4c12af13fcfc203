package cmd

import (
	"fmt"
	"iter"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/lang"
)

// A listing says once what there is to say of each thing of a list, in the order in which
// programs read it. Text, Markdown, JSON and CSV are made from it.
type listing[T any] []item[T]

// An item is one value of a thing: people read it in the column with its title, and
// programs under its key. An item without a title or without a key is for the others alone.
type item[T any] struct {
	show.Column
	key   string
	value func(T) any // of a travel.Member
	// cell is what people read where the value alone does not say it.
	cell func(T, lang.Printer) show.Cell
	tone show.Tone
}

// objects gives what programs read of things.
func (l listing[T]) objects(things []T) []travel.Object {
	list := make([]travel.Object, len(things))
	for i, thing := range things {
		for _, x := range l {
			if x.key != "" {
				list[i] = append(list[i], travel.Member{Key: x.key, Value: x.value(thing)})
			}
		}
	}
	return list
}

// grid lays things out for people, a row each.
func (l listing[T]) grid(things []T, p lang.Printer) show.Grid {
	g := show.Grid{Rows: make([][]show.Cell, len(things))}
	for _, x := range l {
		if x.Title == "" {
			continue
		}
		g.Columns = append(g.Columns, x.Column)
		for i, thing := range things {
			if x.cell != nil {
				g.Rows[i] = append(g.Rows[i], x.cell(thing, p))
			} else {
				g.Rows[i] = append(g.Rows[i], show.Cell{Text: textOf(x.value(thing), p), Tone: x.tone})
			}
		}
	}
	return g
}

// textOf writes a value of a member for people.
func textOf(value any, p lang.Printer) string {
	switch value := value.(type) {
	case travel.Figure:
		return p.Quantity(value.SI, value.Unit)
	case []string:
		return strings.Join(value, ", ")
	}
	return fmt.Sprint(value)
}

// rowsOf gives things as rows of CSV.
func rowsOf[T any](things []T) iter.Seq[any] {
	return func(yield func(any) bool) {
		for _, thing := range things {
			if !yield(thing) {
				return
			}
		}
	}
}

// objectFor begins the object that a verb gives.
func objectFor(verb string, members ...travel.Member) travel.Object {
	return append(travel.Object{{Key: "schema", Value: travel.HeaderOf(verb).Schema}}, members...)
}
