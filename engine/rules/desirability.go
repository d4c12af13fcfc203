package rules

import "math"

// A mean joins scores in [0,1] as a weighted geometric mean, (∏ dᵢ^wᵢ)^(1/Σwᵢ), so that
// one hopeless aspect cannot be bought back by the others: any 0 gives 0 ("Simultaneous
// optimization of several response variables", 1980, which weighs all alike). A score that
// is NaN is unknown: it is left out with its weight. Without any known score the result is
// NaN. Weights are above zero.
//
// To save logarithms, which are slow, a score of a whole weight is multiplied that many
// times, and the logarithm is taken of the product.
type mean struct {
	logs    float64 // Σ w log d of what is gathered
	weight  float64 // Σ w
	product float64 // ∏ d^w of what is not gathered yet
}

// With these bounds a product does not underflow: (1e-12)^9 · 1e-100 is above 1e-300.
const (
	mostTimes    = 9
	leastScore   = 1e-12
	leastProduct = 1e-100
)

func newMean() mean { return mean{product: 1} }

// add takes a score into the mean, unless it is unknown.
func (m *mean) add(score, weight float64) {
	if math.IsNaN(score) {
		return
	}
	m.weight += weight
	times := int(weight)
	if float64(times) != weight || times > mostTimes || score < leastScore {
		m.logs += weight * log(score)
		return
	}
	for range times {
		m.product *= score
	}
	if m.product < leastProduct {
		m.gather()
	}
}

// log is math.Log, but right below the smallest normal number too, where that on amd64 is not.
func log(x float64) float64 {
	const smallestNormal = 0x1p-1022
	if x > 0 && x < smallestNormal {
		return math.Log(x*0x1p100) - 100*math.Ln2
	}
	return math.Log(x)
}

func (m *mean) gather() {
	m.logs += math.Log(m.product)
	m.product = 1
}

func (m *mean) value() float64 {
	if m.weight == 0 {
		return math.NaN()
	}
	m.gather()
	return math.Exp(m.logs / m.weight)
}
