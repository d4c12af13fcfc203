package learn

import (
	"cmp"
	"math"
	"slices"
)

// A Question is which of two lenses somebody would take in a shot.
type Question struct {
	Shot *Shot
	A, B int     // the places of the lenses; the one that is likelier to be taken first
	Sure float64 // how likely the first is to be taken of the two
	// Tells is what the answer is expected to tell of the weights, in bits: how uncertain the answer is,
	// less how uncertain it would be if the weights were known ("On a measure of the information provided
	// by an experiment", 1956).
	Tells float64
}

// likeliest is how many lenses of a shot are asked about: those that are likeliest to be taken.
const likeliest = 12

// Next gives the question whose answer is expected to tell most, false where no shot has two lenses.
func (t *Taste) Next(shots []*Shot) (best Question, found bool) {
	for _, shot := range shots {
		all := make([]int, len(shot.Lenses))
		for lens := range all {
			all[lens] = lens
		}
		chances := t.Foresee(shot, all)
		slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(chances[b], chances[a]) })
		all = all[:min(len(all), likeliest)]
		worths := make([][]float64, len(all)) // by lens and draw
		for k, lens := range all {
			for _, d := range t.draws {
				worths[k] = append(worths[k], worth(d.weights, shot.Logs[lens]))
			}
		}
		for k := range all {
			for l := range k {
				sure, open := 0.0, 0.0
				for i, d := range t.draws {
					chance := 1 / (1 + math.Exp(worths[k][i]-worths[l][i]))
					sure += d.share * chance
					open += d.share * entropy(chance)
				}
				if tells := entropy(sure) - open; tells > best.Tells {
					best, found = Question{Shot: shot, A: all[l], B: all[k], Sure: sure, Tells: tells}, true
				}
			}
		}
	}
	if best.Sure < 0.5 {
		best.A, best.B, best.Sure = best.B, best.A, 1-best.Sure
	}
	return best, found
}

// entropy gives how uncertain an answer is that is yes with a probability, in bits.
func entropy(p float64) float64 {
	if !(p > 0 && p < 1) {
		return 0
	}
	return -p*math.Log2(p) - (1-p)*math.Log2(1-p)
}
