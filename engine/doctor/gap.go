package doctor

import (
	"cmp"
	"fmt"
	"math"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/optics"
)

// A gap is a field of a lens that may be unknown, and what to try in its place, as a file
// writes it, the most favourable first and the least favourable last; nil for a lens of which the
// field says nothing.
// The ranges are this project's judgement of what is made for handheld work.
type gap struct {
	keyword string
	trials  func(l *catalog.Lens, s *brief.Scenario) []string
}

func fixed(trials ...string) func(*catalog.Lens, *brief.Scenario) []string {
	return func(*catalog.Lens, *brief.Scenario) []string { return trials }
}

// gaps lists the fields in the order in which they are quick to find out.
var gaps = []gap{
	{"aperture", fixed("f/1.4..f/22", "f/5.6..f/22")},
	{"have", holdings},
	{"focus", fixed(catalog.FocusAuto, catalog.FocusManual, catalog.FocusWire)},
	{"thread", fixed("77mm", "none")},
	{"mass", fixed("150g", "2.5kg")},
	{"length", fixed("30mm", "250mm")},
	{"diameter", fixed("55mm", "130mm")},
	{"close_focus", closeFocus},
	{"magnification", magnification},
	{"balance", fixed("15mm", "120mm")},
	{"circle", fixed("46mm", "21mm")},
	{"distortion", fixed("0%", "4%", "-6%")},
	{"transmission", transmission},
	{"falloff", fixed("0.3 stops", "3 stops")},
}

// closeFocus runs from five to twenty focal lengths.
func closeFocus(l *catalog.Lens, _ *brief.Scenario) []string {
	focal := l.Focal.Low.Or(0.05)
	return []string{metres(min(max(5*focal, 0.12), 2)), metres(min(max(20*focal, 0.5), 4))}
}

// magnification is that of a macro: only how deep that is sharp close by depends on it.
func magnification(l *catalog.Lens, _ *brief.Scenario) []string {
	if !optics.TooNear(l.Focal.High.OrNaN(), l.CloseFocus.OrNaN()) {
		return nil
	}
	return []string{"1:2", "2:1"}
}

func metres(x float64) string { return fmt.Sprintf("%gm", math.Round(x*100)/100) }

// transmission runs from none to a stop of loss behind the f-number, or else over what is
// made.
func transmission(l *catalog.Lens, _ *brief.Scenario) []string {
	if f := l.WidestStop(); f.Known() {
		return []string{stop(f.Value), stop(f.Value * math.Sqrt2)}
	}
	return []string{"T1.5", "T6.3"}
}

func stop(n float64) string { return fmt.Sprintf("T%g", math.Round(n*100)/100) }

// holdings runs from a lens of the house to the dearest for hire, or, for one that is for hire, from
// the cheapest.
func holdings(l *catalog.Lens, s *brief.Scenario) []string {
	cheap, dear, currency := 5.0, 50.0, cmp.Or(s.Limits.Currency, "EUR")
	for _, other := range s.Catalogue.Lenses.All() {
		if rate := other.Have.DayRate; rate.Known() {
			cheap, dear, currency = min(cheap, rate.Value), max(dear, rate.Value), rate.Unit
		}
	}
	rent := func(price float64) string { return fmt.Sprintf("%s %g %s", catalog.Hired, price, currency) }
	if l.Have.Kind == catalog.Hired {
		return []string{rent(cheap), rent(dear)}
	}
	return []string{catalog.Owned, rent(dear)}
}
