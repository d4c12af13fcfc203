package lang

import (
	"math"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/currency"
)

// A Unit is one row of the table of units: how it is written, what it measures, and
// how many SI units it holds (exact by definition, but for the rounded decimals that
// the international yard and pound agreement fixes).
type Unit struct {
	Name   string // canonical spelling
	Dim    Dimension
	Factor float64 // SI units in one of these
	Spaced bool    // written with a space after the number: "2 stops"
}

// footcandle is one lumen a square foot.
const footcandle = 1 / (0.3048 * 0.3048)

var units = []struct {
	unit    Unit
	aliases []string
}{
	{Unit{Name: "m", Dim: Length, Factor: 1}, []string{"metre", "metres", "meter", "meters"}},
	{Unit{Name: "cm", Dim: Length, Factor: 1e-2}, nil},
	{Unit{Name: "mm", Dim: Length, Factor: 1e-3}, nil},
	{Unit{Name: "um", Dim: Length, Factor: 1e-6}, []string{"µm", "μm"}},
	{Unit{Name: "km", Dim: Length, Factor: 1e3}, nil},
	{Unit{Name: "in", Dim: Length, Factor: 0.0254}, []string{"inch", "inches"}},
	{Unit{Name: "ft", Dim: Length, Factor: 0.3048}, []string{"foot", "feet"}},
	{Unit{Name: "yd", Dim: Length, Factor: 0.9144}, nil},
	{Unit{Name: "kg", Dim: Mass, Factor: 1}, nil},
	{Unit{Name: "g", Dim: Mass, Factor: 1e-3}, []string{"gram", "grams"}},
	{Unit{Name: "lb", Dim: Mass, Factor: 0.45359237}, []string{"lbs"}},
	{Unit{Name: "oz", Dim: Mass, Factor: 0.45359237 / 16}, nil},
	{Unit{Name: "s", Dim: Time, Factor: 1}, []string{"sec"}},
	{Unit{Name: "ms", Dim: Time, Factor: 1e-3}, nil},
	{Unit{Name: "min", Dim: Time, Factor: 60}, nil},
	{Unit{Name: "h", Dim: Time, Factor: 3600}, nil},
	{Unit{Name: "rad", Dim: Angle, Factor: 1}, nil},
	{Unit{Name: "deg", Dim: Angle, Factor: math.Pi / 180}, []string{"°", "degree", "degrees"}},
	{Unit{Name: "lx", Dim: Illuminance, Factor: 1}, []string{"lux"}},
	{Unit{Name: "klx", Dim: Illuminance, Factor: 1e3}, nil},
	{Unit{Name: "fc", Dim: Illuminance, Factor: footcandle}, []string{"footcandle", "footcandles"}},
	{Unit{Name: "stops", Dim: Stops, Factor: 1, Spaced: true}, []string{"stop"}},
	{Unit{Name: "%", Dim: Plain, Factor: 1e-2}, []string{"percent"}},
	{Unit{Name: "fps", Dim: Rate, Factor: 1}, nil},
	{Unit{Name: "Hz", Dim: Rate, Factor: 1}, nil},
	{Unit{Name: "m/s", Dim: Speed, Factor: 1}, nil},
	{Unit{Name: "km/h", Dim: Speed, Factor: 1e3 / 3600.0}, nil},
	{Unit{Name: "ft/s", Dim: Speed, Factor: 0.3048}, nil},
	{Unit{Name: "mph", Dim: Speed, Factor: 1609.344 / 3600}, nil},
	{Unit{Name: "deg/s", Dim: AngularSpeed, Factor: math.Pi / 180}, nil},
	{Unit{Name: "rad/s", Dim: AngularSpeed, Factor: 1}, nil},
	{Unit{Name: "kgm2", Dim: Inertia, Factor: 1}, []string{"kgm²"}},
	{Unit{Name: "gm2", Dim: Inertia, Factor: 1e-3}, []string{"gm²"}},
	{Unit{Name: "kgm", Dim: Moment, Factor: 1}, nil},
	{Unit{Name: "N", Dim: Latitude, Factor: math.Pi / 180}, nil},
	{Unit{Name: "S", Dim: Latitude, Factor: -math.Pi / 180}, nil},
	{Unit{Name: "E", Dim: Longitude, Factor: math.Pi / 180}, nil},
	{Unit{Name: "W", Dim: Longitude, Factor: -math.Pi / 180}, nil},
}

// UnitNames gives the canonical spellings of the units of one dimension, in the order
// of the table; currencies are not listed.
func UnitNames(dim Dimension) []string {
	var names []string
	for _, row := range units {
		if row.unit.Dim == dim {
			names = append(names, row.unit.Name)
		}
	}
	return append(names, dim.row().forms...)
}

// UnitAliases gives the other spellings of the units of one dimension, in the order of the table.
func UnitAliases(dim Dimension) []string {
	var names []string
	for _, row := range units {
		if row.unit.Dim == dim {
			names = append(names, row.aliases...)
		}
	}
	return names
}

// FindUnit looks a unit up by any of its spellings. Besides the table it knows the
// quotient of any two of its units ("m/min"), currencies by their ISO 4217 code, whose
// factor is 1, and the quotient of a currency and one of its units ("EUR/min").
func FindUnit(text string) (Unit, bool) {
	if unit, ok := tableUnit(text); ok {
		return unit, true
	}
	if over, under, found := strings.Cut(text, "/"); found {
		a, okA := tableUnit(over)
		b, okB := tableUnit(under)
		if !okA {
			a, okA = moneyUnit(over)
		}
		if !okA || !okB {
			return Unit{}, false
		}
		return Unit{Name: a.Name + "/" + b.Name, Dim: a.Dim.Div(b.Dim), Factor: a.Factor / b.Factor, Spaced: a.Spaced}, true
	}
	return moneyUnit(text)
}

func moneyUnit(text string) (Unit, bool) {
	if !isCurrency(text) {
		return Unit{}, false
	}
	return Unit{Name: text, Dim: Money, Factor: 1, Spaced: true}, true
}

// Currency gives the currency of a unit of money, or of money for a time; "" of another.
func Currency(unit string) string {
	if over, _, _ := strings.Cut(unit, "/"); isCurrency(over) {
		return over
	}
	return ""
}

var unitIndex = sync.OnceValue(func() map[string]Unit {
	index := map[string]Unit{}
	for _, row := range units {
		index[row.unit.Name] = row.unit
		for _, alias := range row.aliases {
			index[alias] = row.unit
		}
	}
	return index
})

func tableUnit(text string) (Unit, bool) {
	unit, ok := unitIndex()[text]
	return unit, ok
}

func isCurrency(text string) bool {
	if len(text) != 3 || strings.ToUpper(text) != text {
		return false
	}
	_, err := currency.ParseISO(text)
	return err == nil
}

// nearestUnit gives the unit that is likely meant by a misspelling: one that differs in
// letter case only ("MM", "Lx"), else a plural ("kgs"), else the one of [Nearest].
func nearestUnit(text string) string {
	var names []string
	for _, row := range units {
		names = append(names, row.unit.Name)
		names = append(names, row.aliases...)
	}
	for _, name := range names {
		if strings.EqualFold(name, text) {
			return name
		}
	}
	if unit, ok := tableUnit(strings.TrimSuffix(text, "s")); ok {
		return unit.Name
	}
	if upper := strings.ToUpper(text); isCurrency(upper) {
		return upper
	}
	if len(text) < 2 {
		return ""
	}
	return Nearest(text, names)
}

func isUnitStart(r rune) bool { return unicode.IsLetter(r) || r == '%' || r == '°' }
