package lang

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestReadQuantities(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  Dimension
		want float64
		unit string
	}{
		{"1.6m", Length, 1.6, "m"},
		{"1.6 m", Length, 1.6, "m"},
		{".5m", Length, 0.5, "m"},
		{"-20mm", Length, -0.02, "mm"},
		{"5ft 10in", Length, 70 * 0.0254, "ft"},
		{"5ft10in", Length, 70 * 0.0254, "ft"},
		{"-5ft 10in", Length, -70 * 0.0254, "ft"},
		{"5 ft 3 1/2 in", Length, 63.5 * 0.0254, "ft"},
		{"6 1/2in", Length, 6.5 * 0.0254, "in"},
		{"1lb 8oz", Mass, 1.5 * 0.45359237, "lb"},
		{"1/50s", Time, 0.02, "s"},
		{"1/3 stop", Stops, 1.0 / 3, "stops"},
		{"1 1/3 stops", Stops, 4.0 / 3, "stops"},
		{"24000/1001fps", Rate, 24000.0 / 1001, "fps"},
		{"40%", Plain, 0.4, "%"},
		{"2", Plain, 2, ""},
		{"1/2", Plain, 0.5, ""},
		{"f/2.8", Aperture, 2.8, "f/"},
		{"T3.1", Aperture, 3.1, "T"},
		{"EV7", Illuminance, 320, "EV"},
		{"EV-2", Illuminance, 0.625, "EV"},
		{"30fc", Illuminance, 30 / (0.3048 * 0.3048), "fc"},
		{"5km/h", Speed, 5 / 3.6, "km/h"},
		{"8deg/s", AngularSpeed, 8 * math.Pi / 180, "deg/s"},
		{"180°", Angle, math.Pi, "deg"},
		{"120 EUR", Money, 120, "EUR"},
		{"6 EUR/min", Wage, 0.1, "EUR/min"},
		{"33.9S", Latitude, -33.9 * math.Pi / 180, "S"},
		{"1.5kgm2", Inertia, 1.5, "kgm2"},
	} {
		t.Run(c.text, func(t *testing.T) {
			got, err := ParseQuantity("test", c.text, c.dim)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(got.Value-c.want) > 1e-12*math.Abs(c.want) || got.Unit != c.unit || got.Span.Text() != c.text {
				t.Errorf("got %v %q at %q, want %v %q", got.Value, got.Unit, got.Span.Text(), c.want, c.unit)
			}
		})
	}
}

func TestQuantityThatIsUnknown(t *testing.T) {
	var unknown Quantity
	if unknown.Known() || unknown.Or(3) != 3 || !math.IsNaN(unknown.OrNaN()) {
		t.Errorf("got known %v, or %v, or NaN %v", unknown.Known(), unknown.Or(3), unknown.OrNaN())
	}
	if zero := NewQuantity(0, Length); !zero.Known() || zero.Or(3) != 0 || zero.OrNaN() != 0 {
		t.Errorf("zero is taken for unknown: %+v", zero)
	}
}

// A quantity means the same in its canonical spelling.
func TestCanonicalSpellingKeepsTheValue(t *testing.T) {
	number := rapid.StringMatching(`-?[0-9]{0,3}(\.[0-9]{1,3})?( [1-9]/[1-9]|/[1-9]{1,3})?`)
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.SampledFrom(units).Draw(t, "unit")
		name := rapid.SampledFrom(append([]string{row.unit.Name}, row.aliases...)).Draw(t, "spelling")
		text := number.Draw(t, "number") + rapid.SampledFrom([]string{"", " ", "\t"}).Draw(t, "blank") + name
		src, _ := NewSource("test", []byte(text))
		span := Span{Source: src, End: len(text)}
		if ScanQuantity(text) != len(text) {
			t.Skip("not a quantity")
		}
		before, d := ReadQuantity(span)
		if d != nil {
			t.Skip("a faulty one")
		}
		tidy := canonicalQuantity(span)
		again, _ := NewSource("test", []byte(tidy))
		after, d := ReadQuantity(Span{Source: again, End: len(tidy)})
		if d != nil || after.Value != before.Value || after.Dim != before.Dim || after.Unit != before.Unit {
			t.Errorf("%q is %v %s, and %q is %v %s (%v)", text, before.Value, before.Unit, tidy, after.Value, after.Unit, d)
		}
	})
}
