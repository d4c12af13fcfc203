package learn

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/lang/langtest"
)

var eight = []float64{4, 2, 3, 3, 2, 1, 2, 1}

// take draws the lens that somebody with some weights takes.
func take(r *rand.Rand, weights []float64, shot *Shot) Choice {
	worths := make([]float64, len(shot.Logs))
	for lens, logs := range shot.Logs {
		worths[lens] = worth(weights, logs)
	}
	softmax(worths)
	u, lens := r.Float64(), 0
	for ; lens < len(worths)-1 && u > worths[lens]; lens++ {
		u -= worths[lens]
	}
	return Choice{Shot: shot, Lens: lens}
}

// Without choices the weights are those of the house to the last bit, every scale is as likely as it was held,
// and the logarithm of each weight has the standard deviation ln 2.
func TestWithoutChoices(t *testing.T) {
	house := []float64{4, 2, 0.1, 1.7, 1. / 3}
	taste := Learn(house, nil)
	if !slices.Equal(taste.Weights, house) || !math.IsNaN(taste.Scale) {
		t.Errorf("got %v at %v", taste.Weights, taste.Scale)
	}
	within := 0
	for _, draw := range taste.draws {
		if len(draw.weights) == len(house) && slices.Min(draw.weights) > 0 {
			within++
		}
	}
	if within != len(taste.draws) || len(taste.draws) != len(scales)*drawsOfPart {
		t.Errorf("%d draws of %d are above zero", within, len(taste.draws))
	}
	shares := 0.0
	for i, p := range taste.parts {
		shares += p.share
		if math.Abs(p.share-1./float64(len(scales))) > 0.05 { // as many draws tell
			t.Errorf("scale %v is held likely as %v", scales[i], p.share)
		}
		for c, w := range p.peak {
			if math.Abs(w/(scales[i]*house[c])-1) > 1e-9 || math.Abs(p.root[c][c]-1/math.Ln2) > 1e-9 {
				t.Errorf("at scale %v: weight %v, precision %v", scales[i], w, p.root[c][c])
			}
		}
	}
	if math.Abs(shares-1) > 1e-12 {
		t.Errorf("the shares sum to %v", shares)
	}
}

// At the peak no weight, made a little more or less, makes the choices and the weights more probable
// together, by densities written here anew; and the curvature is that of those densities.
func TestPeak(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 3))
	for range langtest.Cases(100) {
		house := eight[:2+r.IntN(7)]
		var choices []Choice
		for range r.IntN(30) {
			choice := take(r, house, drawn(r, 2+r.IntN(10), len(house)))
			if r.IntN(3) == 0 {
				choice.Over = []int{(choice.Lens + 1) % len(choice.Shot.Logs)}
			}
			choices = append(choices, choice)
		}
		scale := []float64{0.25, 1, 4}[r.IntN(3)]
		p := fit(house, scale, choices)
		density := func(logs []float64) float64 { // of the logarithms of the weights
			sum := 0.0
			for c, x := range logs { // a gamma distribution of mean m and shape k, in its logarithm
				m := scale * house[c]
				sum += shape*x - shape*math.Exp(x)/m
			}
			for _, choice := range choices {
				all := 0.0
				value := func(lens int) (v float64) {
					for c, x := range logs {
						v += math.Exp(x) * choice.Shot.Logs[lens][c]
					}
					return v
				}
				choice.others(func(lens int) { all += math.Exp(value(lens) - value(choice.Lens)) })
				sum -= math.Log1p(all)
			}
			return sum
		}
		peak := make([]float64, len(house))
		for c, w := range p.peak {
			peak[c] = math.Log(w)
		}
		const step = 1e-3
		at := func(c, d int, x, y float64) float64 {
			logs := slices.Clone(peak)
			logs[c] += x
			logs[d] += y
			return density(logs)
		}
		for c := range house {
			slope := (8*(at(c, c, step, 0)-at(c, c, -step, 0)) - (at(c, c, 2*step, 0) - at(c, c, -2*step, 0))) / (12 * step)
			if math.Abs(slope) > 1e-6 {
				t.Fatalf("the slope along weight %d is %v", c, slope)
			}
			for d := range c + 1 {
				want, size := 0.0, 0.0 // of the whole, which the error of differences goes with
				for k := range house {
					want += p.root[c][k] * p.root[d][k]
					size += p.root[c][k]*p.root[c][k] + p.root[d][k]*p.root[d][k]
				}
				got := -(at(c, d, step, step) - at(c, d, step, -step) - at(c, d, -step, step) + at(c, d, -step, -step)) / (4 * step * step)
				if math.Abs(got-want) > 1e-3*size {
					t.Fatalf("the curvature along %d and %d is %v, want %v", c, d, got, want)
				}
			}
		}
	}
}

// Whatever was chosen, no weight is below zero, each lies within its range or near it, and they have the sum
// of the house's.
func TestWeightsStayAboveZero(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	for range langtest.Cases(100) {
		house := make([]float64, 1+r.IntN(12))
		for c := range house {
			house[c] = math.Exp(3 * r.NormFloat64())
		}
		var choices []Choice
		for range r.IntN(60) { // at random, and so against all weights
			shot := drawn(r, 2+r.IntN(20), len(house))
			choices = append(choices, Choice{Shot: shot, Lens: r.IntN(len(shot.Logs))})
		}
		taste := Learn(house, choices)
		for c, w := range taste.Weights {
			if low, high := taste.Range(c, 0.8); !(w > 0) || !(low > 0) || !(high >= low) || math.IsInf(high, 0) {
				t.Fatalf("weight %v, from %v to %v", w, low, high)
			}
		}
		if got, want := total(taste.Weights), total(house); math.Abs(got/want-1) > 1e-9 {
			t.Fatalf("the sum is %v, want %v", got, want)
		}
	}
}

// What is said of a choice that is left out rests on no part of it: another choice in its place changes nothing.
func TestLeaveOut(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 12))
	for _, n := range []int{1, 7, 20, 50} {
		var choices []Choice
		for range n {
			choices = append(choices, take(r, eight, drawn(r, 3+r.IntN(6), len(eight))))
		}
		before := LeaveOut(eight, choices)
		at := r.IntN(n)
		if n == 50 {
			at = r.IntN(folds) // with which two others are left out
		}
		other := slices.Clone(choices)
		other[at].Lens = (other[at].Lens + 1) % len(other[at].Shot.Logs)
		after := LeaveOut(eight, other)
		changed := 0
		for i := range choices {
			switch {
			case i == at && (after[i].First != before[i].First || after[i].Sure != before[i].Sure):
				t.Fatalf("of %d choices: got %+v, and %+v with another lens taken", n, before[i], after[i])
			case i%folds == at%folds && i != at && after[i] != before[i]:
				t.Fatalf("of %d choices: choice %d is left out with %d, and rests on it", n, i, at)
			case i%folds != at%folds && after[i] != before[i]:
				changed++
			}
		}
		if n > 1 && changed < n/2 {
			t.Errorf("of %d choices %d change by one of them", n, changed)
		}
	}
}
