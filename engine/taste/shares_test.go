package taste_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/taste"
	"glassbrief/lang/langtest"
)

// chosen gives the kit of a table, and the table of the lenses that can come.
func chosen(t testing.TB, table *engine.Table) *engine.Kit {
	t.Helper()
	choice, err := table.Choose(table.Scenario.Limits, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return &choice.Kit
}

func drawn(t testing.TB, table *engine.Table, draws int) *taste.Shares {
	t.Helper()
	s, err := taste.Draw(context.Background(), table, chosen(t, table), draws, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// by gives the kit by other weights with the set-ups held, as the engine chooses it.
func by(t testing.TB, h *taste.Held, weights []float64) []string {
	scores := h.Table.Scores()
	for shot, row := range scores {
		for lens := range row {
			row[lens] = h.Score(shot, lens, weights)
		}
	}
	return slices.Sorted(slices.Values(chosen(t, h.Table.WithScores(scores)).Lenses))
}

// Each taste has the kit that the engine chooses by it.
func TestTastesChooseAsTheEngineDoes(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 5))
	others := 0
	for range langtest.Cases(60) {
		table := judged(t, drawBrief(r)).Eligible()
		h := held(t, table)
		kit := slices.Sorted(slices.Values(chosen(t, table).Lenses))
		weights, kits, err := taste.EachBest(h, 30)
		if err != nil {
			t.Fatal(err)
		}
		for i := range weights {
			want := by(t, h, weights[i])
			if !slices.Equal(kits[i], want) {
				t.Fatalf("by %v: got %v, want %v", weights[i], kits[i], want)
			}
			if !slices.Equal(want, kit) {
				others++
			}
		}
	}
	if langtest.Enough(20) && others < 60 {
		t.Errorf("only %d tastes choose another kit", others)
	}
}

// The shares of all kits are all tastes, and central weights put into the rules make their kit the best.
func TestCentralWeightsMakeTheirKitTheBest(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 2))
	briefs := langtest.Cases(500)
	central, anew, rivals, changed := 0, 0, 0, 0
	for range briefs {
		text := drawBrief(r)
		table := judged(t, text)
		s := drawn(t, table, 60)
		h := held(t, table)
		all, near, before := 0, 0, anew
		for i, kit := range s.Kits {
			all, near = all+kit.All, near+kit.Near
			if kit.Central == nil {
				if kit.All+kit.Near > 0 {
					t.Fatalf("%v is best for %d tastes and has no central weights", kit.Lenses, kit.All+kit.Near)
				}
				continue
			}
			central++
			source := weighing(s.Criteria, kit.Central)
			weights := make([]float64, len(s.Criteria))
			for k, c := range extended(t, table.Scenario.Rules, source).Criteria() {
				weights[k] = c.Weight
			}
			want := slices.Sorted(slices.Values(kit.Lenses))
			if got := by(t, h, weights); !slices.Equal(got, want) {
				t.Fatalf("by %v: got %v, want %v\n%s", weights, got, want, text)
			}
			if i > 0 {
				rivals++
			}
			got := slices.Sorted(slices.Values(chosen(t, judgedBy(t, text, source)).Lenses))
			if !slices.Equal(got, want) {
				anew++
			}
			if kit.Anew != nil && !slices.Equal(slices.Sorted(slices.Values(kit.Anew)), got) || i == 0 && kit.Anew == nil && len(got) > 0 {
				t.Fatalf("solved anew by %v: %v, and the file of rules gives %v", kit.Central, kit.Anew, got)
			}
		}
		if anew > before {
			changed++
		}
		if all != s.Draws || near != s.Draws || s.Unproven > 0 {
			t.Fatalf("%d and %d of %d tastes, %d unproven", all, near, s.Draws, s.Unproven)
		}
	}
	t.Logf("of %d central weights in %d briefs, %d of other kits than the one chosen, all make their kit the best; solved anew %d make another, in %d briefs", central, briefs, rivals, anew, changed)
	if langtest.Enough(20) && rivals < briefs/10 {
		t.Errorf("only %d rivals in %d briefs", rivals, briefs)
	}
}
