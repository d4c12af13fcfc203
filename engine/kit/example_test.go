package kit_test

import (
	"fmt"

	"glassbrief/engine/kit"
)

// Three lenses and four shots, the last of which counts twice; two lenses may come.
func ExampleSearch_Solve() {
	p := &kit.Problem{
		Scores: [][]float64{
			{0.9, 0.8, 0.0, 0.3},
			{0.0, 0.7, 0.9, 0.0},
			{0.5, 0.0, 0.6, 0.9},
		},
		Weights: []float64{1, 1, 1, 2},
		Size:    2,
		Mass:    []float64{0.6, 0.4, 1.1},
		MaxMass: 2,
		MaxCost: -1, // no limit
	}
	solution, err := kit.Search{}.Solve(p, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, set := range solution.Sets {
		fmt.Printf("lenses %v, mean %.2f, %.1f kg, uncovered %g, used %v\n", set.Lenses, set.Mean, set.Mass, set.Uncovered, set.Best)
	}
	fmt.Println("proven:", solution.Proven)
	// Output:
	// lenses [0 2], mean 0.82, 1.7 kg, uncovered 0, used [0 0 2 2]
	// lenses [1 2], mean 0.78, 1.5 kg, uncovered 0, used [2 1 1 2]
	// proven: true
}
