package kit

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"
)

// A series gives the set that the search gives for each of its problems, with changes that cost and
// without, with limits, ties, and shots that no kit covers.
func TestSeriesFindsWhatTheSearchDoes(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 17))
	others, uncovered := 0, 0
	for range langtest.Cases(300) {
		lenses, shots, size := 2+r.IntN(14), 1+r.IntN(8), 1+r.IntN(4)
		p := pricedProblem(r, lenses, shots, size, r.IntN(2) == 0)
		if r.IntN(3) == 0 {
			p.Changes, p.Price, p.Charge = nil, 0, 0
		}
		series, err := Search{}.Series(p)
		if limit := (*LimitError)(nil); errors.As(err, &limit) {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		var before []int
		for range 12 {
			for _, row := range p.Scores {
				for shot, score := range row {
					if score > 0 {
						row[shot] = math.Ceil(16*min(1, score*(0.6+0.8*r.Float64()))) / 16
					}
				}
			}
			solution, err := Search{}.Solve(p, 0)
			if err != nil {
				t.Fatal(err)
			}
			got, proven := series.Best(p.Scores)
			if want := solution.Sets[0]; !slices.Equal(got, want.Lenses) || !proven {
				t.Fatalf("%d lenses, %d shots, %d to carry: got %v, proven %v; want %v of value %v", lenses, shots, size, got, proven, want.Lenses, want.Value)
			}
			if before != nil && !slices.Equal(before, got) {
				others++
			}
			if solution.Sets[0].Uncovered > 0 {
				uncovered++
			}
			before = slices.Clone(got)
		}
	}
	if langtest.Enough(60) && (others < 50 || uncovered < 50) {
		t.Errorf("%d times another set, %d times not all covered", others, uncovered)
	}
}
