package taste

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"sync/atomic"

	"glassbrief/engine"
	"glassbrief/engine/parallel"
	"glassbrief/engine/rules"
)

// Draws is how many tastes are drawn of each kind unless somebody asks for others. The share of a kit
// is then within 1 % in 95 of 100 cases: the error of a share p of n draws has a deviation of
// √(p(1−p)/n), at most ½/√n, and 1.96 of those are 1 % at n = (1.96 / (2 · 0.01))² = 9,604.
const Draws = 9604

// Shares says for which tastes each kit is the best that can be chosen, while every lens keeps in
// each shot the set-up that it has by the weights in force ("SMAA-2: Stochastic multicriteria
// acceptability analysis for group decision making", 2001; on how many to draw "Implementing stochastic
// multicriteria acceptability analysis", 2007). The tastes are drawn twice, with a fixed seed:
//
//   - over all weightings: evenly over all ways to share the weight of all criteria out among those
//     that score, each from nothing to all of it;
//   - within half to double: each weight times 2^u, with u even between -1 and 1 and each on its own.
//
// What a shot itself prefers keeps its weight, and so do criteria that only exclude.
type Shares struct {
	Criteria []*rules.Criterion
	Draws    int     // of each kind
	Kits     []Share // that are best for some taste: the one chosen by the weights in force first, whether it is or not, then by what share of all weightings
	Unproven int     // tastes of which the choice was cut short, so that another kit may be better
}

// A Share is for which tastes a kit is best.
type Share struct {
	Lenses []string
	All    int // of the draws over all weightings
	Near   int // of those within half to double
	// Central are weights in the middle of those that make this kit the best, and that do so
	// themselves: of those within half to double, or where there is none of all. They have three
	// digits. Nil for a kit that no taste drawn makes the best.
	Central []float64
	// Anew is the kit when these weights come into force and all set-ups are sought anew. It is nil
	// behind the first few kits, for which nobody looked.
	Anew []string
	// Marks is what the tastes that make the kit best have in common; nil where chance explains it.
	Marks *Mark
}

// Rivals gives the kits that tastes other than those in force make the best: those with at least one in a
// hundred of all weightings or of those within half to double, at most so many.
func (s *Shares) Rivals(most int) []Share {
	var rivals []Share
	for _, kit := range s.Kits[1:] {
		if len(rivals) < most && max(kit.All, kit.Near) >= s.Draws/100 {
			rivals = append(rivals, kit)
		}
	}
	return rivals
}

// Of gives the share of some lenses, whatever their order; nil where no taste drawn makes them the best.
func (s *Shares) Of(lenses []string) *Share {
	for i := range s.Kits {
		if engine.SameLenses(s.Kits[i].Lenses, lenses) {
			return &s.Kits[i]
		}
	}
	return nil
}

// Error gives the most that a share may be off by in 95 of 100 cases: see [Draws].
func (s *Shares) Error() float64 { return 1.96 * 0.5 / math.Sqrt(float64(s.Draws)) }

// A Mark is the criterion whose weight tells some tastes best from all, and by how much it weighs
// more in their mean than in the mean of all: below 1 it weighs less.
type Mark struct {
	Criterion *rules.Criterion
	Times     float64
}

// Kinds of draws.
const (
	all = iota
	near
	kinds
)

