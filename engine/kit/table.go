package kit

import (
	"cmp"
	"fmt"
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
// weighted sum of the best scores.
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
}

// newTable checks a problem and gives its fixed-point form.
func newTable(p *Problem) (*table, error) {
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
			if score > 0 {
				t.scores[lens][shot] = max(1, int32(math.Round(min(score, 1)*scoreUnits)))
			}
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
	return t, t.choices(p)
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
	for _, lens := range p.Must {
		if lens < 0 || lens >= lenses {
			return fmt.Errorf("lens %d must come, and there are %d lenses", lens+1, lenses)
		}
	}
	return nil
}

// add writes the better of row and a lens's scores to next, which may be row itself, and
// gives what next is worth.
func (t *table) add(next, row []int32, lens int) worth {
	return blend(next, row, t.scores[lens], t.weights)
}

// blend writes the greater of two rows to next, shot by shot, and gives what that is worth.
func blend(next, row, other []int32, weights []int64) worth {
	var w worth
	next, other, weights = next[:len(row)], other[:len(row)], weights[:len(row)]
	for shot, value := range row {
		best := max(value, other[shot])
		next[shot] = best
		w.score += weights[shot] * int64(best)
		if best > 0 {
			w.covered += weights[shot]
		}
	}
	return w
}

// rowOf gives the best score of each shot among the lenses.
func (t *table) rowOf(lenses []int) ([]int32, worth) {
	row := make([]int32, len(t.weights))
	var w worth
	for _, lens := range lenses {
		w = t.add(row, row, lens)
	}
	return row, w
}

// loadOf sums the loads of the lenses.
func (t *table) loadOf(lenses []int) load {
	var sum load
	for _, lens := range lenses {
		sum = sum.plus(t.loads[lens])
	}
	return sum
}
