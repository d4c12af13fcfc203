package kit

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

// searched runs the search whatever the size, where Search would take the plain loop.
func searched(p *Problem, runners, budget int) (Solution, error) {
	t, err := newTable(p)
	if err != nil {
		return Solution{}, err
	}
	return t.search(p, runners, budget), nil
}

func TestSearchAgreesWithExhaustive(t *testing.T) {
	for _, limits := range []bool{false, true} {
		t.Run(fmt.Sprintf("limits %v", limits), func(t *testing.T) {
			refused := 0
			for seed := range uint64(langtest.Cases(1000)) {
				r := rand.New(rand.NewPCG(seed, 1))
				p := randomProblem(r, 6+r.IntN(15), 2+r.IntN(14), 1+r.IntN(4), limits)
				want, wantErr := exhaustive{}.Solve(p, 0)
				got, err := searched(p, 0, 0)
				if wantErr != nil {
					refused++
					if diff := cmp.Diff(err, wantErr); diff != "" {
						t.Fatalf("seed %d: error of the search (-) and of the plain loop (+):\n%s", seed, diff)
					}
					continue
				}
				if err != nil {
					t.Fatalf("seed %d: got %v, want a kit", seed, err)
				}
				if diff := cmp.Diff(got.Sets, want.Sets); diff != "" || !got.Proven {
					t.Fatalf("seed %d: proven %v; the search (-) and the plain loop (+):\n%s", seed, got.Proven, diff)
				}
			}
			if refused > langtest.Cases(200) {
				t.Errorf("%d of 1000 problems leave nothing to bring, want most to be real choices", refused)
			}
		})
	}
}

// Some shots that only a few poor lenses cover: what makes covering and scores pull apart.
func TestSearchAgreesWhereShotsAreRare(t *testing.T) {
	for seed := range uint64(langtest.Cases(40)) {
		p := ruled(seed, 60, 30, 3)
		r := rand.New(rand.NewPCG(seed, 3))
		for shot := range 1 + r.IntN(3) {
			for lens := range p.Scores {
				p.Scores[lens][shot] = 0
			}
			for range 2 + r.IntN(5) {
				poor := r.IntN(len(p.Scores))
				for other := range p.Weights {
					p.Scores[poor][other] /= 2
				}
				p.Scores[poor][shot] = 0.2
			}
		}
		want, err := exhaustive{}.Solve(p, 0)
		if err != nil {
			t.Fatal(err)
		}
		got, err := searched(p, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(got.Sets, want.Sets); diff != "" {
			t.Errorf("seed %d: the search (-) and the plain loop (+):\n%s", seed, diff)
		}
	}
}

func TestSmallProblemsTakeThePlainLoop(t *testing.T) {
	small, large := ruled(1, 40, 20, 2), ruled(1, 400, 60, 3)
	want, err := exhaustive{}.Solve(small, 5)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Search{}.Solve(small, 5)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(got, want); diff != "" {
		t.Errorf("a small problem: got (-), want as the plain loop (+):\n%s", diff)
	}
	got, err = Search{}.Solve(large, 5)
	if err != nil {
		t.Fatal(err)
	}
	if !got.Neighbours || !got.Proven || len(got.Sets) != 6 {
		t.Errorf("a large problem: got %d sets, neighbours %v, proven %v; want 6 by the search", len(got.Sets), got.Neighbours, got.Proven)
	}
}

// The runners-up of the search are, in order, those sets of all that differ from the best
// by one lens more, less or other.
func TestRunnersUpAreTheBestNeighbours(t *testing.T) {
	const runners = 4
	for seed := range uint64(langtest.Cases(200)) {
		r := rand.New(rand.NewPCG(seed, 4))
		p := randomProblem(r, 6+r.IntN(8), 2+r.IntN(10), 1+r.IntN(3), seed%2 == 0)
		all, err := exhaustive{}.Solve(p, 1<<14)
		if err != nil {
			continue
		}
		var want []Set
		for _, set := range all.Sets {
			if missing(set.Lenses, all.Sets[0].Lenses) <= 1 && missing(all.Sets[0].Lenses, set.Lenses) <= 1 {
				want = append(want, set)
			}
		}
		got, err := searched(p, runners, 0)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(got.Sets, want[:min(len(want), runners+1)]); diff != "" {
			t.Fatalf("seed %d: got (-), want (+):\n%s", seed, diff)
		}
	}
}

// missing counts the lenses of one set that the other lacks.
func missing(one, other []int) int {
	n := 0
	for _, lens := range one {
		if !slices.Contains(other, lens) {
			n++
		}
	}
	return n
}

// A search that was stopped says how much better another set could be, and none is better.
func TestNodeLimitBoundsWhatIsMissed(t *testing.T) {
	stopped, coverOpen := 0, 0
	for seed := range uint64(langtest.Cases(300)) {
		r := rand.New(rand.NewPCG(seed, 5))
		p := randomProblem(r, 20, 12+r.IntN(12), 3, seed%3 == 0)
		best, err := exhaustive{}.Solve(p, 0)
		if err != nil {
			continue
		}
		got, err := searched(p, 0, 1+r.IntN(8))
		if err != nil {
			t.Fatal(err)
		}
		first, want := got.Sets[0], best.Sets[0]
		if got.Proven {
			if diff := cmp.Diff(first, want); diff != "" {
				t.Errorf("seed %d: said to be proven (-), but the best is (+):\n%s", seed, diff)
			}
			continue
		}
		stopped++
		if got.CoverGap > 0 {
			coverOpen++
		}
		if first.Uncovered-got.CoverGap > want.Uncovered+1e-9 {
			t.Errorf("seed %d: got %g uncovered with a gap of %g, but %g can be reached", seed, first.Uncovered, got.CoverGap, want.Uncovered)
		}
		if first.Uncovered == want.Uncovered && first.Mean+got.Gap < want.Mean-1e-6 {
			t.Errorf("seed %d: got mean %g with a gap of %g, but %g can be reached", seed, first.Mean, got.Gap, want.Mean)
		}
	}
	if least := langtest.Cases(50); stopped < least || coverOpen == 0 {
		t.Errorf("%d searches were stopped, %d of them while covering; want %d and 1 at least", stopped, coverOpen, least)
	}
}
