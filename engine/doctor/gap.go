package doctor

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

// written gives a value in SI units as a file writes it, to three digits.
func written(value float64, unit string) string {
	prefix, suffix, factor := "", unit, 1.0
	switch unit {
	case "T", "f/":
		prefix, suffix = unit, ""
	case "%":
		factor = 0.01
	case "stops":
		suffix = " stops"
	default:
		if row, ok := lang.FindUnit(unit); ok {
			factor = row.Factor
		}
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(value/factor, 'g', 3, 64), 64)
	return prefix + strconv.FormatFloat(rounded, 'f', -1, 64) + suffix
}

// trialsOf gives the values of an assumed figure that are tried, as a file writes them, the
// lowest first. Of an interval the other end stays as it is stated.
func trialsOf(a *brief.Assumption, stated lang.Interval) []string {
	var trials []string
	for _, value := range slices.Sorted(slices.Values(a.Probes())) {
		trial := written(value, a.Unit)
		switch low := stated.Low; {
		case a.Keyword == "iso_range" && !low.Known():
			trial = ".." + trial
		case a.Keyword == "iso_range" || a.Keyword == "aperture":
			trial = written(low.Value, low.Unit) + ".." + trial
		case a.Keyword == "payload":
			trial += ".." + written(stated.High.Value, stated.High.Unit)
		}
		trials = append(trials, trial)
	}
	return slices.Compact(trials)
}

// luxOf reads the light of a line that trialsOf writes.
func luxOf(line string) float64 {
	value, _ := strconv.ParseFloat(strings.TrimSuffix(strings.TrimPrefix(line, "light "), "lx"), 64)
	return value
}

// A question is about a field of a lens in whose place no range stands, and what to try there,
// as a file writes it. The answers are this project's judgement of what is made for handheld
// work.
type question struct {
	keyword string
	asked   func(l *catalog.Lens, s *brief.Scenario) bool
	trials  func(l *catalog.Lens, s *brief.Scenario) []string
	// doubtful is a question whose answer is nearly always what the missing line means.
	doubtful bool
}

func fixed(trials ...string) func(*catalog.Lens, *brief.Scenario) []string {
	return func(*catalog.Lens, *brief.Scenario) []string { return trials }
}

// questions lists them in the order in which they are quick to find out.
var questions = []question{
	{"aperture", func(l *catalog.Lens, _ *brief.Scenario) bool { return !l.WidestStop().Known() }, fixed("f/1.4..f/22", "f/5.6..f/22"), false},
	{"have", func(l *catalog.Lens, _ *brief.Scenario) bool {
		return l.Have.Kind == "" || l.Have.Kind == catalog.Hired && !l.Have.DayRate.Known()
	}, holdings, false},
	{"focus", func(l *catalog.Lens, _ *brief.Scenario) bool { return l.Focus.Value == "" }, fixed(catalog.FocusAuto, catalog.FocusManual, catalog.FocusWire), false},
	{"scale", func(l *catalog.Lens, _ *brief.Scenario) bool { return l.Focus.Value != "" && l.FocusScale() == "" }, fixed(catalog.ScaleMarked, catalog.ScaleNone), true},
	{"projection", func(l *catalog.Lens, s *brief.Scenario) bool { return s.Around.MayBeFisheye(l) }, fixed("rectilinear", "equisolid"), true},
	{"magnification", func(l *catalog.Lens, _ *brief.Scenario) bool {
		return !l.Magnification.Known() && optics.TooNear(l.Focal.High.OrNaN(), l.CloseFocus.OrNaN())
	}, fixed("1:2", "2:1"), false},
	{"transmission", func(l *catalog.Lens, _ *brief.Scenario) bool {
		return !l.Transmission.Known() && !l.WidestStop().Known()
	}, fixed("T1.5", "T6.3"), false},
	{"thread", func(l *catalog.Lens, _ *brief.Scenario) bool { return !l.Thread.Known() }, fixed("77mm", "none"), false},
	{"diameter", func(l *catalog.Lens, _ *brief.Scenario) bool { return !l.Diameter.Known() }, fixed("55mm", "130mm"), false},
	{"balance", func(l *catalog.Lens, _ *brief.Scenario) bool { return !l.Balance.Known() }, fixed("15mm", "120mm"), false},
}

// strengths are what ND filters of unknown strength are tried with.
var strengths = []string{"2 stops", "6 stops"}

// holdings runs from a lens of the house to the dearest for hire, or, for one that is for hire, from
// the cheapest.
func holdings(l *catalog.Lens, s *brief.Scenario) []string {
	cheap, dear, currency := 5.0, 50.0, cmp.Or(s.Limits.Currency, "EUR")
	for _, other := range s.Stated.Lenses.All() {
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
