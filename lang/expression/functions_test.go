package expression

import (
	"math"
	"slices"
	"testing"

	"glassbrief/lang"

	"pgregory.net/rapid"
)

var (
	inf = math.Inf(1)
	nan = math.NaN()
)

func TestFunctionValues(t *testing.T) {
	tests := []struct {
		name      string
		got, want float64
	}{
		{"rising below", Rising(1, 2, 4), 0},
		{"rising halfway", Rising(3, 2, 4), 0.5},
		{"rising above", Rising(5, 2, 4), 1},
		{"rising step, at it", Rising(2, 2, 2), 1},
		{"rising step, below", Rising(1.9, 2, 2), 0},
		{"rising of infinity", Rising(inf, 0, 1), 1},
		{"rising of minus infinity", Rising(-inf, 0, 1), 0},
		{"rising from minus infinity", Rising(0, -inf, 1), 1},
		{"rising to infinity", Rising(5, 0, inf), 0},
		{"rising between infinities", Rising(5, -inf, inf), 0.5},
		{"rising over a way too long for a float", Rising(0, -math.MaxFloat64, math.MaxFloat64), 0.5},
		{"rising of NaN", Rising(nan, 0, 1), nan},
		{"rising from NaN", Rising(2, nan, 1), nan},
		{"rising to NaN", Rising(0, 1, nan), nan},
		{"falling halfway", Falling(3, 2, 4), 0.5},
		{"falling near its start", Falling(2.5, 2, 4), 0.75},
		{"falling step, at it", Falling(2, 2, 2), 1},
		{"falling step, above", Falling(2.1, 2, 2), 0},
		{"falling of infinity", Falling(inf, 0, 1), 0},
		{"falling of NaN", Falling(nan, 0, 1), nan},
		{"peak at target", Peak(3, 1, 3, 7), 1},
		{"peak below", Peak(2, 1, 3, 7), 0.5},
		{"peak above", Peak(6, 1, 3, 7), 0.25},
		{"peak outside", Peak(8, 1, 3, 7), 0},
		{"peak with a step below", Peak(0.9, 1, 1, 2), 0},
		{"peak of infinity", Peak(inf, 1, 3, 7), 0},
		{"peak of NaN", Peak(nan, 1, 3, 7), nan},
		{"clamp", Clamp(9, 1, 3), 3},
		{"clamp of NaN", Clamp(nan, 1, 3), nan},
		{"min hands NaN on", least(1, nan), nan},
		{"max hands NaN on", greatest(nan, 1), nan},
		{"stops between f/4 and f/2 worth of light", stopsBetween(8, 2), 2},
		{"stops below nothing", stopsBetween(1, 0), inf},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if test.got != test.want && !(math.IsNaN(test.got) && math.IsNaN(test.want)) {
				t.Errorf("got %v, want %v", test.got, test.want)
			}
		})
	}
	if between(nan, 0, 1) || between(0, nan, 1) || !between(1, 1, 1) {
		t.Error("between must hold its bounds and be false for NaN")
	}
}

func TestDesirabilityProperties(t *testing.T) {
	number := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-10, 10), rapid.SampledFrom([]float64{-inf, inf, 0}))
	rapid.Check(t, func(t *rapid.T) {
		xs := []float64{number.Draw(t, "x"), number.Draw(t, "x")}
		bounds := []float64{number.Draw(t, "bound"), number.Draw(t, "bound"), number.Draw(t, "bound")}
		slices.Sort(xs)
		slices.Sort(bounds)
		from, target, to := bounds[0], bounds[1], bounds[2]
		for name, pair := range map[string][2]float64{
			"rising":  {Rising(xs[0], from, to), Rising(xs[1], from, to)},
			"falling": {Falling(xs[1], from, to), Falling(xs[0], from, to)},
			"peak":    {Peak(min(xs[0], target), from, target, to), Peak(min(xs[1], target), from, target, to)},
		} {
			if !(0 <= pair[0] && pair[0] <= pair[1] && pair[1] <= 1) {
				t.Errorf("%s of %v within %v gave %v: want shares in order", name, xs, bounds, pair)
			}
		}
	})
}

func TestFunctionTable(t *testing.T) {
	seen := map[string]bool{}
	for _, f := range Functions() {
		if seen[f.Name] || f.Meaning == "" || len(f.parameters) == 0 {
			t.Errorf("%q stands twice, or lacks its meaning or parameters", f.Name)
		}
		seen[f.Name] = true
		row := f.forExpr()
		if row.Types[0].NumIn() != len(f.parameters) && !row.Types[0].IsVariadic() {
			t.Errorf("%s lists %d parameters and takes %d", f.Signature(), len(f.parameters), row.Types[0].NumIn())
		}
		if f.Go != nil && f.dim(lang.Length) != lang.Length && f.dim(lang.Length) != f.dim(lang.Mass) {
			t.Errorf("%s gives neither the dimension of its arguments nor one of its own", f.Name)
		}
	}
}
