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

// The margin is reached by its weights, and no weights reach more: some mixture of the rows, which weights of
// whoever mixes stand for, gives no criterion more.
func TestMargin(t *testing.T) {
	const close = 1e-9
	r := rand.New(rand.NewPCG(17, 1))
	signs := map[bool]int{}
	for range langtest.Cases(2000) {
		rows := make([][]float64, 1+r.IntN(30))
		n := 1 + r.IntN(12)
		slope := r.Float64()
		for i := range rows {
			rows[i] = make([]float64, n)
			for c := range rows[i] {
				rows[i][c] = []float64{0, 1, -1, r.NormFloat64() + slope}[r.IntN(4)]
			}
			rows[i][r.IntN(n)] = []float64{1, -1}[r.IntN(2)] // which is the greatest size of most
		}
		most, weights := margin(rows)
		signs[most > 0]++
		unit := func(row []float64) []float64 {
			size := 0.0
			for _, x := range row {
				size = max(size, math.Abs(x))
			}
			out := slices.Clone(row)
			for c := range out {
				out[c] /= size
			}
			return out
		}
		least := math.Inf(1)
		for _, row := range rows {
			least = min(least, worth(weights, unit(row)))
		}
		if math.Abs(total(weights)-1) > close || slices.Min(weights) < -close || math.Abs(least-most) > close {
			t.Fatalf("weights %v give %v, want %v", weights, least, most)
		}
		turned := make([][]float64, n) // the same game from the other side: its value is the negative one
		for c := range turned {
			turned[c] = make([]float64, len(rows))
			for i, row := range rows {
				turned[c][i] = -unit(row)[c]
			}
		}
		if slices.ContainsFunc(turned, func(row []float64) bool { return slices.Max(row) < 1 && slices.Min(row) > -1 }) {
			continue // those rows would be stretched
		}
		if other, _ := margin(turned); math.Abs(other+most) > close {
			t.Fatalf("from the other side it is %v, want %v", -other, most)
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
			if most, _ := margin(all); most <= explained && (least == 0 || size < least) {
				least = size
			}
		}
		found := Contradict(choices)
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
		if more := Contradict(rest); more != nil {
			t.Fatalf("%v is left", more)
		}
	}
	if langtest.Enough(400) && (sizes[0] < 20 || sizes[1] < 20 || sizes[2] < 20 || sizes[3] < 5) {
		t.Errorf("sizes seen: %v", sizes)
	}
}
