package learn

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"
)

// drawn gives a shot of which the criteria speak in steps, so that lenses are often alike in some.
func drawn(r *rand.Rand, lenses, criteria int) *Shot {
	s := &Shot{}
	for range lenses {
		logs := make([]float64, criteria)
		for c := range logs {
			logs[c] = math.Log(1 - 0.9*r.Float64())
			if r.IntN(2) == 0 {
				logs[c] = -float64(r.IntN(3))
			}
		}
		s.Logs, s.Lenses = append(s.Logs, logs), append(s.Lenses, "")
	}
	return s
}

// The margin is reached by its weights, and a mixture of the rows shows that no weights reach more: both prove
// the same value, however many rows are alike.
func TestMargin(t *testing.T) {
	const close = 1e-9
	r := rand.New(rand.NewPCG(17, 1))
	signs := map[bool]int{}
	for range langtest.Cases(2000) {
		rows := make([][]float64, 1+r.IntN([]int{5, 30, 400}[r.IntN(3)]))
		n := 1 + r.IntN(14)
		slope := 2 * r.Float64()
		for i := range rows {
			rows[i] = make([]float64, n)
			for c := range rows[i] {
				rows[i][c] = []float64{0, 1, -1, 1e-6, r.NormFloat64() + slope, r.NormFloat64() + slope}[r.IntN(6)]
			}
			if i > 0 && r.IntN(10) == 0 {
				rows[i] = rows[r.IntN(i)]
			}
		}
		low, high, weights := margin(rows)
		signs[high > 0]++
		if math.Abs(total(weights)-1) > close || slices.Min(weights) < 0 || math.Abs(high-low) > close {
			t.Fatalf("weights %v reach %v, and a mixture holds them to %v", weights, low, high)
		}
		for _, row := range rows {
			if at := worth(weights, row); high > explained && at <= 0 {
				t.Fatalf("the margin is %v, and %v makes %v of %v", high, weights, at, row)
			}
		}
	}
	if langtest.Enough(2000) && (signs[true] < 300 || signs[false] < 300) {
		t.Errorf("seen: %v", signs)
	}
}

// Sets of choices that contradict themselves are the smallest there are, by trying all.
func TestContradictionsAreSmallest(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 2))
	sizes := map[int]int{}
	for range langtest.Cases(400) {
		n := 2 + r.IntN(4)
		var choices []Choice
		for range 1 + r.IntN(8) {
			shot := drawn(r, 2+r.IntN(3), n)
			choices = append(choices, Choice{Shot: shot, Lens: r.IntN(len(shot.Logs))})
		}
		rows := make([][][]float64, len(choices))
		for i := range choices {
			rows[i] = differences(&choices[i])
		}
		least := 0 // of those that contradict themselves, 0 for none
		for set := range 1 << len(choices) {
			var all [][]float64
			size := 0
			for i := range choices {
				if set>>i&1 == 1 {
					size, all = size+1, append(all, rows[i]...)
				}
			}
			if _, most, _ := margin(all); most <= explained && (least == 0 || size < least) {
				least = size
			}
		}
		found, more := Contradict(choices)
		if len(found) == 0 != (least == 0) || least > 0 && (len(found[0].Choices) != least || !found[0].Least) {
			t.Fatalf("got %v, want one of %d", found, least)
		}
		sizes[least]++
		seen := map[int]bool{}
		for _, one := range found {
			for _, i := range one.Choices {
				if seen[i] {
					t.Fatalf("%d stands twice in %v", i, found)
				}
				seen[i] = true
			}
		}
		rest := slices.DeleteFunc(slices.Clone(choices), func(c Choice) bool {
			return seen[slices.IndexFunc(choices, func(other Choice) bool { return other.Shot == c.Shot })]
		})
		if rest, _ := Contradict(rest); more != (rest != nil) {
			t.Fatalf("%v is left", rest)
		}
	}
	if langtest.Enough(400) && (sizes[0] < 20 || sizes[1] < 20 || sizes[2] < 20 || sizes[3] < 5) {
		t.Errorf("sizes seen: %v", sizes)
	}
}
