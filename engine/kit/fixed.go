package kit

import (
	"cmp"
	"fmt"
	"iter"
	"math"
)

// MaxWeight bounds the weight of a shot, so that sums in fixed point cannot overflow.
const MaxWeight = 1000

// MaxShots bounds the shots of a problem for the same reason.
const MaxShots = 2000

// The fixed-point form: a shot's weight in hundredths, a score in units of 2^-24, a mass
// in milligrams, money in hundredths of a cent. Whole numbers make sums independent of
// their order, so that ties and results are the same on any machine.
const (
	weightUnits = 100
	scoreUnits  = 1 << 24
	massUnits   = 1e6
	costUnits   = 1e4
)

// A load is what a lens or a set puts on the limits: its mass and its cost.
type load [2]int64

const (
	onMass = iota
	onCost
)

// noLimit is far above any sum of loads.
const noLimit = math.MaxInt64

func (l load) plus(m load) load { return load{l[onMass] + m[onMass], l[onCost] + m[onCost]} }

func (l load) minus(m load) load { return load{l[onMass] - m[onMass], l[onCost] - m[onCost]} }

func (l load) within(limit load) bool {
	return l[onMass] <= limit[onMass] && l[onCost] <= limit[onCost]
}

// worth is what a set is worth before ties are looked at: the weight it covers, and the
// weighted sum of the best scores, less what its changes and its money weigh where they do.
type worth struct{ covered, score int64 }

func (w worth) compare(other worth) int {
	return cmp.Or(cmp.Compare(w.covered, other.covered), cmp.Compare(w.score, other.score))
}

// table is a problem in fixed point.
type table struct {
	scores  [][]int32 // lens, shot
	weights []int64
	total   int64 // of the weights
	loads   []load
	limit   load
	size    int
	must    []int // ascending
	isMust  []bool
	free    []int // the lenses that may come and need not, and fit beside those that must
	base    load  // of the lenses that must come

	changes Changes
	alike   func(lens, other int) bool
	each    int64   // what one unit of changes weighs against the scores; 0 where they are free
	charges []int64 // what the money of a lens does
	ways    []state // kept for [table.walk]
	// tighter lowers a bound on what a set that holds no idle lens is worth, for less than working it
	// out; nil where nothing is known of a set beforehand.
	tighter func(lenses []int, bound worth) worth
}

// newTable checks a problem and gives its fixed-point form.
func newTable(p *Problem) (*table, error) {
	t, err := newScores(p)
	if err != nil {
		return nil, err
	}
	return t, t.choices(p)
}

// newScores is newTable without the lenses to choose from.
func newScores(p *Problem) (*table, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	t := &table{
		scores:  make([][]int32, len(p.Scores)),
		weights: make([]int64, len(p.Weights)),
		loads:   make([]load, len(p.Scores)),
		limit:   load{noLimit, noLimit},
		size:    p.Size,
		isMust:  make([]bool, len(p.Scores)),
	}
	for shot, weight := range p.Weights {
		t.weights[shot] = max(1, int64(math.Round(weight*weightUnits)))
		t.total += t.weights[shot]
	}
	shots := len(p.Weights)
	cells := make([]int32, len(p.Scores)*shots)
	for lens, row := range p.Scores {
		t.scores[lens] = cells[lens*shots : (lens+1)*shots : (lens+1)*shots]
		for shot, score := range row {
			t.scores[lens][shot] = scoreOf(score)
		}
		if p.Mass != nil {
			t.loads[lens][onMass] = whole(p.Mass[lens], massUnits)
		}
		if p.Cost != nil {
			t.loads[lens][onCost] = whole(p.Cost[lens], costUnits)
		}
	}
	if p.MaxMass > 0 && p.MaxMass <= maxLoad {
		t.limit[onMass] = whole(p.MaxMass, massUnits)
	}
	if p.MaxCost >= 0 && p.MaxCost <= maxLoad {
		t.limit[onCost] = whole(p.MaxCost, costUnits)
	}
	t.price(p)
	return t, nil
}

// scoreOf brings a score into fixed point; one above 0 stays above 0.
func scoreOf(score float64) int32 {
	if score > 0 {
		return max(1, int32(min(score, 1)*scoreUnits+0.5))
	}
	return 0
}

// maxLoad bounds a lens's mass and cost, so that sums in fixed point cannot overflow.
const maxLoad = 1e8

// whole rounds a mass or a cost to its unit; an unknown one counts as none.
func whole(x, units float64) int64 {
	if math.IsNaN(x) {
		return 0
	}
	return int64(math.Round(x * units))
}

