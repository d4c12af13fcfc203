package kit

import (
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"
)

func TestOrderOfTheObjective(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Problem
		want []int
	}{
		{"covering before the mean", Problem{
			Scores:  [][]float64{{1, 1, 0}, {0.1, 0.1, 0.1}},
			Weights: []float64{1, 1, 1}, Size: 1,
		}, []int{1}},
		{"weights in the mean", Problem{
			Scores:  [][]float64{{0.9, 0.1}, {0.2, 0.5}},
			Weights: []float64{1, 2}, Size: 1,
		}, []int{1}},
		{"the mean before swaps", Problem{
			Scores:  [][]float64{{0.5, 0.9, 0.5, 0.9}, {0.8, 0.8, 0.8, 0.8}},
			Weights: []float64{1, 1, 1, 1}, Size: 2,
		}, []int{0, 1}},
		{"swaps before mass", Problem{
			Scores:  [][]float64{{1, 0, 1, 0}, {0, 1, 0, 1}, {1, 1, 0, 0}, {0, 0, 1, 1}},
			Weights: []float64{1, 1, 1, 1}, Size: 2,
			Mass: []float64{0.4, 0.4, 0.9, 0.9},
		}, []int{2, 3}},
		{"mass before money", Problem{
			Scores:  [][]float64{{0.7}, {0.7}},
			Weights: []float64{1}, Size: 1,
			Mass: []float64{1, 0.9}, Cost: []float64{10, 20},
		}, []int{1}},
		{"money last", Problem{
			Scores:  [][]float64{{0.7}, {0.7}},
			Weights: []float64{1}, Size: 1,
			Mass: []float64{1, 1}, Cost: []float64{20, 10},
		}, []int{1}},
		{"no idle lens, even to save a swap", Problem{
			Scores:  [][]float64{{1, 0.5, 1, 0.5}, {0.5, 1, 0.5, 1}, {0.5, 1, 1, 0.5}},
			Weights: []float64{1, 1, 1, 1}, Size: 3,
		}, []int{0, 1}},
		{"an idle lens that must come", Problem{
			Scores:  [][]float64{{1}, {0.5}},
			Weights: []float64{1}, Size: 2, Must: []int{1},
		}, []int{0, 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.p.MaxCost = -1
			plain, err := exhaustive{}.Solve(&c.p, 0)
			if err != nil {
				t.Fatal(err)
			}
			quick, err := searched(&c.p, 0, 0)
			if err != nil {
				t.Fatal(err)
			}
			if got := plain.Sets[0].Lenses; !slices.Equal(got, c.want) {
				t.Errorf("plain loop: got lenses %v, want %v", got, c.want)
			}
			if got := quick.Sets[0].Lenses; !slices.Equal(got, c.want) {
				t.Errorf("search: got lenses %v, want %v", got, c.want)
			}
		})
	}
}

// The fewest swaps against all ways to give each shot one of the lenses that score best.
func TestDayHasTheFewestSwaps(t *testing.T) {
	for seed := range uint64(langtest.Cases(300)) {
		p := randomProblem(rand.New(rand.NewPCG(seed, 8)), 3, 7, 3, false)
		for _, row := range p.Scores {
			for shot := range row {
				row[shot] = float64(int(row[shot]*2)) / 2 // few levels, many ties
			}
		}
		fixed, err := newTable(p)
		if err != nil {
			t.Fatal(err)
		}
		lenses := []int{0, 1, 2}
		var fewest func(shot, on int) int
		fewest = func(shot, on int) int {
			if shot == len(p.Weights) {
				return 0
			}
			best := max(p.Scores[0][shot], p.Scores[1][shot], p.Scores[2][shot])
			if best == 0 {
				return fewest(shot+1, on)
			}
			least := len(p.Weights)
			for _, lens := range lenses {
				if p.Scores[lens][shot] == best {
					swaps := fewest(shot+1, lens)
					if on >= 0 && on != lens {
						swaps++
					}
					least = min(least, swaps)
				}
			}
			return least
		}
		want := fewest(0, -1)
		_, got := fixed.value(lenses)
		used := fixed.day(lenses)
		changes, on := 0, -1
		for shot, lens := range used {
			best := max(p.Scores[0][shot], p.Scores[1][shot], p.Scores[2][shot])
			switch {
			case lens < 0 && best == 0:
				continue
			case lens < 0 || p.Scores[lens][shot] != best:
				t.Fatalf("seed %d: shot %d is given lens %d, want one that scores %g", seed, shot, lens, best)
			case on >= 0 && on != lens:
				changes++
			}
			on = lens
		}
		if got != want || changes != want {
			t.Errorf("seed %d: got %d swaps and %d changes of lens in %v, want %d", seed, got, changes, used, want)
		}
	}
}
