package sure

import (
	"math"
	"math/rand/v2"
	"slices"
)

// Draws are a low-discrepancy sequence that is gone through several times, each time shifted at random
// in every dimension. Each shifted repeat is an estimate without bias, and independent of the others, so
// that their spread tells the sampling error, which a single sequence does not (Cranley and Patterson,
// "Randomization of number theoretic methods for multiple integration", 1976; L'Ecuyer and Lemieux,
// "Recent advances in randomized quasi-Monte Carlo methods", 2002).
//
// The sequence is Richtmyer's: point i is the fractional part of i √p in each dimension, with a prime p
// of its own for each, of those with which few points are even already. Its points fill a cube of many
// dimensions more evenly than random ones (Niederreiter, "Random Number Generation and Quasi-Monte Carlo
// Methods", 1992, chapter 3).
type draws struct {
	steps  []float64   // by dimension
	shifts [][]float64 // by repeat and dimension
	number int         // of points in all repeats
}

// repeats is how many there are at the most.
const repeats = 10

// newDraws gives so many draws, for the same seed the same.
func newDraws(number, dimensions int, seed uint64) *draws {
	d := &draws{number: number, shifts: make([][]float64, min(number, repeats))}
	for n := 2; len(d.steps) < dimensions; n++ {
		if _, step := math.Modf(math.Sqrt(float64(n))); isPrime(n) && even(step, number/repeats) {
			d.steps = append(d.steps, step)
		}
	}
	source := rand.New(rand.NewPCG(seed, 0))
	for r := range d.shifts {
		for range dimensions {
			d.shifts[r] = append(d.shifts[r], source.Float64())
		}
	}
	return d
}

func isPrime(n int) bool {
	for d := 2; d*d <= n; d++ {
		if n%d == 0 {
			return false
		}
	}
	return true
}

// even reports whether so many points a step apart lie evenly on a circle: they do where the step's
// continued fraction begins with small numbers (Niederreiter, chapter 3).
func even(step float64, points int) bool {
	const small = 4
	for q, before := 1.0, 0.0; q < float64(points); {
		whole, rest := math.Modf(1 / step)
		if whole > small {
			return false
		}
		q, before, step = whole*q+before, q, rest
	}
	return true
}

// at gives one coordinate of a draw, between -1 and 1. Draws of the repeats follow each other by turns.
func (d *draws) at(draw, dimension int) float64 {
	repeat, point := draw%len(d.shifts), draw/len(d.shifts)
	_, fraction := math.Modf(d.shifts[repeat][dimension] + float64(point)*d.steps[dimension])
	return 2*fraction - 1
}

// An Estimate is a figure of all nearby briefs, estimated from those that were drawn.
type Estimate struct {
	Value float64
	// Error is its sampling error: by so much either way it may be off, at 95 %. NaN where one brief
	// was drawn.
	Error float64
}

// student holds the quantiles at 97.5 % of Student's distribution, by its degrees of freedom less 1.
var student = [repeats - 1]float64{12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262}

// estimate gives a figure of what came of each draw, with the error that the repeats tell.
func (d *draws) estimate(values []float64, of func(values []float64) float64) Estimate {
	e := Estimate{of(values), math.NaN()}
	n := len(d.shifts)
	if n < 2 {
		return e
	}
	sum, squares := 0.0, 0.0
	for r := range n {
		var own []float64
		for k := r; k < len(values); k += n {
			own = append(own, values[k])
		}
		off := of(own) - e.Value // small, so that squares lose nothing
		sum, squares = sum+off, squares+off*off
	}
	variance := max(0, squares-sum*sum/float64(n)) / float64(n-1)
	e.Error = student[n-2] * math.Sqrt(variance/float64(n))
	return e
}

// share gives the share of the draws of which something holds. Of something that came never or always,
// 3 in all draws may still be otherwise (Hanley and Lippman-Hand, "If nothing goes wrong, is everything
// all right?", 1983).
func (d *draws) share(holds func(draw int) bool) Estimate {
	values := make([]float64, d.number)
	for k := range values {
		if holds(k) {
			values[k] = 1
		}
	}
	e := d.estimate(values, mean)
	if len(d.steps) > 0 && (e.Value == 0 || e.Value == 1) {
		e.Error = min(1, 3/float64(d.number))
	}
	return e
}

func mean(values []float64) float64 {
	sum := 0.0
	for _, v := range values {
		sum += v
	}
	return sum / float64(len(values))
}

// quantile gives the least value that a share of what came of the draws does not exceed. Its error is that of
// the share of what does not exceed it, as a distance between quantiles (Woodruff, "Confidence intervals
// for medians and other position measures", 1952).
func (d *draws) quantile(values []float64, share float64) Estimate {
	sorted := slices.Sorted(slices.Values(values))
	at := func(share float64) float64 {
		const rounding = 1e-9
		n := len(sorted)
		return sorted[min(n, max(1, int(math.Ceil(share*float64(n)-rounding))))-1]
	}
	value := at(share)
	off := d.share(func(draw int) bool { return values[draw] <= value }).Error
	if math.IsNaN(off) {
		return Estimate{value, off}
	}
	return Estimate{value, (at(share+off) - at(share-off)) / 2}
}
