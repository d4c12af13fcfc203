package catalog

import "glassbrief/lang"

// The words for whose a lens is.
const (
	Owned    = "owned"
	Borrowed = "borrowed"
	Hired    = "rent"
)

// A Holding says whose a lens is, as "have owned", "have borrowed" or
// "have rent 35 EUR". Its zero value is unknown.
type Holding struct {
	Kind    string        // Owned, Borrowed, Hired, or "" when unknown
	DayRate lang.Quantity // price of a day, known only when hired
	Span    lang.Span
}

// DecodeArgs reads the values of "have".
func (h *Holding) DecodeArgs(args *lang.Args) {
	h.Span = args.Rest()
	kind := args.Word(Owned, Borrowed, Hired).Value
	if kind == Hired {
		h.DayRate = args.Quantity(lang.Money)
		h.Span = h.Span.To(h.DayRate.Span)
	}
	if args.Failed() {
		*h = Holding{}
		return
	}
	h.Kind = kind
}

// Known reports whether it is known whose the lens is.
func (h Holding) Known() bool { return h.Kind != "" }

// Show writes the holding for people.
func (h Holding) Show(p lang.Printer) string {
	if h.Kind == Hired {
		return Hired + " " + p.Quantity(h.DayRate.Value, h.DayRate.Unit) + " a day"
	}
	return h.Kind
}
