package rules

import (
	"math"
	"slices"
	"testing"

	"glassbrief/lang/expression"

	"pgregory.net/rapid"
)

// combine gives the mean of scores, each with its weight.
func combine(scores, weights []float64) float64 {
	m := newMean()
	for i, score := range scores {
		m.add(score, weights[i])
	}
	return m.value()
}

// The limits are those of the tyre-tread example of "Simultaneous optimization of several
// response variables" (1980), as the NIST/SEMATECH e-Handbook of Statistical Methods,
// section 5.5.3.2.2, takes it up: two responses to be as large as may be, two with a target.
// The expected values are computed from these limits with the published formulae.
func TestDesirabilityOfTyreTread(t *testing.T) {
	d := []float64{
		expression.Rising(145, 120, 170),
		expression.Rising(1300, 1000, 1300),
		expression.Peak(470, 400, 500, 600),
		expression.Peak(69, 60, 67.5, 75),
	}
	for i, want := range []float64{0.5, 1, 0.7, 0.8} {
		if math.Abs(d[i]-want) > 1e-9 {
			t.Errorf("response %d: got %v, want %v", i+1, d[i], want)
		}
	}
	got := combine(d, []float64{1, 1, 1, 1})
	if want := 0.72743; math.Abs(got-want) > 1e-5 {
		t.Errorf("overall: got %v, want %v", got, want)
	}
	d[2] = 0
	if got := combine(d, []float64{1, 1, 1, 1}); got != 0 {
		t.Errorf("with one response at zero: got %v, want 0", got)
	}
}

func TestCombine(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		name            string
		scores, weights []float64
		want            float64
	}{
		{"all good", []float64{1, 1, 1}, []float64{1, 2, 3}, 1},
		{"weights", []float64{0.25, 1}, []float64{1, 1}, 0.5},
		{"a weight is a repeat", []float64{0.25, 0.25, 1}, []float64{1, 1, 1}, combine([]float64{0.25, 1}, []float64{2, 1})},
		{"the unknown is left out", []float64{0.25, nan, 1}, []float64{1, 7, 1}, 0.5},
		{"nothing known", []float64{nan}, []float64{1}, nan},
		{"nothing at all", nil, nil, nan},
		{"below the smallest normal number", []float64{1e-310}, []float64{1}, 1e-310},
		{"a product below the smallest float", []float64{1e-90, 1e-90, 1e-90, 1e-90, 1e-90}, []float64{1, 1, 1, 1, 1}, 1e-90},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := combine(test.scores, test.weights)
			if math.IsNaN(got) != math.IsNaN(test.want) || math.Abs(got-test.want) > 1e-12*math.Abs(test.want) {
				t.Errorf("got %v, want %v", got, test.want)
			}
		})
	}
}

func TestCombineProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		scores := rapid.SliceOfN(rapid.Float64Range(0, 1), n, n).Draw(t, "scores")
		weights := rapid.SliceOfN(rapid.SampledFrom([]float64{1, 2, 3.5}), n, n).Draw(t, "weights")
		all := combine(scores, weights)
		low, high := slices.Min(scores), slices.Max(scores)
		if all < low*(1-1e-12) || all > high*(1+1e-12) {
			t.Fatalf("the mean %v is not between %v and %v", all, low, high)
		}
		i := rapid.IntRange(0, n-1).Draw(t, "raised")
		scores[i] += (1 - scores[i]) * rapid.Float64Range(0, 1).Draw(t, "by")
		if raised := combine(scores, weights); raised < all*(1-1e-12) {
			t.Fatalf("a better score %d lowered the mean from %v to %v", i, all, raised)
		}
	})
}
