package rules

import "math"

// Combine joins scores in [0,1] as a weighted geometric mean, (∏ dᵢ^wᵢ)^(1/Σwᵢ), so that
// one hopeless aspect cannot be bought back by the others: any 0 gives 0 (Derringer and
// Suich, "Simultaneous optimization of several response variables", 1980; they weigh all
// alike). A score that is NaN is unknown: it is
// left out with its weight. Without any known score the result is NaN. Weights are above
// zero, and there is one for each score.
func Combine(scores, weights []float64) float64 {
	m := newMean()
	for i, score := range scores {
		m.add(score, weights[i])
	}
	return m.value()
}

// A mean gathers scores for [Combine]. Scores of one weight that follow one another are
// multiplied before the logarithm is taken, which is what costs time.
type mean struct {
	logs    float64 // Σ w log d of what is gathered
	weight  float64 // Σ w
	product float64 // of the scores at weight group, not gathered yet
	group   float64
}

// smallest bounds what is multiplied, so that a product of two does not underflow.
const smallest = 1e-100

func newMean() mean { return mean{product: 1} }

// add takes a score into the mean, unless it is unknown.
func (m *mean) add(score, weight float64) {
	if math.IsNaN(score) {
		return
	}
	if weight != m.group || min(score, m.product) < smallest {
		m.gather()
		m.group = weight
	}
	m.product *= score
	m.weight += weight
}

func (m *mean) gather() {
	if m.product != 1 {
		m.logs += m.group * math.Log(m.product)
	}
	m.product = 1
}

func (m *mean) value() float64 {
	if m.weight == 0 {
		return math.NaN()
	}
	m.gather()
	return math.Exp(m.logs / m.weight)
}
