package kit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"
)

// drawnChanges are changes without any order: not symmetric, longer by a way round than direct or
// the other way about, and other for each kit.
type drawnChanges struct {
	base  [][]int // from lens and place on the rig to lens and place
	place [][]int // of a lens in a shot, by lens
	stand []int   // of the shots: another takes steps whatever the lens
	sum   int     // of the kit
	kit   []int
}

const places = 3

func (c *drawnChanges) Least(from, to int, other bool) int {
	takes := 3 * max(c.stand[from]-c.stand[to], c.stand[to]-c.stand[from])
	if other {
		takes += 2
	}
	return takes
}

func (c *drawnChanges) Kit(lenses []int) {
	c.kit = slices.Clone(lenses)
	c.sum = 0
	for _, lens := range lenses {
		c.sum += 3*lens + 1
	}
}

func (c *drawnChanges) Between(from, lens, to, other int) int {
	a, b := c.kit[lens], c.kit[other]
	i, j := a*places+c.place[a][from], b*places+c.place[b][to]
	takes := c.Least(from, to, a != b)
	if i != j {
		takes += c.base[i][j] + (c.sum+i*j)%3
	}
	return takes
}

// pricedProblem draws a problem in which changes cost, and money too now and then. All figures are
// sums of small powers of two, so that float64 is exact and ties are ties.
func pricedProblem(r *rand.Rand, lenses, shots, size int, limits bool) *Problem {
	p := randomProblem(r, lenses, shots, size, limits)
	for _, row := range p.Scores {
		for shot := range row {
			row[shot] = math.Ceil(row[shot]*16) / 16
		}
	}
	for lens := range p.Cost {
		p.Cost[lens] = float64(r.IntN(4)) * 16
	}
	c := &drawnChanges{base: make([][]int, lenses*places)}
	for i := range c.base {
		c.base[i] = make([]int, lenses*places)
		for j := range c.base[i] {
			c.base[i][j] = r.IntN(9)
		}
	}
	for range lenses {
		of := make([]int, shots)
		for shot := range of {
			of[shot] = max(0, r.IntN(places+3)-3)
		}
		c.place = append(c.place, of)
	}
	for range shots {
		c.stand = append(c.stand, r.IntN(2))
	}
	p.Changes, p.Price = c, []float64{1. / 1024, 1. / 128, 1. / 16}[r.IntN(3)]
	if r.IntN(2) == 0 {
		p.Charge = 1. / 512
	}
	return p
}

// An enumerated set is what trying every lens in every shot finds of it.
type enumerated struct {
	lenses      []int
	left, value float64
	swaps       int
	mass, cost  float64
}

func (a *enumerated) compare(b *enumerated) int {
	for _, d := range []float64{
		a.left - b.left, b.value - a.value, float64(a.swaps - b.swaps), a.mass - b.mass, a.cost - b.cost, float64(len(a.lenses) - len(b.lenses)),
	} {
		if math.Abs(d) > 1e-9 {
			return int(math.Copysign(1, d))
		}
	}
	return slices.Compare(a.lenses, b.lenses)
}

// assignments tries every lens in every shot and gives the best; without is the place of a lens that
// stays in the bag, -1 for none.
func assignments(p *Problem, lenses []int, without int) (left, value float64, swaps int) {
	p.Changes.Kit(lenses)
	best := math.Inf(-1)
	var try func(shot, before, on int, value float64, changes int)
	try = func(shot, before, on int, value float64, changes int) {
		if shot == len(p.Weights) {
			if value > best || value == best && changes < swaps {
				best, swaps = value, changes
			}
			return
		}
		done := false
		for place, lens := range lenses {
			score := p.Scores[lens][shot]
			if place == without || score == 0 {
				continue
			}
			done = true
			v, c := value+p.Weights[shot]*score, changes
			if before >= 0 {
				v -= p.Price * float64(p.Changes.Between(before, on, shot, place))
				if place != on {
					c++
				}
			}
			try(shot+1, shot, place, v, c)
		}
		if !done {
			try(shot+1, before, on, value, changes)
		}
	}
	try(0, -1, -1, 0, 0)
	for shot, weight := range p.Weights {
		done := false
		for place, lens := range lenses {
			done = done || place != without && p.Scores[lens][shot] > 0
		}
		if !done {
			left += weight
		}
	}
	for place, lens := range lenses {
		if place != without {
			best -= p.Charge * p.Cost[lens]
		}
	}
	return left, best, swaps
}

