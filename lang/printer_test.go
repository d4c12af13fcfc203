package lang

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestPrinter(t *testing.T) {
	const foot, inch = 0.3048, 0.0254
	for _, c := range []struct {
		name             string
		value            float64
		unit             string
		metric, imperial string
	}{
		{"unknown", math.NaN(), "m", "unknown", "unknown"},
		{"without bound", math.Inf(1), "m", "infinity", "infinity"},
		{"without bound below", math.Inf(-1), "m", "-infinity", "-infinity"},
		{"plain", 1234, "", "1234", "1234"},
		{"plain, three digits", 0.123456, "", "0.123", "0.123"},
		{"nothing", 0, "", "0", "0"},
		{"no negative zero", -0.0001, "stops", "0 stops", "0 stops"},
		{"stop", 2.8284, "f/", "f/2.8", "f/2.8"},
		{"whole stop", 4, "f/", "f/4", "f/4"},
		{"stop from 10 on", 11.31, "T", "T11", "T11"},
		{"exposure value", 7.04, "EV", "EV7", "EV7"},
		{"share", 0.1234, "%", "12.3%", "12.3%"},
		{"small share", 0.001234, "%", "0.12%", "0.12%"},
		{"share of more than all", 1.1159, "%", "112%", "112%"},
		{"rounding of no share", -3.9e-18, "%", "0%", "0%"},
		{"money", 120.5, "EUR", "120.5 EUR", "120.5 EUR"},
		{"lens size", 0.0357, "mm", "35.7 mm", "35.7 mm"},
		{"pitch", 4.62e-6, "um", "4.62 um", "4.62 um"},
		{"mass", 0.62, "g", "620 g", "1.37 lb"},
		{"heavier", 2.345, "kg", "2.35 kg", "5.17 lb"},
		{"speed", 1.2, "m/s", "1.2 m/s", "3.94 ft/s"},
		{"light", 320, "lx", "320 lx", "29.7 fc"},
		{"bright light", 40960, "lx", "41000 lx", "3810 fc"},
		{"angle", math.Pi / 3, "deg", "60 deg", "60 deg"},
		{"small angle", 0.25 * math.Pi / 180, "deg", "0.25 deg", "0.25 deg"},
		{"rounding of no angle", -7e-18, "deg", "0 deg", "0 deg"},
		{"turning", math.Pi / 45, "deg/s", "4 deg/s", "4 deg/s"},
		{"centimetres", 0.25, "cm", "25 cm", "9 7/8in"},
		{"a few centimetres", 0.0312, "cm", "3.1 cm", "1 1/4in"},
		{"centimetres of a tape", 0.276, "cm", "28 cm", "10 7/8in"},
		{"a unit that nobody knows", 2, "turns", "2 turns", "2 turns"},
		{"inches and eighths", 20 * inch, "m", "0.51 m", "1ft 8in"},
		{"what a tape shows from half a metre on", 0.6324, "m", "0.63 m", "2ft 7/8in"},
		{"close focus", 0.2804, "m", "0.28 m", "11in"},
		{"a millimetre of close focus", 0.2876, "m", "0.288 m", "11 3/8in"},
		{"just below half a metre", 0.4996, "m", "0.50 m", "1ft 7 5/8in"},
		{"an eighth", 2.125 * inch, "m", "0.054 m", "2 1/8in"},
		{"less than an inch", 0.5 * inch, "m", "0.013 m", "1/2in"},
		{"whole feet", 2 * foot, "m", "0.61 m", "2ft"},
		{"behind the sensor", -2 * foot, "m", "-0.61 m", "-2ft"},
		{"thirds of a stop", 4.0 / 3, "stops", "1 1/3 stops", "1 1/3 stops"},
		{"one stop", 1, "stops", "1 stop", "1 stop"},
		{"a third", 1.0 / 3, "stops", "1/3 stop", "1/3 stop"},
		{"minus two thirds", -2.0 / 3, "stops", "-2/3 stop", "-2/3 stop"},
		{"minus one and a third", -4.0 / 3, "stops", "-1 1/3 stops", "-1 1/3 stops"},
		{"no thirds", 1.5, "stops", "1.5 stops", "1.5 stops"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := (Printer{}).Quantity(c.value, c.unit); got != c.metric {
				t.Errorf("metric: got %q, want %q", got, c.metric)
			}
			if got := (Printer{System: Imperial}).Quantity(c.value, c.unit); got != c.imperial {
				t.Errorf("imperial: got %q, want %q", got, c.imperial)
			}
		})
	}
}

