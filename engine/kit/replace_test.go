package kit

import (
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

// Whatever the prices are, and whichever of the best kit's lenses a node has, no other of
// them is dropped from its list.
func TestBestKitIsNotReplaced(t *testing.T) {
	dropped := 0
	for seed := range uint64(langtest.Cases(2000)) {
		r := rand.New(rand.NewPCG(seed, 6))
		p := scattered(r, 10+r.IntN(5), 10+r.IntN(5), 3+r.IntN(4))
		tab, err := newTable(p)
		if err != nil {
			continue
		}
		best := tab.everySet(p, 0).Sets[0].Lenses
		b := newBranch(tab, 0)
		b.values, b.most = b.scores, scoreUnits
		n := node{prices: prices{shot: b.rowOf(best)}}
		b.floor = b.worthOf(n.prices.shot).score
		var list []priced
		for _, lens := range b.others {
			if slices.Contains(best, lens) && len(n.lenses)+1 < b.size && r.IntN(3) == 0 {
				n.lenses = append(n.lenses, lens)
			} else {
				list = append(list, priced{lens: lens})
			}
		}
		n.row, n.left = b.rowOf(n.lenses), b.limit.minus(b.loadOf(n.lenses))
		list = slices.DeleteFunc(list, func(l priced) bool { return !b.loads[l.lens].within(n.left) })
		room := b.size - len(n.lenses)
		list, ok := b.improve(&n.prices, n.row, room, n.left, list, r.IntN(60), b.floor)
		if !ok {
			t.Fatalf("seed %d: the prices say that no kit is as good as the best, %v", seed, best)
		}
		kept := b.dropReplaced(&n, room, list)
		dropped += len(list) - len(kept)
		for _, lens := range best {
			if !slices.Contains(n.lenses, lens) && !slices.ContainsFunc(kept, func(l priced) bool { return l.lens == lens }) {
				t.Errorf("seed %d: lens %d of the best kit %v is dropped beside %v", seed, lens, best, n.lenses)
			}
		}
	}
	if least := langtest.Cases(200); dropped < least {
		t.Errorf("%d lenses are dropped in all, want %d at least for the test to tell anything", dropped, least)
	}
}

// The lenses 1, 2 and 3 are the best kit. With 0 instead of 1 it would be worth as much, but
// 2 would be idle; and without 2 there would be more swaps.
func TestNoLensIsReplacedToMakeAnotherIdle(t *testing.T) {
	p := &Problem{
		Scores: [][]float64{
			{1, 1, 0, 1, 0},
			{1, 0, 0, 0, 0},
			{0, 1, 1, 1, 0},
			{0, 0, 1, 0, 1},
		},
		Weights: []float64{1, 1, 1, 1, 1},
		Size:    3,
		MaxCost: -1,
	}
	best, err := exhaustive{}.Solve(p, 0)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(best.Sets[0].Lenses, []int{1, 2, 3}); diff != "" {
		t.Fatalf("the best kit: got (-), want (+):\n%s", diff)
	}
	tab, err := newTable(p)
	if err != nil {
		t.Fatal(err)
	}
	b := newBranch(tab, 0)
	b.values, b.most, b.floor = b.scores, scoreUnits, tab.total*scoreUnits
	const half, full = scoreUnits / 2, scoreUnits
	n := node{lenses: []int{2}, row: b.scores[2], left: b.limit, prices: prices{shot: []int32{half, full, full, full, half}}}
	list, ok := b.improve(&n.prices, n.row, 2, n.left, []priced{{lens: 0}, {lens: 1}, {lens: 3}}, 0, b.floor)
	if !ok || len(list) != 3 {
		t.Fatalf("the prices leave %d lenses, want 3", len(list))
	}
	if kept := b.dropReplaced(&n, 2, list); len(kept) != 3 {
		t.Errorf("got %v left of %v, want all", kept, list)
	}
}

// Of kits that are worth the same, only swaps, mass, cost and order tell which is the best.
func TestSearchAgreesWhereManyKitsTie(t *testing.T) {
	for seed := range uint64(langtest.Cases(600)) {
		r := rand.New(rand.NewPCG(seed, 6))
		p := scattered(r, 8+r.IntN(7), 6+r.IntN(12), 3+r.IntN(4))
		want, err := exhaustive{}.Solve(p, 0)
		if err != nil {
			continue
		}
		got, err := searched(p, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(got.Sets, want.Sets); diff != "" || !got.Proven {
			t.Errorf("seed %d: proven %v; the search (-) and the plain loop (+):\n%s", seed, got.Proven, diff)
		}
	}
}

// scattered draws a problem with lenses and shots that lie about in the plane, and scores
// that fall with the whole steps from one to the other: many kits are worth the same. At
// times there are limits that bite.
func scattered(r *rand.Rand, lenses, shots, size int) *Problem {
	p := &Problem{Size: size, MaxCost: -1}
	type place struct{ x, y int }
	side := 6 + r.IntN(20)
	draw := func() place { return place{r.IntN(side), r.IntN(side)} }
	wanted := make([]place, shots)
	for shot := range wanted {
		wanted[shot] = draw()
		p.Weights = append(p.Weights, float64(1+r.IntN(2)))
	}
	reach := 2 + r.IntN(2*side)
	for lens := range lenses {
		at := draw()
		if lens < shots {
			at = wanted[lens]
		}
		row := make([]float64, shots)
		for shot, w := range wanted {
			steps := max(at.x-w.x, w.x-at.x) + max(at.y-w.y, w.y-at.y)
			row[shot] = max(0, 1-float64(steps)/float64(reach))
		}
		p.Scores = append(p.Scores, row)
		p.Mass = append(p.Mass, float64(1+r.IntN(3)))
		p.Cost = append(p.Cost, float64(r.IntN(3)))
	}
	switch r.IntN(6) {
	case 0, 1:
		p.Mass = nil
	case 2, 3:
		p.MaxMass = float64(size) * 1.5
	}
	if r.IntN(3) == 0 {
		p.MaxCost = float64(size) * 0.7
	}
	return p
}
