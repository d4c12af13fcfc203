package brief

import (
	"fmt"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// Limits bound the kit.
type Limits struct {
	Carry     int
	Rent      float64 // money a day; negative for no limit
	Currency  string
	BagMass   float64 // kg; 0 for no limit
	Bring     []string
	Leave     []string
	OwnedOnly bool

	BringSpan lang.Span // where Bring is asked for
}

// Bars reports whether a lens may not come whatever else does.
func (l *Limits) Bars(lens *catalog.Lens) bool {
	return slices.Contains(l.Leave, lens.Name.Value) || l.OwnedOnly && lens.Have.Kind == catalog.Hired
}

// Lacks names what is not known of a lens and a limit asks for, by the limit: whose it is, or the
// price of a day. Both are "" where nothing is.
func (l *Limits) Lacks(lens *catalog.Lens) (limit, what string) {
	by := "rent"
	switch {
	case l.OwnedOnly:
		by = "owned_only"
	case l.Rent < 0:
		return "", ""
	}
	switch {
	case !lens.Have.Known():
		return by, "owner"
	case !l.OwnedOnly && lens.Have.Kind == catalog.Hired && !lens.Have.DayRate.Known():
		return by, "price of a day"
	}
	return "", ""
}

// Barring names the statement that bars a lens.
func (l *Limits) Barring(lens string) string {
	if slices.Contains(l.Leave, lens) {
		return "leave"
	}
	return "owned_only"
}

func (l *loader) limits(c *catalog.Catalogue) Limits {
	h := &l.doc.Scenario
	limits := Limits{
		Carry: defaultCarry, Rent: h.Rent.Or(-1), Currency: h.Rent.Unit,
		BagMass: h.Bag.Or(0), OwnedOnly: h.OwnedOnly.Set,
	}
	if carry := h.Carry; carry.Known() {
		limits.Carry = int(carry.Value)
		if carry.Value != math.Trunc(carry.Value) {
			l.outOfRange(carry.Span, fmt.Sprintf("%q is no number of lenses to carry", carry.Span.Text()), "Write a whole number.")
		}
	}
	for _, list := range []struct {
		names []lang.Text
		to    *[]string
	}{{h.Bring, &limits.Bring}, {h.Leave, &limits.Leave}} {
		for _, name := range list.names {
			if resolve(l, &c.Lenses, name) != nil {
				*list.to = append(*list.to, name.Value)
			}
		}
	}
	if len(h.Bring) > 0 {
		limits.BringSpan = h.Bring[0].Span
	}
	l.checkCurrency(c, &limits)
	return limits
}

// checkCurrency holds all money of the scenario to one currency, that of the catalogue, which has
// one, since nothing here knows a rate of exchange.
func (l *loader) checkCurrency(c *catalog.Catalogue, limits *Limits) {
	h := &l.doc.Scenario
	differ := func(a, b lang.Quantity, note string) {
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.Contradiction, Span: a.Span,
			Summary: fmt.Sprintf("%q is in another currency than %q", a.Span.Text(), b.Span.Text()),
			Detail:  "Write all money of one brief in one currency.",
			Related: []lang.Related{{Span: b.Span, Note: note}},
		})
	}
	var said lang.Quantity
	for _, q := range []lang.Quantity{h.Rent, h.Budget, h.Crew, l.files.House.Crew} {
		switch {
		case !q.Known():
		case !said.Known():
			said, limits.Currency = q, lang.Currency(q.Unit)
		case lang.Currency(q.Unit) != limits.Currency:
			differ(q, said, "this is the other")
		}
	}
	for _, lens := range c.Lenses.All() {
		rate := lens.Have.DayRate
		switch {
		case !rate.Known() || rate.Unit == limits.Currency:
		case !said.Known():
			limits.Currency = rate.Unit
		default:
			differ(said, rate, "this is the first price")
			return
		}
	}
}