// What is printed reads as the same quantity, to the digits that are printed.
func TestWithinDropsWhatIsNotKnown(t *testing.T) {
	for _, c := range []struct {
		system     System
		value, off float64
		unit, want string
	}{
		{Metric, 9.13, 0.129, "m", "9.1 m"},
		{Metric, 16.8, 6.6, "m", "17 m"},
		{Metric, 29.96, 17, "m", "30 m"},
		{Metric, 9.13, 0.004, "m", "9.13 m"},
		{Metric, 9.13, math.NaN(), "m", "9.13 m"},
		{Metric, 9.13, math.Inf(1), "m", "9.13 m"},
		{Metric, math.Inf(1), 3, "m", "infinity"},
		{Metric, math.NaN(), 3, "m", "unknown"},
		{Metric, 1.7512, 0.31, "s", "1.8 s"},
		{Metric, 0.1, 0.4, "s", "0.1 s"}, // what may be nothing is not said to be
		{Metric, 0.0068, 0.0014, "%", "0.7%"},
		{Metric, 41000, 20500, "lx", "40000 lx"},
		{Metric, 14.3, 1, "EV", "EV14"},
		{Metric, 4.5, 1, "", "5"},
		{Metric, 0.0081, 0.0044, "mm", "8 mm"},
		{Imperial, 9.13, 0.129, "m", "29ft 11in"},
		{Imperial, 16.8, 6.6, "m", "60ft"},
		{Imperial, 2, 0.01, "m", "6ft 6 1/2in"},
	} {
		if got := (Printer{System: c.system}).Within(c.value, c.off, c.unit); got != c.want {
			t.Errorf("%g within %g %s: got %q, want %q", c.value, c.off, c.unit, got, c.want)
		}
	}
}

func TestPrintedQuantitiesReadBack(t *testing.T) {
	units := []struct {
		unit     string
		dim      Dimension
		low      float64 // of the values to try, in SI units
		high     float64
		share    float64 // by which the printed value may differ
		absolute float64
	}{
		{"m", Length, 0.01, 500, 0.006, 0.002},
		{"mm", Length, 0.001, 0.8, 0.006, 0},
		{"um", Length, 1e-6, 1e-4, 0.006, 0},
		{"cm", Length, 0.01, 10, 0.006, 0.0051},
		{"kg", Mass, 0.05, 30, 0.006, 0},
		{"g", Mass, 0.05, 30, 0.006, 0},
		{"m/s", Speed, 0.05, 10, 0.006, 0},
		{"lx", Illuminance, 0.1, 1e5, 0.006, 0},
		{"deg", Angle, 0.001, 3, 0.006, 0.0005 * math.Pi / 180}, // to the thousandth at most
		{"deg/s", AngularSpeed, 0.001, 3, 0.006, 0},
		{"s", Time, 0.001, 100, 0.006, 0},
		{"fps", Rate, 1, 240, 0.006, 0},
		{"kgm2", Inertia, 0.001, 5, 0.006, 0},
		{"%", Plain, 1e-5, 20, 0.05, 0.0005},
		{"stops", Stops, -12, 12, 0, 0.051},
		{"f/", Aperture, 0.7, 64, 0.05, 0.051},
		{"T", Aperture, 0.7, 64, 0.05, 0.051},
		{"EUR", Money, 0, 5000, 0, 0.0051},
	}
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(units).Draw(t, "unit")
		value := rapid.Float64Range(unit.low, unit.high).Draw(t, "value")
		p := Printer{System: rapid.SampledFrom([]System{Metric, Imperial}).Draw(t, "system")}
		text := p.Quantity(value, unit.unit)
		got, err := ParseQuantity("test", text, unit.dim)
		if err != nil {
			t.Fatalf("%v in %s is printed as %q: %v", value, unit.unit, text, err)
		}
		if math.Abs(got.Value-value) > unit.share*math.Abs(value)+unit.absolute {
			t.Errorf("%v in %s is printed as %q, which reads as %v", value, unit.unit, text, got.Value)
		}
	})
}
