package learn

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// A draw is one weighting out of those that are probable.
type draw struct {
	weights []float64
	share   float64 // of all that is probable
}

// drawsOfPart is how many weightings of each scale stand for what is known.
const drawsOfPart = 128

// draw draws weightings of each part, the same ones every time, from Laplace's approximation of what is
// known of their logarithms. Each counts by how much more probable it is than that approximation has it
// (importance sampling), so that what follows is that of the exact posterior.
func (t *Taste) draw(choices []Choice) {
	random := rand.New(rand.NewPCG(17, 3))
	n := len(t.house)
	deviation, mean := make([]float64, n), make([]float64, n)
	best := math.Inf(-1)
	for i := range t.parts {
		p := &t.parts[i]
		size := 0.0
		for c := range n {
			size -= math.Log(p.root[c][c])
			mean[c] = p.scale * t.house[c]
		}
		for range drawsOfPart {
			square := 0.0
			for c := range deviation {
				deviation[c] = random.NormFloat64()
				square += deviation[c] * deviation[c]
			}
			weights := p.root.back(deviation)
			for c := range weights {
				weights[c] = p.peak[c] * math.Exp(weights[c])
			}
			value, _, _ := posterior(weights, mean, choices, false)
			t.draws = append(t.draws, draw{weights, size - value + square/2})
			best = max(best, size-value+square/2)
		}
	}
	all := 0.0
	for i := range t.draws {
		t.draws[i].share = math.Exp(t.draws[i].share - best)
		all += t.draws[i].share
	}
	for i := range t.draws {
		t.draws[i].share /= all
		t.parts[i/drawsOfPart].share += t.draws[i].share
	}
}

// Range gives between which weights a share of all that is probable lies, for one criterion, in the sum
// of the house's weights. Half of the rest lies on either side.
func (t *Taste) Range(criterion int, share float64) (low, high float64) {
	type weighed struct{ weight, share float64 }
	all := make([]weighed, len(t.draws))
	sum := total(t.house)
	for i, d := range t.draws {
		all[i] = weighed{d.weights[criterion] / total(d.weights) * sum, d.share}
	}
	slices.SortFunc(all, func(a, b weighed) int { return cmp.Compare(a.weight, b.weight) })
	quantile := func(q float64) float64 {
		below := 0.0
		for _, w := range all {
			if below += w.share; below >= q {
				return w.weight
			}
		}
		return all[len(all)-1].weight
	}
	return quantile((1 - share) / 2), quantile((1 + share) / 2)
}

// Foresee gives the probability with which each of some lenses of a shot is taken out of them.
func (t *Taste) Foresee(shot *Shot, lenses []int) []float64 {
	chances, worths := make([]float64, len(lenses)), make([]float64, len(lenses))
	for _, d := range t.draws {
		for k, lens := range lenses {
			worths[k] = worth(d.weights, shot.Logs[lens])
		}
		softmax(worths)
		for k, chance := range worths {
			chances[k] += d.share * chance
		}
	}
	return chances
}

// A Foreseen is what was said of a choice before it was known.
type Foreseen struct {
	First int     // the lens that is likeliest to be taken, by its place in the shot
	Sure  float64 // how likely it was said to be
	Taken float64 // how likely the lens was said to be that was taken
	Came  bool    // the first was taken
}

// Foretell says what the taste foresees of a choice that it does not know.
func (t *Taste) Foretell(c *Choice) Foreseen {
	places := []int{c.Lens}
	c.others(func(lens int) { places = append(places, lens) })
	slices.Sort(places)
	var f Foreseen
	for k, chance := range t.Foresee(c.Shot, places) {
		if chance > f.Sure {
			f.First, f.Sure = places[k], chance
		}
		if places[k] == c.Lens {
			f.Taken = chance
		}
	}
	f.Came = f.First == c.Lens
	return f
}

// folds is how many parts choices are left out in: one at a time as long as there are no more.
const folds = 20

// LeaveOut says of each choice what the others foresee of it. Of more than 20, a twentieth is left out at a time.
func LeaveOut(house []float64, choices []Choice) []Foreseen {
	all := make([]Foreseen, len(choices))
	for fold := range min(folds, len(choices)) {
		var rest []Choice
		for i := range choices {
			if i%folds != fold {
				rest = append(rest, choices[i])
			}
		}
		t := Learn(house, rest)
		for i := fold; i < len(choices); i += folds {
			all[i] = t.Foretell(&choices[i])
		}
	}
	return all
}
