package kit

import (
	"fmt"
	"math"
)

// A Problem is what a kit is chosen from. Scores[lens][shot] lies in 0..1, and 0 means
// that the lens is not acceptable for the shot.
type Problem struct {
	Scores  [][]float64
	Weights []float64 // of the shots, above 0 and at most [MaxWeight]
	Size    int       // lenses at most
	Mass    []float64 // kg; NaN when unknown, nil when no mass is known
	Cost    []float64 // money a day; nil when nothing costs
	MaxMass float64   // of the bag; 0 or less for no limit
	MaxCost float64   // a day; negative for no limit
	Must    []int     // lenses that come whatever they score
	Barred  []bool    // lenses that may not come; nil for none
}

// MaxWeight bounds the weight of a shot, so that sums in fixed point cannot overflow.
const MaxWeight = 1000

// MaxShots bounds the shots of a problem for the same reason.
const MaxShots = 2000

// A Set is a set of lenses with what it is worth. Lenses are in ascending order.
type Set struct {
	Lenses    []int
	Uncovered float64 // weight of the shots without an acceptable lens
	Mean      float64 // weighted mean of each shot's best score, uncovered shots as 0
	Swaps     int     // lens changes through the day, in shooting order
	Mass      float64 // kg of the lenses whose mass is known
	Cost      float64 // money a day
	Best      []int   // for each shot the lens used, or -1
}

// Solution is what a solver found.
type Solution struct {
	Sets   []Set // the best, and runners-up behind it
	Proven bool  // no other set can be better than the first
	Gap    float64
	Nodes  int // sets looked at
}

// A Solver finds the best sets, at most runners more than one.
type Solver interface {
	Solve(p *Problem, runners int) (Solution, error)
}

// LimitError says which limits leave no set at all.
type LimitError struct{ Reason string }

// Error gives the reason.
func (e *LimitError) Error() string { return e.Reason }

// The fixed-point form: a shot's weight in hundredths, a score in units of 2^-20. Whole
// numbers make sums independent of their order, so that ties and results are the same on
// any number of workers.
const (
	weightUnits = 100
	scoreUnits  = 1 << 20
)

// table is the problem in fixed point. Covering a shot is worth more than all scores
// together, weight for weight, which makes one number of the first two objectives.
type table struct {
	value   [][]int64 // lens, shot
	weights []int64
	total   int64 // of the weights
	cover   int64 // what covering is worth for one unit of weight
}

func (p *Problem) table() (*table, error) {
	shots := len(p.Weights)
	if shots > MaxShots {
		return nil, fmt.Errorf("a kit is chosen for at most %d shots, and there are %d", MaxShots, shots)
	}
	t := &table{weights: make([]int64, shots), value: make([][]int64, len(p.Scores))}
	for i, weight := range p.Weights {
		if !(weight > 0 && weight <= MaxWeight) {
			return nil, fmt.Errorf("the weight of shot %d is %g; weights lie above 0 and up to %d", i+1, weight, MaxWeight)
		}
		t.weights[i] = max(1, int64(math.Round(weight*weightUnits)))
		t.total += t.weights[i]
	}
	t.cover = t.total*scoreUnits + 1
	if t.total > 0 && t.cover > math.MaxInt64/2/t.total {
		return nil, fmt.Errorf("the weights of the shots sum to %g; scale them down", float64(t.total)/weightUnits)
	}
	cells := make([]int64, len(p.Scores)*shots)
	for lens, row := range p.Scores {
		t.value[lens] = cells[lens*shots : (lens+1)*shots : (lens+1)*shots]
		for shot, score := range row {
			if score > 0 {
				fixed := max(1, int64(math.Round(min(score, 1)*scoreUnits)))
				t.value[lens][shot] = t.weights[shot] * (t.cover + fixed)
			}
		}
	}
	return t, nil
}
