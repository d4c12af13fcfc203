package engine

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"glassbrief/catalog"
	"glassbrief/engine/kit"
	"glassbrief/lang"
)

// Bars reports whether a lens may not come whatever else does.
func (l *Limits) Bars(lens *catalog.Lens) bool {
	return slices.Contains(l.Leave, lens.Name.Value) || l.OwnedOnly && lens.Have.Kind == catalog.Hired
}

// keepsOut names the limit by which a lens cannot come even alone, with the figures, or
// gives "".
func (l *Limits) keepsOut(g *glass, printer lang.Printer) string {
	switch {
	case slices.Contains(l.Bring, g.lens.Name.Value):
	case l.Bars(g.lens):
		return l.barring(g.lens.Name.Value) + " keeps it out"
	case l.Rent >= 0 && g.input.DayRate > l.Rent:
		return fmt.Sprintf("it costs %s a day, and \"rent\" allows %s",
			printer.Quantity(g.input.DayRate, l.Currency), printer.Quantity(l.Rent, l.Currency))
	case l.BagMass > 0 && math.IsNaN(g.input.Mass):
		return fmt.Sprintf("its mass is not known, and \"bag\" allows %s", printer.Quantity(l.BagMass, "kg"))
	case l.BagMass > 0 && g.input.Mass > l.BagMass:
		return fmt.Sprintf("it weighs %s, and \"bag\" allows %s", printer.Quantity(g.input.Mass, "kg"), printer.Quantity(l.BagMass, "kg"))
	}
	return ""
}

// contradiction names the lenses and statements behind a solver's [kit.LimitError]. Any
// other error comes back as it is.
func (t *Table) contradiction(limits *Limits, err error) error {
	var limit *kit.LimitError
	if !errors.As(err, &limit) {
		return err
	}
	d := lang.Diagnostic{
		Severity: lang.Error, Code: lang.Contradiction, Span: t.Scenario.span, Summary: limit.Reason,
		Detail: "Loosen one of the limits: carry, bag, rent, leave or owned_only.",
	}
	var names []string
	for _, j := range limit.Lenses {
		names = append(names, t.glass[j].lens.Name.Value)
		d.Span = limits.bring
	}
	switch {
	case len(t.glass) == 0:
		d.Summary = "the catalogue holds no lens to choose from"
		d.Detail = "Name a catalogue that does in a \"use\" line."
	case names == nil:
	case limits.Bars(t.glass[limit.Lenses[0]].lens):
		d.Summary = fmt.Sprintf("\"bring\" asks for %s, which %s keeps out", listed(names[:1]), limits.barring(names[0]))
		d.Detail = "Take it out of one of the two."
	default:
		d.Detail = fmt.Sprintf("\"bring\" asks for %s. Take a lens out of it, or loosen the other limit.", listed(names))
	}
	return lang.Diagnostics{d}
}

// barring names the statement that bars a lens.
func (l *Limits) barring(lens string) string {
	if slices.Contains(l.Leave, lens) {
		return "\"leave\""
	}
	return "\"owned_only\""
}
