package learn

import (
	"math"
	"slices"
)

// A Shot is what one can choose from in a shot.
type Shot struct {
	ID     string
	Lenses []string
	// Logs holds for each lens what each criterion adds to its worth for a weight of 1: the logarithm
	// of the score, and a share of what holds whatever the weights are.
	Logs [][]float64
}

// A Choice is a lens that was taken out of some.
type Choice struct {
	Shot *Shot
	Lens int   // its place in the shot
	Over []int // the places of those that it was taken over; nil for all others
}

// others calls use with the place of every lens that was not taken.
func (c *Choice) others(use func(lens int)) {
	if c.Over != nil {
		for _, lens := range c.Over {
			use(lens)
		}
		return
	}
	for lens := range c.Shot.Logs {
		if lens != c.Lens {
			use(lens)
		}
	}
}

// shape is that of the prior of each weight: the logarithm then has the standard deviation ln 2 in
// Laplace's sense.
const shape = 1 / (math.Ln2 * math.Ln2)

// scales are the sums of weights that are tried, in that of the house. Each is held as likely as the others.
var scales = [...]float64{0.25, 0.5, 1, 2, 4, 8, 16}

// A Taste is what is known of the weights after some choices.
type Taste struct {
	// Weights are the most probable ones, each above zero, with the sum of the house's.
	Weights []float64
	// Scale is how decided the choices are: of lenses that score x and y, the first is taken with odds of x/y to
	// the power of the sum of all weights times this. NaN without choices.
	Scale float64

	house []float64
	parts []part
	draws []draw // of all parts
}

// A part is what is known of the weights if the scale is one of those tried.
type part struct {
	scale float64
	share float64   // how probable the scale is
	peak  []float64 // the most probable weights
	root  matrix    // the lower triangle of which the product with itself is the precision of their logarithms
}

// Learn gives the taste that choices show, around the weights of the house, each of which is above
// zero. Without choices it is the house's.
func Learn(house []float64, choices []Choice) *Taste {
	t := &Taste{house: house, Weights: slices.Clone(house)}
	sum := total(house)
	for _, scale := range scales {
		t.parts = append(t.parts, fit(house, scale, choices))
	}
	t.draw(choices)
	weights, scale := make([]float64, len(house)), 0.0
	for i := range t.parts {
		p := &t.parts[i]
		own := total(p.peak)
		scale += p.share * math.Log(own/sum)
		for c, w := range p.peak {
			weights[c] += p.share * w / own * sum
		}
	}
	if t.Scale = math.NaN(); len(choices) > 0 {
		t.Weights, t.Scale = weights, math.Exp(scale)
	}
	return t
}

// fit finds the most probable weights at one scale.
//
// It is Newton's method on the weights, in those of the house at that scale, with the step halved until
// the function falls. Its barrier, the logarithm, keeps them above zero.
func fit(house []float64, scale float64, choices []Choice) part {
	const (
		mostSteps = 100
		enough    = 1e-15 // of half the square of Newton's decrement
		slope     = 0.25  // of what the slope promises, which a step must gain
	)
	n := len(house)
	mean := make([]float64, n)
	for c, w := range house {
		mean[c] = scale * w
	}
	weights := slices.Clone(mean)
	value, gradient, curved := posterior(weights, mean, choices, true)
	for range mostSteps {
		root, ok := curved.root()
		if !ok {
			break // rounding left no curvature, where the best that is known is as good
		}
		step := root.solve(gradient)
		promise := 0.0
		for c := range step {
			promise += step[c] * gradient[c]
		}
		if promise/2 < enough {
			break
		}
		next, length, moved := make([]float64, n), 1.0, false
		for ; length > 1e-12; length /= 2 {
			for c := range next {
				next[c] = weights[c] - length*step[c]
			}
			if slices.Min(next) <= 0 {
				continue
			}
			if at, _, _ := posterior(next, mean, choices, false); at <= value-slope*length*promise {
				moved = true
				break
			}
		}
		if !moved {
			break // as above
		}
		weights = next
		value, gradient, curved = posterior(weights, mean, choices, true)
	}
	// At the peak the curvature along the logarithms is that along the weights, times them.
	for i := range n {
		for j := range n {
			curved[i][j] *= weights[i] * weights[j]
		}
	}
	root, ok := curved.root()
	if !ok {
		root, _ = identity(n, shape).root()
	}
	return part{scale: scale, peak: weights, root: root}
}

// posterior gives what is to be least: the negative logarithm of the density of the logarithms of the
// weights after the choices, but for a constant; and where curved, its gradient and second derivatives
// by the weights.
func posterior(weights, mean []float64, choices []Choice, curved bool) (value float64, gradient []float64, second matrix) {
	n := len(weights)
	for c, w := range weights {
		value += shape * (w/mean[c] - math.Log(w/mean[c]))
	}
	if curved {
		gradient, second = make([]float64, n), identity(n, 0)
		for c, w := range weights {
			gradient[c] = shape * (1/mean[c] - 1/w)
			second[c][c] = shape / (w * w)
		}
	}
	middle, apart := make([]float64, n), make([]float64, n)
	var chances []float64
	var places []int
	for i := range choices {
		choice := &choices[i]
		places = append(places[:0], choice.Lens)
		choice.others(func(lens int) { places = append(places, lens) })
		chances = chances[:0]
		for _, lens := range places {
			chances = append(chances, worth(weights, choice.Shot.Logs[lens]))
		}
		taken := chances[0]
		value += softmax(chances) - taken
		if !curved {
			continue
		}
		clear(middle)
		for k, lens := range places {
			for c, x := range choice.Shot.Logs[lens] {
				middle[c] += chances[k] * x
			}
		}
		for c, x := range choice.Shot.Logs[choice.Lens] {
			gradient[c] += middle[c] - x
		}
		for k, lens := range places {
			for c, x := range choice.Shot.Logs[lens] {
				apart[c] = x - middle[c]
			}
			for c := range n {
				for d := range c + 1 {
					second[c][d] += chances[k] * apart[c] * apart[d]
				}
			}
		}
	}
	for c := range second {
		for d := range c {
			second[d][c] = second[c][d]
		}
	}
	return value, gradient, second
}

// worth gives Σ w x.
func worth(weights, logs []float64) float64 {
	sum := 0.0
	for c, x := range logs {
		sum += weights[c] * x
	}
	return sum
}

// softmax puts probabilities in the place of worths, and gives the logarithm of the sum of their
// exponentials.
func softmax(worths []float64) float64 {
	best, sum := slices.Max(worths), 0.0
	for i, v := range worths {
		worths[i] = math.Exp(v - best)
		sum += worths[i]
	}
	for i := range worths {
		worths[i] /= sum
	}
	return best + math.Log(sum)
}

func total(list []float64) float64 {
	sum := 0.0
	for _, x := range list {
		sum += x
	}
	return sum
}
