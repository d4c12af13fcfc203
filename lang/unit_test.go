package lang

import (
	"math"
	"strings"
	"testing"
)

func TestUnits(t *testing.T) {
	for _, c := range []struct {
		name   string
		dim    Dimension
		factor float64 // by definition
	}{
		{"in", Length, 0.0254}, {"inches", Length, 0.0254}, {"ft", Length, 12 * 0.0254}, {"yd", Length, 36 * 0.0254},
		{"µm", Length, 1e-6}, {"μm", Length, 1e-6}, // the micro sign, and the Greek letter
		{"lb", Mass, 0.45359237}, {"oz", Mass, 0.45359237 / 16},
		{"deg", Angle, math.Pi / 180}, {"°", Angle, math.Pi / 180},
		{"fc", Illuminance, 1 / (0.3048 * 0.3048)}, {"min", Time, 60}, {"%", Plain, 0.01},
		{"mph", Speed, 1609.344 / 3600}, {"km/h", Speed, 1 / 3.6}, {"ft/s", Speed, 0.3048}, {"m/min", Speed, 1.0 / 60},
		{"deg/s", AngularSpeed, math.Pi / 180}, {"kgm²", Inertia, 1}, {"gm2", Inertia, 0.001},
		{"EUR", Money, 1}, {"EUR/min", Wage, 1.0 / 60}, {"USD/h", Wage, 1.0 / 3600}, {"CHF", Money, 1}, {"S", Latitude, -math.Pi / 180}, {"W", Longitude, -math.Pi / 180},
	} {
		unit, ok := FindUnit(c.name)
		if !ok || unit.Dim != c.dim || math.Abs(unit.Factor-c.factor) > 1e-15*math.Abs(c.factor) {
			t.Errorf("%s: got %v %+v, want %s, %v", c.name, ok, unit, c.dim, c.factor)
		}
	}
	for _, name := range []string{"", "mmm", "M", "eur", "ABC", "m/", "/s", "m/x", "m/s/s", "metre s", "min/EUR", "ABC/min", "EUR/x"} {
		if unit, ok := FindUnit(name); ok {
			t.Errorf("%q is taken for %+v", name, unit)
		}
	}
}

// Every spelling of the table is read behind a number and comes out canonical.
func TestEverySpellingReads(t *testing.T) {
	seen := map[string]bool{}
	for _, row := range units {
		for _, name := range append([]string{row.unit.Name}, row.aliases...) {
			if seen[name] {
				t.Errorf("%q stands twice in the table", name)
			}
			seen[name] = true
			q, err := ParseQuantity("test", "2"+name, row.unit.Dim)
			if err != nil {
				t.Errorf("2%s: %v", name, err)
				continue
			}
			if q.Unit != row.unit.Name || math.Abs(q.Value-2*row.unit.Factor) > 1e-12*math.Abs(q.Value) {
				t.Errorf("2%s: got %v %q, want %v %q", name, q.Value, q.Unit, 2*row.unit.Factor, row.unit.Name)
			}
			tidy := strings.TrimSpace(tidyText("a 2" + name))
			if again := strings.TrimSpace(tidyText(tidy)); again != tidy || !strings.HasSuffix(tidy, row.unit.Name) {
				t.Errorf("2%s is tidied to %q and then %q", name, tidy, again)
			}
		}
	}
}

func TestUnitNames(t *testing.T) {
	for _, row := range dimensions {
		for _, name := range UnitNames(row.dim) {
			text := "2" + name
			if strings.ContainsAny(name, "0123456789") && row.dim != Inertia {
				text = name // a whole quantity, as f/2.8
			}
			if _, err := ParseQuantity("test", text, row.dim); err != nil {
				t.Errorf("%s is listed as %s: %v", name, row.name, err)
			}
		}
	}
}

func TestNearestUnit(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"MM", "mm"}, {"Lx", "lx"}, {"KG", "kg"}, {"kgs", "kg"}, {"mms", "mm"}, {"eur", "EUR"}, {"usd", "USD"},
		{"luxx", "lux"}, {"metr", "metre"}, {"km/hr", "km/h"}, {"q", ""}, {"zzzz", ""},
	} {
		if got := nearestUnit(c.text); got != c.want {
			t.Errorf("%s: got %q, want %q", c.text, got, c.want)
		}
	}
}
