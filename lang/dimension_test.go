package lang

import (
	"testing"

	"pgregory.net/rapid"
)

func TestDimensionNames(t *testing.T) {
	for _, c := range []struct {
		dim  Dimension
		want string
	}{
		{Plain, "a plain number"},
		{Length.Div(Time), "a speed"},
		{Speed.Mul(Time), "a length"},
		{Mass.Mul(Length).Mul(Length), "a moment of inertia"},
		{Plain.Div(Time), "a rate"},
		{Money.Div(Time), "an amount of money for a time"},
		{Length.Mul(Length), "a quantity in length^2"},
		{Mass.Mul(Speed), "a quantity in length·mass·time^-1"},
		{Aperture.Div(Money), "a quantity in f-number·money^-1"},
	} {
		if got := c.dim.String(); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

// Dimensions are a commutative group under multiplication.
func TestDimensionsMultiply(t *testing.T) {
	dimension := rapid.Custom(func(t *rapid.T) Dimension {
		d := Plain
		for range rapid.IntRange(0, 3).Draw(t, "factors") {
			factor := rapid.SampledFrom(dimensions).Draw(t, "factor").dim
			if rapid.Bool().Draw(t, "inverse") {
				factor = Plain.Div(factor)
			}
			d = d.Mul(factor)
		}
		return d
	})
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := dimension.Draw(t, "a"), dimension.Draw(t, "b"), dimension.Draw(t, "c")
		for _, law := range []struct {
			name      string
			got, want Dimension
		}{
			{"ab = ba", a.Mul(b), b.Mul(a)},
			{"(ab)c = a(bc)", a.Mul(b).Mul(c), a.Mul(b.Mul(c))},
			{"a/b·b = a", a.Div(b).Mul(b), a},
			{"a·1 = a", a.Mul(Plain), a},
			{"a/a = 1", a.Div(a), Plain},
		} {
			if law.got != law.want {
				t.Errorf("%s: got %s, want %s", law.name, law.got, law.want)
			}
		}
	})
}