// Draw gives the shares of kits for a table and the kit that was chosen from it. Progress is told how
// many tastes of how many are tried. It fails with the context's error when the context ends.
func Draw(ctx context.Context, t *engine.Table, kit *engine.Kit, draws int, o engine.Options) (*Shares, error) {
	h, err := Hold(ctx, t.Eligible(), o)
	if err != nil {
		return nil, err
	}
	d := newDrawing(h, draws)
	if err := d.solve(ctx, o); err != nil {
		return nil, err
	}
	s, err := d.count(kit)
	if err != nil {
		return nil, err
	}
	for i := range min(len(s.Kits), solvedAnew) {
		if err := s.Kits[i].solve(ctx, t, o); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// solvedAnew is for how many kits set-ups are sought anew.
const solvedAnew = 4

// solve seeks all set-ups anew by the central weights.
func (s *Share) solve(ctx context.Context, t *engine.Table, o engine.Options) error {
	if s.Central == nil {
		return nil
	}
	o.Runners, o.Progress, o.Camera = 0, nil, t.Camera.Name.Value
	anew, err := engine.Judge(ctx, t.Scenario.Weighing(s.Central), o)
	if err != nil {
		return err
	}
	choice, err := anew.Choose(t.Scenario.Limits, o)
	if err == nil {
		s.Anew = choice.Kit.Lenses
	}
	return err
}

// A drawing is a number of tastes with the kit that each makes the best.
type drawing struct {
	held    *Held
	draws   int
	inForce []float64
	scored  []int     // the criteria that score, which are drawn
	sum     float64   // of their weights in force
	weights []float64 // of all criteria, taste by taste, those over all weightings first
	best    [][]int   // lenses by their places, by taste
	open    atomic.Int64
}

// seed makes the draws the same in every run.
const seed = 9604

func newDrawing(h *Held, draws int) *drawing {
	d := &drawing{held: h, draws: draws, inForce: h.Weights(), best: make([][]int, kinds*draws)}
	for k, c := range h.Criteria {
		if len(c.Scores) > 0 {
			d.scored, d.sum = append(d.scored, k), d.sum+c.Weight
		}
	}
	d.weights = slices.Repeat(d.inForce, kinds*draws)
	random := rand.New(rand.NewPCG(seed, 0))
	for _, k := range d.scored {
		for i, u := range spread(draws, random) {
			d.taste(i)[k] = -math.Log1p(-u) // a length of waiting
		}
		for i, u := range spread(draws, random) {
			d.taste(draws + i)[k] *= math.Exp2(2*u - 1)
		}
	}
	// Lengths of waiting, as shares of them all, are even over the simplex ("Non-Uniform Random Variate
	// Generation", 1986, chapter 5).
	for i := range draws {
		taste, length := d.taste(i), 0.0
		for _, k := range d.scored {
			length += taste[k]
		}
		for _, k := range d.scored {
			taste[k] *= d.sum / length
		}
	}
	return d
}

// spread gives so many numbers from 0 up to 1, one at random from each of as many equal parts and in an
// order by chance: a Latin hypercube, whose means are no worse than those of plain draws ("A comparison
// of three methods for selecting values of input variables in the analysis of output from a computer
// code", 1979).
func spread(draws int, random *rand.Rand) []float64 {
	all := make([]float64, draws)
	for i, part := range random.Perm(draws) {
		all[i] = (float64(part) + random.Float64()) / float64(draws)
	}
	return all
}

// taste gives the weights of one taste.
func (d *drawing) taste(i int) []float64 {
	n := len(d.inForce)
	return d.weights[i*n : (i+1)*n : (i+1)*n]
}

// together is how many tastes are handed to a worker at once.
const together = 256

// solve finds the best kit for each taste.
func (d *drawing) solve(ctx context.Context, o engine.Options) error {
	type solver struct {
		*weigher
		*engine.Series
	}
	if _, err := d.held.Table.Series(); err != nil { // limits that contradict each other do so for every taste
		return err
	}
	solvers := sync.Pool{New: func() any {
		series, _ := d.held.Table.Series()
		return &solver{newWeigher(d.held), series}
	}}
	var done atomic.Int64
	return parallel.For(ctx, (len(d.best)+together-1)/together, o.Workers, func(part int) {
		of := solvers.Get().(*solver)
		defer solvers.Put(of)
		from, to := part*together, min((part+1)*together, len(d.best))
		for i := from; i < to; i++ {
			lenses, proven := of.Best(of.weigh(d.taste(i)))
			if d.best[i] = lenses; !proven {
				d.open.Add(1)
			}
		}
		if n := int(done.Add(int64(to - from))); o.Progress != nil {
			o.Progress(n, len(d.best))
		}
	})
}

// count sums up which kits came out.
func (d *drawing) count(kit *engine.Kit) (*Shares, error) {
	s := &Shares{Criteria: d.held.Criteria, Draws: d.draws, Unproven: int(d.open.Load())}
	lenses := make([]int, len(kit.Lenses))
	for i, name := range kit.Lenses {
		lenses[i] = d.held.Table.Place(name)
	}
	slices.Sort(lenses)
	sets := [][]int{lenses} // by kit, in the order in which they come out first
	tastes := [][]int{nil}  // by kit
	for i, best := range d.best {
		at := slices.IndexFunc(sets, func(set []int) bool { return slices.Equal(set, best) })
		if at < 0 {
			at = len(sets)
			sets, tastes = append(sets, best), append(tastes, nil)
		}
		tastes[at] = append(tastes[at], i)
	}
	series, err := d.held.Table.Series()
	if err != nil {
		return nil, err
	}
	m := middle{d, newWeigher(d.held), series}
	names := d.held.Table.Lenses()
	for at, set := range sets {
		share := Share{}
		for _, lens := range set {
			share.Lenses = append(share.Lenses, names[lens].Name.Value)
		}
		first, _ := slices.BinarySearch(tastes[at], d.draws)
		share.All, share.Near = first, len(tastes[at])-first
		if of := tastes[at][first:]; len(of) > 0 {
			share.Central = m.of(set, of)
		} else if of := tastes[at]; len(of) > 0 {
			share.Central = m.of(set, of)
		}
		share.Marks = d.mark(tastes[at][:first])
		s.Kits = append(s.Kits, share)
	}
	slices.SortStableFunc(s.Kits[1:], func(a, b Share) int {
		return cmp.Or(cmp.Compare(b.All, a.All), cmp.Compare(b.Near, a.Near))
	})
	return s, nil
}
