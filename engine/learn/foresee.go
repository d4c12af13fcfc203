package learn

import (
	"math"
	"math/rand/v2"
	"slices"
)

// drawsOfPart is how many weightings of each scale stand for what is known.
const drawsOfPart = 128

// draw draws weightings of each part, the same ones every time.
func (t *Taste) draw() {
	random := rand.New(rand.NewPCG(17, 3))
	deviation := make([]float64, len(t.house))
	for i := range t.parts {
		p := &t.parts[i]
		for range drawsOfPart {
			for c := range deviation {
				deviation[c] = random.NormFloat64()
			}
			weights := p.root.back(deviation)
			for c := range weights {
				weights[c] = p.peak[c] * math.Exp(weights[c])
			}
			t.draws = append(t.draws, weights)
		}
	}
}

// Range gives between which weights a share of all that is probable lies, for one criterion, in the sum
// of the house's weights. Half of the rest lies on either side.
func (t *Taste) Range(criterion int, share float64) (low, high float64) {
	type weighed struct{ weight, share float64 }
	all := make([]weighed, len(t.draws))
	sum := total(t.house)
	for i, draw := range t.draws {
		all[i] = weighed{draw[criterion] / total(draw) * sum, t.shareOf(i)}
	}
	slices.SortFunc(all, func(a, b weighed) int {
		if a.weight < b.weight {
			return -1
		}
		return 1
	})
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

// shareOf gives how probable a draw is.
func (t *Taste) shareOf(draw int) float64 {
	return t.parts[draw/drawsOfPart].share / drawsOfPart
}

// Foresee gives the probability with which each of some lenses of a shot is taken out of them.
func (t *Taste) Foresee(shot *Shot, lenses []int) []float64 {
	chances, worths := make([]float64, len(lenses)), make([]float64, len(lenses))
	for i, draw := range t.draws {
		for k, lens := range lenses {
			worths[k] = worth(draw, shot.Logs[lens])
		}
		softmax(worths)
		for k, chance := range worths {
			chances[k] += t.shareOf(i) * chance
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

// foresee holds a taste to one choice.
func (t *Taste) foresee(c *Choice) Foreseen {
	places := []int{c.Lens}
	c.others(func(lens int) { places = append(places, lens) })
	slices.Sort(places)
	chances := t.Foresee(c.Shot, places)
	var f Foreseen
	for k, chance := range chances {
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

// LeaveOneOut says of each choice what the others foresee of it.
func LeaveOneOut(house []float64, choices []Choice) []Foreseen {
	all := make([]Foreseen, len(choices))
	for i := range choices {
		rest := slices.Delete(slices.Clone(choices), i, i+1)
		all[i] = Learn(house, rest).foresee(&choices[i])
	}
	return all
}

// OfHouse says of each choice what the house's weights foresee of it, before anything is learned.
func OfHouse(house []float64, choices []Choice) []Foreseen {
	t := Learn(house, nil)
	all := make([]Foreseen, len(choices))
	for i := range choices {
		all[i] = t.foresee(&choices[i])
	}
	return all
}