// enumerate tries every set with every lens in every shot, best first. A set counts if each lens
// that need not come makes it better with the same trim.
func enumerate(p *Problem) []enumerated {
	var all []enumerated
	for bits := range 1 << len(p.Scores) {
		var e enumerated
		fits := true
		for lens := range p.Scores {
			if bits>>lens&1 == 0 {
				fits = fits && !slices.Contains(p.Must, lens)
				continue
			}
			e.lenses = append(e.lenses, lens)
			if !math.IsNaN(p.Mass[lens]) {
				e.mass += p.Mass[lens]
			}
			e.cost += p.Cost[lens]
			fits = fits && (p.Barred == nil || !p.Barred[lens])
		}
		if !fits || len(e.lenses) > p.Size || p.MaxMass > 0 && e.mass > p.MaxMass+1e-9 || p.MaxCost >= 0 && e.cost > p.MaxCost+1e-9 {
			continue
		}
		e.left, e.value, e.swaps = assignments(p, e.lenses, -1)
		for place, lens := range e.lenses {
			if slices.Contains(p.Must, lens) {
				continue
			}
			left, value, _ := assignments(p, e.lenses, place)
			value -= p.Charge * p.Cost[lens] // what it costs does not make a lens useful
			fits = fits && !(left == e.left && value >= e.value)
		}
		if fits {
			all = append(all, e)
		}
	}
	slices.SortFunc(all, func(a, b enumerated) int { return a.compare(&b) })
	return all
}

// The search with a price of changes finds what trying every kit with every lens in every shot
// finds, and so does the loop over all sets, runners-up included.
func TestPricedChangesAreExact(t *testing.T) {
	other, checked := 0, 0
	for n := range langtest.Cases(400) {
		r := rand.New(rand.NewPCG(uint64(n), 16))
		p := pricedProblem(r, 2+r.IntN(6), 1+r.IntN(5), 1+r.IntN(3), n%2 == 0)
		tab, err := newTable(p)
		if err != nil {
			continue
		}
		checked++
		want := enumerate(p)
		for name, got := range map[string]Solution{"every set": tab.everySet(p, 2), "search": tab.search(p, 0, 0)} {
			for i := range got.Sets {
				e, s := &want[i], &got.Sets[i]
				total := 0.0
				for _, weight := range p.Weights {
					total += weight
				}
				if !slices.Equal(e.lenses, s.Lenses) || math.Abs(e.left-s.Uncovered) > 1e-9 || math.Abs(e.value/total-s.Value) > 1e-9 || e.swaps != s.Swaps {
					t.Fatalf("case %d, %s, set %d: got %v, %g left, %g, %d changes; enumeration has %v, %g left, %g, %d changes",
						n, name, i, s.Lenses, s.Uncovered, s.Value, s.Swaps, e.lenses, e.left, e.value/total, e.swaps)
				}
				holds(t, p, s, fmt.Sprintf("case %d, %s", n, name))
			}
			if len(got.Sets) != min(len(want), cap(got.Sets), map[string]int{"every set": 3, "search": 1}[name]) || !got.Proven {
				t.Fatalf("case %d, %s: %d sets, proven %t, of %d", n, name, len(got.Sets), got.Proven, len(want))
			}
		}
		free := *p
		free.Price, free.Charge = 0, 0
		if before, err := (Search{}).Solve(&free, 0); err == nil && !slices.Equal(before.Sets[0].Lenses, want[0].lenses) {
			other++
		}
	}
	if checked < langtest.Cases(200) || other == 0 {
		t.Errorf("%d cases, of which %d have another kit without the price", checked, other)
	}
}

// onRig gives a problem of rules the changes of three places on a rig, at a price.
func onRig(seed uint64, p *Problem, price float64) *Problem {
	r := rand.New(rand.NewPCG(seed, 20))
	q := *p
	c := &drawnChanges{base: make([][]int, len(p.Scores)*places)}
	for i := range c.base {
		c.base[i] = make([]int, len(c.base))
		for j := range c.base[i] {
			c.base[i][j] = 2 + r.IntN(5)
		}
	}
	for range p.Scores {
		of := make([]int, len(p.Weights))
		for shot := range of {
			of[shot] = max(0, r.IntN(places+3)-3)
		}
		c.place = append(c.place, of)
	}
	for range p.Weights {
		c.stand = append(c.stand, r.IntN(4)/3)
	}
	q.Changes, q.Price = c, price
	return &q
}

// On problems of more sets than enumeration by assignment can try, the search agrees with the loop
// over all sets.
func TestPricedSearchAgreesWithEverySet(t *testing.T) {
	for seed := range uint64(langtest.Cases(30)) {
		p := onRig(seed, ruled(seed, 40, 24, 3), []float64{0.001, 0.005, 0.02}[seed%3])
		agree(t, seed, p)
	}
}

// agree fails where the search finds other than the loop over all sets.
func agree(t *testing.T, seed uint64, p *Problem) {
	t.Helper()
	want, err := exhaustive{}.Solve(p, 0)
	if err != nil {
		t.Fatal(err)
	}
	tab, _ := newTable(p)
	got := tab.search(p, 0, 0)
	if !got.Proven || fmt.Sprint(got.Sets) != fmt.Sprint(want.Sets) {
		t.Errorf("seed %d: got %+v, every set has %+v", seed, got.Sets, want.Sets)
	}
}

