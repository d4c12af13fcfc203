package kit

import (
	"errors"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestContradictingLimits(t *testing.T) {
	three := func(change func(p *Problem)) *Problem {
		p := &Problem{
			Scores:  [][]float64{{1, 0}, {0.5, 0.5}, {0, 1}},
			Weights: []float64{1, 1},
			Size:    2,
			Mass:    []float64{0.9, 1.2, 1.5},
			Cost:    []float64{40, 25, 0},
			MaxCost: -1,
		}
		change(p)
		return p
	}
	for _, c := range []struct {
		name   string
		p      *Problem
		reason string
		lenses []int
	}{
		{"must and size", three(func(p *Problem) { p.Must = []int{2, 0, 1} }),
			"3 lenses must come, and only 2 may be carried", []int{0, 1, 2}},
		{"must and mass", three(func(p *Problem) { p.Must, p.MaxMass = []int{1, 2}, 2.5 }),
			"the lenses that must come weigh 2.7 kg, and the bag may hold 2.5 kg", []int{1, 2}},
		{"must and cost", three(func(p *Problem) { p.Must, p.MaxCost = []int{0}, 30 }),
			"the lenses that must come cost 40.00 a day, and 30.00 may be spent", []int{0}},
		{"must and barred", three(func(p *Problem) { p.Must, p.Barred = []int{0, 1}, []bool{false, true, true} }),
			"1 lens must come and may not come", []int{1}},
		{"all too heavy", three(func(p *Problem) { p.MaxMass = 0.8 }),
			"the lightest lens that may come weighs 0.9 kg, and the bag may hold 0.8 kg", nil},
		{"all too dear", three(func(p *Problem) { p.MaxCost, p.Barred = 20, []bool{false, false, true} }),
			"the cheapest lens that may come costs 25.00 a day, and 20.00 may be spent", nil},
		{"the light too dear", three(func(p *Problem) { p.MaxMass, p.MaxCost = 1.3, 10 }),
			"the bag may hold 1.3 kg, and the cheapest lens within that costs 25.00 a day, where 10.00 may be spent", nil},
		{"all barred", three(func(p *Problem) { p.Barred = []bool{true, true, true} }),
			"every lens is among those that may not come", nil},
		{"no room", three(func(p *Problem) { p.Size = 0 }), "no lens may be carried", nil},
		{"no lens", &Problem{Weights: []float64{1}, Size: 2, MaxCost: -1}, "there is no lens to choose from", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, solver := range []solver{exhaustive{}, Search{}} {
				got, err := solver.Solve(c.p, 0)
				var limit *LimitError
				if !errors.As(err, &limit) {
					t.Fatalf("%T: got %v and error %v, want a limit error", solver, got.Sets, err)
				}
				if diff := cmp.Diff(limit, &LimitError{Reason: c.reason, Lenses: c.lenses}); diff != "" {
					t.Errorf("%T: got (-), want (+):\n%s", solver, diff)
				}
			}
		})
	}
}

// A limit met exactly is kept, although the decimal fractions do not sum to it in binary.
func TestLimitMetExactly(t *testing.T) {
	p := &Problem{
		Scores:  [][]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		Weights: []float64{1, 1, 1},
		Size:    3,
		Mass:    []float64{0.1, 0.2, 0.4},
		Cost:    []float64{1.1, 2.2, 4.4},
		MaxMass: 0.7,
		MaxCost: 7.7,
	}
	for _, solver := range []solver{exhaustive{}, Search{}} {
		got, err := solver.Solve(p, 0)
		if err != nil {
			t.Fatal(err)
		}
		want := Set{Lenses: []int{0, 1, 2}, Mean: 1, Value: 1, Swaps: 2, Mass: 0.7, Cost: 7.7, Best: []int{0, 1, 2}}
		if diff := cmp.Diff(got.Sets[0], want); diff != "" {
			t.Errorf("%T: got (-), want (+):\n%s", solver, diff)
		}
	}
}

func TestShotNobodyCovers(t *testing.T) {
	p := &Problem{Scores: [][]float64{{0.8, 0}, {0.6, 0}}, Weights: []float64{1, 3}, Size: 2, MaxCost: -1}
	got, err := Search{}.Solve(p, 0)
	if err != nil {
		t.Fatal(err)
	}
	want := Set{Lenses: []int{0}, Uncovered: 3, Mean: 0.2, Value: 0.2, Best: []int{0, -1}}
	if diff := cmp.Diff(got.Sets[0], want); diff != "" {
		t.Errorf("got (-), want (+):\n%s", diff)
	}
}

func TestMeaninglessProblems(t *testing.T) {
	good := Problem{Scores: [][]float64{{1, 1}}, Weights: []float64{1, 1}, Size: 1, MaxCost: -1}
	for _, c := range []struct {
		name   string
		change func(p *Problem)
		want   string
	}{
		{"weight 0", func(p *Problem) { p.Weights = []float64{1, 0} }, "the weight of shot 2 is 0; weights lie above 0 and up to 1000"},
		{"weight unknown", func(p *Problem) { p.Weights = []float64{math.NaN(), 1} }, "the weight of shot 1 is NaN; weights lie above 0 and up to 1000"},
		{"a score too few", func(p *Problem) { p.Scores = [][]float64{{1}} }, "lens 1 has 1 scores for 2 shots"},
		{"a mass too many", func(p *Problem) { p.Mass = []float64{1, 2} }, "there are 2 masses for 1 lenses"},
		{"negative cost", func(p *Problem) { p.Cost = []float64{-5} }, "the cost of lens 1 is -5; it lies between 0 and 1e+08"},
		{"stranger", func(p *Problem) { p.Must = []int{1} }, "lens 2 must come, and there are 1 lenses"},
		{"too many shots", func(p *Problem) { p.Weights = make([]float64, MaxShots+1) }, "a kit is chosen for at most 2000 shots, and there are 2001"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := good
			c.change(&p)
			_, err := Search{}.Solve(&p, 0)
			if err == nil || err.Error() != c.want {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}
