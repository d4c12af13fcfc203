package catalog

import (
	"fmt"
	"math"

	"glassbrief/lang"
)

// The words for whose a lens is.
const (
	Owned    = "owned"
	Borrowed = "borrowed"
	Hired    = "rent"
)

// A Holding says whose a lens is, as "have owned", "have borrowed" or "have rent 35 EUR", with
// what the house that hires it out asks for beside the day, as "have rent 70 EUR week 210 EUR
// fetch 40 EUR least 2 days". Its zero value is unknown.
type Holding struct {
	Kind     string        // Owned, Borrowed, Hired, or "" when unknown
	DayRate  lang.Quantity // price of a day; unknown unless hired, and when nobody has asked
	WeekRate lang.Quantity // price of seven days in a row; unknown where a week is seven days
	Fetch    lang.Quantity // price of getting and returning it, once for each hire; unknown for none
	Least    lang.Quantity // days that are paid at least, a whole number; unknown for one
	Span     lang.Span
}

// leastPossible bounds the days that must be paid at least.
var leastPossible = lang.NewPlausible("1..31", "1..365")

// DecodeArgs reads the values of "have".
func (h *Holding) DecodeArgs(args *lang.Args) {
	h.Span = args.Rest()
	kind := args.Word(Owned, Borrowed, Hired).Value
	if kind == Hired && args.More() {
		h.DayRate = args.RoughQuantity(lang.Money)
		h.Span = h.Span.To(h.DayRate.Span)
		h.terms(args)
	}
	if args.Failed() {
		*h = Holding{}
		return
	}
	h.Kind = kind
}

// terms reads what stands behind the price of a day.
func (h *Holding) terms(args *lang.Args) {
	for args.More() && !args.Failed() {
		word := args.Word("week", "fetch", "least")
		to := map[string]*lang.Quantity{"week": &h.WeekRate, "fetch": &h.Fetch, "least": &h.Least}[word.Value]
		switch {
		case to == nil: // reported
			return
		case to.Known():
			args.Report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.DuplicateField, Span: word.Span,
				Summary: fmt.Sprintf("%q is given twice", word.Value), Detail: "Keep one of the two.",
			})
		case word.Value == "least":
			*to = args.Quantity(lang.Plain)
			args.Hold(*to, leastPossible, "a least hire", "Write days, as \"least 2 days\".")
			if to.Value != math.Trunc(to.Value) {
				args.Report(lang.Diagnostic{
					Severity: lang.Error, Code: lang.OutOfRange, Span: to.Span,
					Summary: fmt.Sprintf("%q is no number of days", to.Span.Text()), Detail: "Days are paid whole, as \"least 2 days\".",
				})
			}
			args.Skip("days", "day")
		default:
			*to = args.RoughQuantity(lang.Money)
		}
		h.Span = h.Span.To(to.Span)
	}
}

// Known reports whether it is known whose the lens is.
func (h Holding) Known() bool { return h.Kind != "" }

// prices lists what is given of money.
func (h Holding) prices() []lang.Quantity {
	var known []lang.Quantity
	for _, q := range []lang.Quantity{h.DayRate, h.WeekRate, h.Fetch} {
		if q.Known() {
			known = append(known, q)
		}
	}
	return known
}

// Show writes the holding for people.
func (h Holding) Show(p lang.Printer) string {
	if h.Kind != Hired || !h.DayRate.Known() {
		return h.Kind
	}
	text := Hired + " " + p.Given(h.DayRate) + " a day"
	if h.WeekRate.Known() {
		text += ", " + p.Given(h.WeekRate) + " a week"
	}
	if h.Fetch.Known() {
		text += ", " + p.Given(h.Fetch) + " to fetch"
	}
	if h.Least.Known() {
		text += fmt.Sprintf(", at least %g days", h.Least.Value)
	}
	return text
}

// Terms writes what stands behind the price of a day in a file, "" for nothing.
func (h Holding) Terms() string {
	text := ""
	for _, term := range []struct {
		word string
		of   lang.Quantity
		noun string
	}{{"week", h.WeekRate, ""}, {"fetch", h.Fetch, ""}, {"least", h.Least, " days"}} {
		if term.of.Known() {
			if text != "" {
				text += " "
			}
			text += term.word + " " + term.of.Span.Text() + term.noun
		}
	}
	return text
}

// Availability is when a lens can be had, as "available 2027-04-28..2027-05-31". Its zero value
// is always.
type Availability struct{ lang.Dates }

// Show writes the dates for people.
func (a Availability) Show(lang.Printer) string {
	switch {
	case !a.To.Known():
		return "from " + a.From.String()
	case !a.From.Known():
		return "until " + a.To.String()
	}
	return a.From.String() + " to " + a.To.String()
}
