package kit

import (
	"fmt"
	"math/rand/v2"
	"testing"

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
			for seed := range uint64(1000) {
				r := rand.New(rand.NewPCG(seed, 1))
				p := randomProblem(r, 6+r.IntN(15), 2+r.IntN(14), 1+r.IntN(4), limits)
				want, wantErr := Exhaustive{}.Solve(p, 0)
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
			if refused > 200 {
				t.Errorf("%d of 1000 problems leave nothing to bring, want most to be real choices", refused)
			}
		})
	}
}

