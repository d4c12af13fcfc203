package engine_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
)

// A catalogue of 20,000 lenses loads, is judged with word of how far it is, and gives a
// proven kit within its limits.
func TestTwentyThousandLenses(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes seconds")
	}
	const lenses = 20_000
	random := rand.New(rand.NewPCG(7, 7))
	var b strings.Builder
	b.WriteString(equipment)
	for i := range lenses {
		focal, stop := 8+140*random.Float64(), []float64{1.4, 2, 2.8, 4}[random.IntN(4)]
		fmt.Fprintf(&b, "lens \"Lens %d\" {\n  have rent %d EUR\n  mount \"Near\"\n  focal %.1fmm\n  pupil thin\n  aperture f/%g..f/22\n  transmission T%.2f\n  close_focus %.2fm\n  circle %.1fmm\n  mass %dg\n  length %dmm\n  distortion %.2f%%\n}\n",
			i, 5+random.IntN(80), focal, stop, stop*1.1, 0.2+random.Float64(), 26+20*random.Float64(), 150+random.IntN(2000), 40+random.IntN(160), 4*random.Float64()-3)
	}
	s := enginetest.ReadWith(t, `use "kit.catalog"
scenario "Large" {
  camera "Body"
  rig "Sled"
  rent 60 EUR
}
shot "1" {
  subject person 1.75m
  frame medium
  distance 2m..2.4m
  move lead 1m/s
  light 400lx
}
shot "2" {
  subject person 1.75m
  frame full
  distance 3m
  light 400lx
}
`, b.String())
	if got := len(s.Catalogue.Lenses.All()); got != lenses {
		t.Fatalf("got %d lenses, want %d", got, lenses)
	}
	most := 0
	table, err := engine.Judge(t.Context(), s, engine.Options{Workers: 1, Progress: func(done, total int) {
		if done <= most || total != 2*lenses {
			t.Errorf("progress: got %d of %d after %d", done, total, most)
		}
		most = done
	}})
	if err != nil {
		t.Fatal(err)
	}
	if most != 2*lenses {
		t.Errorf("progress ended at %d of %d", most, 2*lenses)
	}
	choice, err := table.Choose(s.Limits, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if !choice.Proven || choice.Kit.Cost > 60 || len(choice.Kit.Uncovered) > 0 {
		t.Errorf("got %+v, want a proven kit for at most 60 a day that covers both shots", choice.Kit)
	}
	// Every shot has a lens of the kit that does it.
	for i := range s.Shots {
		best := 0.0
		for j, lens := range table.Lenses() {
			for _, name := range choice.Kit.Lenses {
				if lens.Name.Value == name && table.Outcome(i, j).Acceptable() {
					best = max(best, table.Outcome(i, j).Score)
				}
			}
		}
		if best <= 0 {
			t.Errorf("shot %s: no lens of the kit does it", s.Shots[i].ID)
		}
	}
}