// copied are changes of lenses of which several are copies of one.
type copied struct {
	*drawnChanges
	of []int
}

func (c copied) Kit(lenses []int) {
	var own []int
	for _, lens := range lenses {
		own = append(own, c.of[lens])
	}
	c.drawnChanges.Kit(own)
}

func (c copied) Between(from, lens, to, other int) int {
	takes := c.drawnChanges.Between(from, lens, to, other)
	if lens != other && c.kit[lens] == c.kit[other] {
		takes += 2
	}
	return takes
}

// Copies of a lens that hang on the rig alike are left out of the search, and the answer is that of
// every set.
func TestPricedCopies(t *testing.T) {
	for seed := range uint64(langtest.Cases(30)) {
		r := rand.New(rand.NewPCG(seed, 21))
		p := onRig(seed, ruled(seed, 12, 12, 3), []float64{0.001, 0.005, 0.02}[seed%3])
		c := copied{drawnChanges: p.Changes.(*drawnChanges)}
		for lens := range p.Scores {
			c.of = append(c.of, lens)
		}
		for range 12 {
			lens := r.IntN(12)
			c.of = append(c.of, lens)
			p.Scores, p.Mass, p.Cost = append(p.Scores, p.Scores[lens]), append(p.Mass, p.Mass[lens]), append(p.Cost, p.Cost[lens]+float64(r.IntN(3)-1))
			c.place = append(c.place, c.place[lens])
		}
		if p.Charge = 0; seed%2 == 0 {
			p.Charge = 0.001
		}
		p.Changes, p.Alike = c, func(lens, other int) bool { return c.of[lens] == c.of[other] }
		agree(t, seed, p)
	}
}

// holds adds up what a set says of itself from the lenses that it puts on.
func holds(t *testing.T, p *Problem, s *Set, of string) {
	t.Helper()
	p.Changes.Kit(s.Lenses)
	takes, swaps, before, sum, total := 0, 0, -1, 0.0, 0.0
	for shot, lens := range s.Best {
		total += p.Weights[shot]
		if lens < 0 {
			continue
		}
		sum += p.Weights[shot] * p.Scores[lens][shot]
		if before >= 0 {
			takes += p.Changes.Between(before, slices.Index(s.Lenses, s.Best[before]), shot, slices.Index(s.Lenses, lens))
			if s.Best[before] != lens {
				swaps++
			}
		}
		before = shot
	}
	value := sum - p.Price*float64(takes)
	for _, lens := range s.Lenses {
		value -= p.Charge * p.Cost[lens]
	}
	if takes != s.Takes || swaps != s.Swaps || math.Abs(sum/total-s.Mean) > 1e-9 || math.Abs(value/total-s.Value) > 1e-9 {
		t.Errorf("%s: %v says %d, %d changes, mean %g, value %g; its lenses make %d, %d, %g, %g",
			of, s.Lenses, s.Takes, s.Swaps, s.Mean, s.Value, takes, swaps, sum/total, value/total)
	}
}

// With a price of 0, what changes take is not asked, and the answer is the same in all respects.
func TestPriceOfNothing(t *testing.T) {
	for n := range langtest.Cases(200) {
		r := rand.New(rand.NewPCG(uint64(n), 17))
		p := pricedProblem(r, 2+r.IntN(12), 1+r.IntN(8), 1+r.IntN(4), n%2 == 0)
		p.Price, p.Charge = 0, 0
		free := *p
		free.Changes = nil
		got, err := Search{}.Solve(p, 3)
		want, wantErr := Search{}.Solve(&free, 3)
		if (err == nil) != (wantErr == nil) {
			t.Fatalf("case %d: %v and %v", n, err, wantErr)
		}
		for i := range want.Sets {
			want.Sets[i].Takes = got.Sets[i].Takes // it is told all the same
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("case %d: got %+v, want %+v", n, got, want)
		}
	}
}

// A search that is cut short never says more than is true: no set is better by more than the gap.
func TestGapOfPricedChanges(t *testing.T) {
	cut := 0
	for n := range langtest.Cases(100) {
		r := rand.New(rand.NewPCG(uint64(n), 18))
		p := pricedProblem(r, 12, 6, 3, false)
		tab, err := newTable(p)
		if err != nil {
			continue
		}
		want := tab.everySet(p, 0).Sets[0]
		tab, _ = newTable(p)
		got := tab.search(p, 0, 1+r.IntN(20))
		best := got.Sets[0]
		if !got.Proven {
			cut++
		}
		if want.Uncovered < best.Uncovered-got.CoverGap-1e-9 || want.Uncovered == best.Uncovered && want.Value > best.Value+got.Gap+1e-9 {
			t.Errorf("case %d: got %g left, %g, gap %g; there is %g left, %g", n, best.Uncovered, best.Value, got.Gap, want.Uncovered, want.Value)
		}
	}
	if cut == 0 {
		t.Error("none was cut short")
	}
}
