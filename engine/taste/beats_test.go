package taste_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"glassbrief/engine/taste"
	"glassbrief/lang/langtest"
)

// volume is the closed form, for numbers that are all different.
func volume(a []float64) float64 {
	sum := 0.0
	for i, x := range a {
		if x <= 0 {
			continue
		}
		term := 1.0
		for j, y := range a {
			if j != i {
				term *= x / (x - y)
			}
		}
		sum += term
	}
	return sum
}

// The share of a simplex is that of the closed form where that keeps its digits, and does not change
// where numbers come together.
func TestAboveZero(t *testing.T) {
	for _, c := range []struct {
		a    []float64
		want float64
	}{
		{[]float64{1, -1}, 0.5},
		{[]float64{3, -1}, 0.75},
		{[]float64{1, 1, -1, -1}, 0.5},
		{[]float64{1, 1, 1, -1}, 0.875}, // 1 − ½³: the last alone must outlast three
		{[]float64{0, 2, -1}, 2. / 3},   // what is 0 changes nothing
		{[]float64{1, 1, -2}, 1 - 4./9}, // (2/3)²
		{[]float64{-1, -5}, 0}, {[]float64{2, 0}, 1}, {[]float64{0, 0}, 0}, {nil, 0},
		{[]float64{1e-300, -1e300}, 0}, {[]float64{math.Inf(1), -1}, 1},
	} {
		if got := taste.AboveZero(c.a); math.Abs(got-c.want) > 1e-15 {
			t.Errorf("%v: got %v, want %v", c.a, got, c.want)
		}
	}
	r := rand.New(rand.NewPCG(17, 3))
	for range langtest.Cases(1000) {
		a := make([]float64, 2+r.IntN(8))
		for i := range a {
			a[i] = float64(i) + 0.2 + 0.6*r.Float64() - 4 // apart by 0.4 at least
		}
		r.Shuffle(len(a), func(i, j int) { a[i], a[j] = a[j], a[i] })
		got, want := taste.AboveZero(a), volume(a)
		if math.Abs(got-want) > 1e-9 {
			t.Fatalf("%v: got %v, want %v", a, got, want)
		}
		for i := range a {
			a[i] *= 1 + 1e-13*r.Float64()
		}
		a[0] = a[len(a)-1]
		near := append([]float64(nil), a...)
		near[0] *= 1 + 1e-12
		if got, want := taste.AboveZero(near), taste.AboveZero(a); math.Abs(got-want) > 1e-11 {
			t.Fatalf("%v: %v, and of nearly equal numbers %v", a, want, got)
		}
	}
}
