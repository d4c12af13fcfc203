package kit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawn gives a random problem whose size rapid can shrink.
func drawn(t *rapid.T, limits bool) (*Problem, *rand.Rand) {
	r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 6))
	lenses := rapid.IntRange(1, 14).Draw(t, "lenses")
	shots := rapid.IntRange(1, 12).Draw(t, "shots")
	size := rapid.IntRange(1, 4).Draw(t, "size")
	return randomProblem(r, lenses, shots, size, limits), r
}

// bestOf gives the best set with what it is compared by, or nil where nothing fits.
func bestOf(t *rapid.T, p *Problem) *candidate {
	got, err := searched(p, 0, 0)
	if err != nil {
		return nil
	}
	fixed, err := newTable(p)
	if err != nil {
		t.Fatal(err)
	}
	lenses := got.Sets[0].Lenses
	c := fixed.newCandidate(lenses, fixed.worthOf(fixed.rowOf(lenses)).covered)
	return &c
}

func TestAnotherLensNeverMakesTheBestWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, _ := drawn(t, rapid.Bool().Draw(t, "limits"))
		after := bestOf(t, p)
		fewer := *p
		last := len(p.Scores) - 1
		if last == 0 || slices.Contains(p.Must, last) {
			t.Skip("the last lens has to stay")
		}
		fewer.Scores, fewer.Mass, fewer.Cost = p.Scores[:last], p.Mass[:last], p.Cost[:last]
		if p.Barred != nil {
			fewer.Barred = p.Barred[:last]
		}
		before := bestOf(t, &fewer)
		if before != nil && (after == nil || compare(after, before) > 0) {
			t.Errorf("with one lens more got %+v, want no worse than %+v", after, before)
		}
	})
}

func TestOrderOfLensesDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, r := drawn(t, rapid.Bool().Draw(t, "limits"))
		for lens := range p.Mass {
			p.Mass[lens] = math.Ldexp(1e-6, lens) // no two sets weigh the same
		}
		if p.MaxMass > 0 {
			p.MaxMass = math.Ldexp(1e-6*p.MaxMass, len(p.Mass)-2)
		}
		order := r.Perm(len(p.Scores))
		q := *p
		q.Scores, q.Mass, q.Cost = shuffled(p.Scores, order), shuffled(p.Mass, order), shuffled(p.Cost, order)
		q.Barred, q.Must = shuffled(p.Barred, order), nil
		for _, lens := range p.Must {
			q.Must = append(q.Must, slices.Index(order, lens))
		}
		straight, mixed := bestOf(t, p), bestOf(t, &q)
		if straight == nil || mixed == nil {
			if straight != mixed {
				t.Errorf("in one order nothing fits, in the other %v %v", straight, mixed)
			}
			return
		}
		var back []int
		for _, lens := range mixed.lenses {
			back = append(back, order[lens])
		}
		slices.Sort(back)
		if !slices.Equal(back, straight.lenses) {
			t.Errorf("in another order got lenses %v, want %v", back, straight.lenses)
		}
	})
}

// shuffled gives a list in another order: order names for each place where its element stood.
func shuffled[T any](list []T, order []int) []T {
	if list == nil {
		return nil
	}
	out := make([]T, len(list))
	for i, from := range order {
		out[i] = list[from]
	}
	return out
}

// "An analysis of approximations for maximizing submodular set functions", 1978: for
// coverage, greedy choice reaches 1-1/e of the best.
func TestGreedyCoversItsShare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, _ := drawn(t, false)
		fixed, err := newTable(p)
		if err != nil {
			t.Fatal(err)
		}
		_, w := fixed.greedy()
		best := bestOf(t, p)
		if least := (1 - 1/math.E) * float64(best.worth.covered); float64(w.covered) < least {
			t.Errorf("greedy choice covers %d, want at least %.1f of %d", w.covered, least, best.worth.covered)
		}
	})
}
