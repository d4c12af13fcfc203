package kit

import (
	"math"
	"math/rand/v2"
)

// randomProblem draws a small problem with what makes choosing hard: shots that few
// lenses cover, scores from a coarse scale that tie, twins, and limits that bite.
func randomProblem(r *rand.Rand, lenses, shots, size int, limits bool) *Problem {
	p := &Problem{Size: size, MaxCost: -1}
	levels := []float64{4, 10, 1000}[r.IntN(3)]
	zeros := []float64{0, 0.3, 0.7}[r.IntN(3)]
	for range shots {
		p.Weights = append(p.Weights, float64(1+r.IntN(12))/4)
	}
	for lens := range lenses {
		row := make([]float64, shots)
		for shot := range row {
			if r.Float64() >= zeros {
				row[shot] = math.Ceil(r.Float64()*levels) / levels
			}
		}
		if lens > 0 && r.IntN(8) == 0 {
			copy(row, p.Scores[r.IntN(lens)])
		}
		p.Scores = append(p.Scores, row)
		p.Mass = append(p.Mass, float64(3+r.IntN(12))/10)
		p.Cost = append(p.Cost, float64(r.IntN(6))*7.5)
	}
	if !limits {
		return p
	}
	p.Barred = make([]bool, lenses)
	for lens := range lenses {
		p.Barred[lens] = r.IntN(10) == 0
		if r.IntN(10) == 0 {
			p.Mass[lens] = math.NaN()
		}
	}
	if r.IntN(4) > 0 {
		p.MaxMass = float64(size) * (0.4 + 0.5*r.Float64())
	}
	if r.IntN(4) > 0 {
		p.MaxCost = float64(size) * 20 * r.Float64()
	}
	if r.IntN(4) == 0 {
		p.Must = append(p.Must, r.IntN(lenses))
	}
	return p
}