// check finds what would make a problem meaningless or its sums overflow.
func (p *Problem) check() error {
	lenses, shots := len(p.Scores), len(p.Weights)
	if shots > MaxShots {
		return fmt.Errorf("a kit is chosen for at most %d shots, and there are %d", MaxShots, shots)
	}
	for shot, weight := range p.Weights {
		if !(weight > 0 && weight <= MaxWeight) {
			return fmt.Errorf("the weight of shot %d is %g; weights lie above 0 and up to %d", shot+1, weight, MaxWeight)
		}
	}
	for lens, row := range p.Scores {
		if len(row) != shots {
			return fmt.Errorf("lens %d has %d scores for %d shots", lens+1, len(row), shots)
		}
	}
	for _, column := range []struct {
		name   string
		length int
		given  bool
	}{
		{"masses", len(p.Mass), p.Mass != nil},
		{"costs", len(p.Cost), p.Cost != nil},
		{"bars", len(p.Barred), p.Barred != nil},
	} {
		if column.given && column.length != lenses {
			return fmt.Errorf("there are %d %s for %d lenses", column.length, column.name, lenses)
		}
	}
	for _, column := range []struct {
		name   string
		values []float64
	}{{"mass", p.Mass}, {"cost", p.Cost}} {
		for lens, x := range column.values {
			if x < 0 || x > maxLoad {
				return fmt.Errorf("the %s of lens %d is %g; it lies between 0 and %g", column.name, lens+1, x, float64(maxLoad))
			}
		}
	}
	for _, price := range []float64{p.Price, p.Charge} {
		if !(price >= 0 && price <= MostPrice) {
			return fmt.Errorf("a price is %g; it lies between 0 and %d", price, MostPrice)
		}
	}
	for _, lens := range p.Must {
		if lens < 0 || lens >= lenses {
			return fmt.Errorf("lens %d must come, and there are %d lenses", lens+1, lenses)
		}
	}
	return nil
}

// raise lifts each shot of a row to a lens's value, where that is higher.
func raise(row, values []int32) {
	values = values[:len(row)]
	for shot, value := range row {
		row[shot] = max(value, values[shot])
	}
}

// worthOf sums what a row is worth.
func (t *table) worthOf(row []int32) worth {
	var w worth
	for shot, value := range row {
		if value > 0 {
			w.covered += t.weights[shot]
			w.score += t.weights[shot] * int64(value)
		}
	}
	return w
}

// excess sums what scores have above a row, weighted.
func excess(row, scores []int32, weights []int64) int64 {
	var sum int64
	scores, weights = scores[:len(row)], weights[:len(row)]
	for shot, value := range row {
		sum += weights[shot] * int64(max(0, scores[shot]-value))
	}
	return sum
}

// bare lists the shots that a row leaves uncovered.
func bare(row []int32) []int {
	var shots []int
	for shot, value := range row {
		if value == 0 {
			shots = append(shots, shot)
		}
	}
	return shots
}

// covers is the weight of the shots, out of some, that a lens covers.
func (t *table) covers(lens int, shots []int) int64 {
	var sum int64
	for _, shot := range shots {
		if t.scores[lens][shot] > 0 {
			sum += t.weights[shot]
		}
	}
	return sum
}

// rowOf gives the best score of each shot among the lenses.
func (t *table) rowOf(lenses []int) []int32 { return rowIn(t.scores, lenses, len(t.weights)) }

// rowIn gives the best value of each shot among the lenses, in a table of values.
func rowIn(values [][]int32, lenses []int, shots int) []int32 {
	row := make([]int32, shots)
	for _, lens := range lenses {
		raise(row, values[lens])
	}
	return row
}

// additions goes through the free lenses within what is left of the limits, with what a
// set of that row is worth with each.
func (t *table) additions(row []int32, left load) iter.Seq2[int, worth] {
	return func(yield func(int, worth) bool) {
		w, bare := t.worthOf(row), bare(row)
		for _, lens := range t.free {
			if !t.loads[lens].within(left) {
				continue
			}
			if !yield(lens, worth{w.covered + t.covers(lens, bare), w.score + excess(row, t.scores[lens], t.weights)}) {
				return
			}
		}
	}
}

// loadOf sums the loads of the lenses.
func (t *table) loadOf(lenses []int) load {
	var sum load
	for _, lens := range lenses {
		sum = sum.plus(t.loads[lens])
	}
	return sum
}
