package sure

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/parallel"
)

// Figures says how far a kit hangs on figures that are assumed.
type Figures struct {
	// Sure means that no values within the ranges make another kit better: the least that
	// this kit can score against the most that any other can, shot by shot.
	Sure bool
	// Otherwise kits are chosen for so many draws of all figures within their ranges, mass and
	// length of a lens together.
	Draws int
	Same  int         // of them, those that give the same kit
	Kits  []Frequency // all kits that came out, the most frequent first
	// Bear is how many assumed figures bear on the lenses that the kit is chosen from.
	Bear int
	// Perspective is how many of them say where lenses begin to see and how they breathe, which few
	// lists state.
	Perspective int
	// Ask holds those figures, the one first that settles most.
	Ask []Question
}

// A Question is an assumed figure and what it would settle to know it.
type Question struct {
	*brief.Assumption
	// Settles is by how much the mean score, less what changes and money weigh, would be higher, in the
	// mean of the draws, if the kit were chosen with this figure known: its expected value of partial perfect information
	// (the regression of Strong, Oakley and Brennan, "Estimating multiparameter partial expected
	// value of perfect information", 2014, with straight lines). 0 for a kit that is sure.
	Settles float64
	// Moves is how far the mean score of the kit itself moves over the range.
	Moves float64
	// Kits are the other kits that come of values of it.
	Kits []KitAt
}

// A KitAt is the kit that comes of a value of a figure, in SI units.
type KitAt struct {
	Value float64
	Kit   []string
}

// drawn is how many draws tell the share of a kit that is not proven, and mostLenses how many
// lenses are looked at: those of the kit and those that score best.
const (
	drawn      = 400
	mostLenses = 24
)

// OfFigures says how far a kit hangs on assumed figures as [HowFar] does, and asks for all of them
// even where the kit is sure.
func OfFigures(ctx context.Context, t *engine.Table, kit *engine.Kit, o engine.Options) (*Figures, error) {
	return ofFigures(ctx, t, kit, o, true)
}

// HowFar says how far the kit of a table hangs on the figures that the scenario assumes;
// nil when it assumes none that bear on it. Progress is told how many steps of how many are
// done. It fails with the context's error when the context ends.
func HowFar(ctx context.Context, t *engine.Table, kit *engine.Kit, o engine.Options) (*Figures, error) {
	return ofFigures(ctx, t, kit, o, false)
}

