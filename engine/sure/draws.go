package sure

import "math"

// A sequence is Richtmyer's: point i is the fractional part of i √p in each dimension,
// with a prime p of its own for each, shifted to begin in the middle. Its points fill a
// cube of many dimensions more evenly than random ones (Niederreiter, "Random Number
// Generation and Quasi-Monte Carlo Methods", 1992, chapter 3).
type sequence []float64

func newSequence(dimensions int) sequence {
	s := make(sequence, 0, dimensions)
	for n := 2; len(s) < dimensions; n++ {
		if isPrime(n) {
			_, fraction := math.Modf(math.Sqrt(float64(n)))
			s = append(s, fraction)
		}
	}
	return s
}

func isPrime(n int) bool {
	for d := 2; d*d <= n; d++ {
		if n%d == 0 {
			return false
		}
	}
	return true
}

// at gives one coordinate of point i, between -1 and 1.
func (s sequence) at(i, dimension int) float64 {
	_, fraction := math.Modf(0.5 + float64(i)*s[dimension])
	return 2*fraction - 1
}