func ofFigures(ctx context.Context, t *engine.Table, kit *engine.Kit, o engine.Options, all bool) (*Figures, error) {
	o.Runners = 0
	t = t.Eligible()
	few := t.Foremost(kit.Lenses, mostLenses)
	bearing := few.Assumed()
	if len(bearing) == 0 {
		return nil, nil
	}
	f := &Figures{Bear: len(bearing)}
	for _, i := range bearing {
		if a := &few.Scenario.Assumed[i]; a.Keyword == "pupil" || a.Keyword == "breathing" {
			f.Perspective++
		}
	}
	steps, done := len(bearing)+drawn, 0
	step := func(n int) {
		if done += n; o.Progress != nil {
			o.Progress(done, steps)
		}
	}
	x := &examination{table: few, kit: kit.Lenses, uses: kit.Uses, options: o}
	var err error
	if f.Sure, err = x.proven(ctx); err != nil {
		return nil, err
	}
	if f.Sure = f.Sure && few == t; !f.Sure {
		rivals := x.rivals()
		if err = x.draw(ctx, rivals, f); err != nil {
			return nil, err
		}
		if !all {
			x.table, bearing = rivals, rivals.Assumed()
		}
	}
	step(drawn)
	if all || !f.Sure {
		if err := x.ask(ctx, f, bearing); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(f.Ask, func(a, b Question) int {
		return cmp.Or(cmp.Compare(b.Settles, a.Settles), cmp.Compare(len(b.Kits), len(a.Kits)), cmp.Compare(b.Moves, a.Moves))
	})
	step(len(bearing))
	return f, nil
}

type examination struct {
	table   *engine.Table
	kit     []string
	uses    []string // the lens of the kit that is put on for each shot
	options engine.Options

	ranges [][]interval // of the scores by shot and lens, the low ends of the kit's lenses alone; nil when not told
	ours   []bool       // the lenses of the kit

	// What is kept of the draws.
	others [][]string  // the other kits that came
	places [][]float64 // of the figures, by draw
	gains  [][]float64 // of the other kits over this one in value, by draw
}

// ask tries the values of each figure alone.
func (x *examination) ask(ctx context.Context, f *Figures, bearing []int) error {
	assumed := x.table.Scenario.Assumed
	f.Ask = make([]Question, len(bearing))
	middle, others := x.table.Kit(x.kit), make([]float64, len(x.others)) // what the other kits are worth
	for k, kit := range x.others {
		others[k] = x.table.Kit(kit).Value
	}
	err := parallel.For(ctx, len(bearing), x.options.Workers, func(n int) {
		q := Question{Assumption: &assumed[bearing[n]]}
		low, high, bears := middle.Mean, middle.Mean, false
		for _, value := range q.Probes() {
			t := x.table.Under(brief.Values{bearing[n]: value})
			there := t.Kit(x.kit)
			low, high = min(low, there.Mean), max(high, there.Mean)
			for k, kit := range x.others {
				bears = bears || t.Kit(kit).Value != others[k]
			}
			choice, err := t.Choose(t.Scenario.Limits, x.options)
			if err != nil || keyOf(choice.Kit.Lenses) == keyOf(x.kit) {
				continue
			}
			q.Kits = append(q.Kits, KitAt{value, choice.Kit.Lenses})
		}
		if q.Moves = high - low; q.Moves > 0 || bears {
			q.Settles = x.settles(bearing[n])
		}
		f.Ask[n] = q
	})
	return err
}

// rivals gives the table with the lenses of the kit and those that may do some shot better than it
// for some values, or so nearly as well that staying on could pay: no others can come into the best
// kit.
func (x *examination) rivals() *engine.Table {
	keep := make([]bool, len(x.table.Lenses()))
	for j := range keep {
		keep[j] = x.ranges == nil || x.ours[j]
	}
	stays := changesOf(x.table)
	for i, row := range x.ranges {
		least := 0.0
		for _, r := range row {
			least = max(least, r.low) // 0 but for lenses of the kit
		}
		for j, r := range row {
			keep[j] = keep[j] || r.high > max(0, least-stays.all/x.table.Scenario.Shots[i].Weight)
		}
	}
	return x.table.Only(keep)
}

// draw chooses kits for draws of all figures.
func (x *examination) draw(ctx context.Context, rivals *engine.Table, f *Figures) error {
	source := rand.New(rand.NewPCG(drawn, 0)) // too many figures for a sequence to fill evenly
	x.places = make([][]float64, drawn)
	for n := range x.places {
		x.places[n] = make([]float64, len(x.table.Scenario.Assumed))
		for i := range x.places[n] {
			x.places[n][i] = 2*source.Float64() - 1
		}
	}
	days, own, kits := make([]*engine.Day, drawn), make([]float64, drawn), make([][]string, drawn)
	err := parallel.For(ctx, drawn, x.options.Workers, func(n int) {
		t := rivals.Under(x.table.Scenario.Draw(func(i int) float64 { return x.places[n][i] }))
		days[n] = t.Day()
		own[n] = days[n].Value(x.kit)
		if choice, err := t.Choose(t.Scenario.Limits, x.options); err == nil {
			kits[n] = choice.Kit.Lenses
		}
	})
	if err != nil {
		return err
	}
	whole := newTally()
	for _, kit := range kits {
		whole.add(kit)
	}
	f.Draws, f.Same, f.Kits = drawn, whole.of(x.kit), whole.outcomes()
	for _, other := range f.Kits {
		if keyOf(other.Lenses) == keyOf(x.kit) {
			continue
		}
		gain := make([]float64, drawn)
		for n, day := range days {
			gain[n] = day.Value(other.Lenses) - own[n]
		}
		x.others, x.gains = append(x.others, other.Lenses), append(x.gains, gain)
	}
	return nil
}

// settles gives what is gained by choosing between the kits that came with a figure known: the
// mean of the best gain that straight lines foretell from its place, less that of choosing once
// for all draws.
func (x *examination) settles(figure int) float64 {
	known, once, n := make([]float64, len(x.places)), 0.0, float64(len(x.places))
	for _, gain := range x.gains {
		var at, y, square, with float64
		for i, places := range x.places {
			p := places[figure]
			at, y, square, with = at+p, y+gain[i], square+p*p, with+p*gain[i]
		}
		slope := (with - at*y/n) / (square - at*at/n)
		once = max(once, y/n)
		for i, places := range x.places {
			known[i] = max(known[i], y/n+slope*(places[figure]-at/n))
		}
	}
	if len(known) == 0 {
		return 0
	}
	sum := 0.0
	for _, gain := range known {
		sum += gain
	}
	return max(0, sum/n-once)
}

// mostKits bounds the kits that a proof compares with.
const mostKits = 200_000

// proven reports whether no values within the ranges make another kit better. It compares the
// kit with every other of as many lenses or fewer: in a shot, lenses of both count the same
// for both, those of this kit alone at their least, and those of the other alone at their most.
// The changes of this kit count with the most that they can take, those of the other with the least.
func (x *examination) proven(ctx context.Context) (bool, error) {
	t := x.table
	size, lenses := t.Scenario.Limits.Carry, len(t.Lenses())
	if kits(lenses, size) > mostKits || t.Scenario.Limits.BagMass > 0 && x.massAssumed() {
		return false, nil
	}
	ours, kit := make([]bool, lenses), make([]int, len(x.kit))
	for k, name := range x.kit {
		kit[k] = t.Place(name)
		ours[kit[k]] = true
	}
	p := &proof{kit: kit, table: t, weights: t.Weights(), scores: t.Scores(), ranges: make([][]interval, len(t.Scenario.Shots)), ours: ours, changes: changesOf(t)}
	each := func(do func(i, j int)) error {
		return parallel.For(ctx, len(p.ranges), x.options.Workers, func(i int) {
			for j := range lenses {
				do(i, j)
			}
		})
	}
	for i := range p.ranges {
		p.ranges[i] = make([]interval, lenses)
	}
	if err := each(p.begin); err != nil {
		return false, err
	}
	p.weigh(x.uses)
	sure := p.holds(nil, 0, size)
	if !sure {
		if err := each(p.settle); err != nil {
			return false, err
		}
	}
	x.ranges, x.ours = p.ranges, ours
	return sure, nil
}

func (x *examination) massAssumed() bool {
	return slices.ContainsFunc(x.table.Scenario.Assumed, func(a brief.Assumption) bool { return a.Of == brief.OfLens && a.Keyword == "mass" })
}

// kits counts the kits of at most so many lenses, up to far beyond what is bounded.
func kits(lenses, size int) int {
	all, some := 0, 1
	for k := 1; k <= size && all <= mostKits; k++ {
		some = some * (lenses - k + 1) / k
		all += some
	}
	return all
}

type interval struct {
	low, high float64
	open      bool // the high end is only one that cannot be exceeded
}

type proof struct {
	table   *engine.Table
	weights []float64
	scores  [][]float64  // with all figures at their middle, by shot and lens
	ranges  [][]interval // likewise
	ours    []bool
	kit     []int // likewise

	changes changes
	done    []int   // the shots that this kit does, whatever the figures
	most    float64 // what its changes and its money can weigh, each shot done with whichever of its lenses is best; infinite where it may or may not do a shot

	// The same where each shot is done with the lens that is put on for it, whatever the figures;
	// infinite where one of them may be out.
	uses  []int // by shot
	fixed float64
}

// weigh says what this kit pays at most. The ranges of its lenses must be known.
func (p *proof) weigh(uses []string) {
	for i, row := range p.ranges {
		sure, may := false, false
		for _, j := range p.kit {
			sure, may = sure || row[j].low > 0, may || row[j].high > 0
		}
		switch {
		case sure:
			p.done = append(p.done, i)
		case may:
			p.most, p.fixed = math.Inf(1), math.Inf(1)
		}
		p.uses = append(p.uses, p.table.Place(uses[i]))
		if on := p.uses[i]; sure && (on < 0 || row[on].low == 0) {
			p.fixed = math.Inf(1)
		}
	}
	p.most = max(p.most, p.changes.most(p.kit, p.done, p.ranges))
	if !math.IsInf(p.fixed, 1) {
		p.fixed = p.changes.along(p.done, p.uses) + p.changes.money(p.kit)
	}
}

// lags bounds from below by how much this kit, with the lenses that are put on, scores more than
// another with its best.
func (p *proof) lags(other []int) float64 {
	sum := 0.0
	for _, i := range p.done {
		on, theirs, both := p.uses[i], 0.0, false
		for _, j := range other {
			if both = both || j == on; j != on {
				theirs = max(theirs, p.ranges[i][j].high)
			}
		}
		lag := p.ranges[i][on].low - theirs
		if both {
			lag = min(0, lag)
		}
		sum += p.weights[i] * lag
	}
	return sum
}

// take widens the range of the best of some lenses by one more.
func (r *interval) take(o interval) { r.low, r.high = max(r.low, o.low), max(r.high, o.high) }

// begin gives the range of a lens in a shot, as far as it is known without trying, but that of a
// lens of this kit in full.
func (p *proof) begin(i, j int) {
	r := &p.ranges[i][j]
	if p.ours[j] {
		r.low, r.high = p.table.Least(i, j), p.table.Most(i, j)
		return
	}
	most, told := p.table.Ceiling(i, j)
	r.high, r.open = most, !told
}

// settle closes a range that is open.
func (p *proof) settle(i, j int) {
	if r := &p.ranges[i][j]; r.open {
		r.high, r.open = p.table.Most(i, j), false
	}
}

// settleOne closes that open range of a kit of which most is to be hoped; false when none is open.
func (p *proof) settleOne(kit []int) bool {
	shot, lens, most := -1, -1, math.Inf(-1)
	for i, row := range p.ranges {
		for _, j := range kit {
			if !row[j].open {
				continue
			}
			closed := p.scores[i][j]
			for _, other := range kit {
				if other != j {
					closed = max(closed, p.scores[i][other])
				}
			}
			if hope := p.weights[i] * (row[j].high - closed); hope > most {
				shot, lens, most = i, j, hope
			}
		}
	}
	if shot >= 0 {
		p.settle(shot, lens)
	}
	return shot >= 0
}

// holds goes through the kits that some lenses begin, with lenses from a place on.
func (p *proof) holds(kit []int, from, size int) bool {
	for len(kit) > 0 && !p.beats(kit) {
		if !p.settleOne(kit) {
			return false
		}
	}
	if len(kit) == size {
		return true
	}
	for j := from; j < len(p.ours); j++ {
		if !p.holds(append(kit, j), j+1, size) {
			return false
		}
	}
	return true
}

// beats reports whether this kit is at least as good as another, whatever the figures.
func (p *proof) beats(other []int) bool {
	least, gained := 0.0, false
	for i, row := range p.ranges {
		var both, own, theirs interval
		for _, j := range other {
			if p.ours[j] {
				both.take(row[j])
			} else {
				theirs.take(row[j])
			}
		}
		for _, j := range p.kit {
			if !slices.Contains(other, j) {
				own.take(row[j])
			}
		}
		if own.low < theirs.high {
			if max(both.low, own.low) == 0 {
				return false // the other may cover a shot that this one does not
			}
			least += p.weights[i] * (max(both.low, own.low) - max(both.low, theirs.high))
		} else {
			gained = gained || own.low > both.high
			least += p.weights[i] * (max(both.high, own.low) - max(both.high, theirs.high))
		}
	}
	if p.changes.price > 0 { // the other does no shot that this kit does not, and so the same ones or less
		pays := p.changes.least(other, p.done)
		return least+pays > p.most || !math.IsInf(p.fixed, 1) && p.lags(other)+pays > p.fixed || len(other) == len(p.kit) && p.covers(other)
	}
	return least > 0 || least == 0 && (gained || p.covers(other))
}

// covers reports whether another kit is this one, or holds all of it and lenses that add
// nothing, which are left at home.
func (p *proof) covers(other []int) bool {
	for _, j := range p.kit {
		if !slices.Contains(other, j) {
			return false
		}
	}
	return true
}
