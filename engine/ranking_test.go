package engine_test

import (
	"os"
	"slices"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
)

// What an answer holds of a ranking is its beginning and the kit, in the order of the whole, whatever
// the number, and going through all gives the rest.
func TestRankingsHoldTheirBeginning(t *testing.T) {
	for _, file := range []struct{ folder, name string }{
		{"../scenarios", "night-ferry.scenario"}, {"../scenarios", "orchard.scenario"}, {"../testdata/schema", "uncovered.scenario"},
	} {
		s := enginetest.ReadFile(t, os.DirFS(file.folder), file.name)
		whole := enginetest.Recommend(t, s, engine.Options{Runners: 2})
		for _, hold := range []int{engine.KitAlone, 1, 3, 10, 1000} {
			few := enginetest.Recommend(t, s, engine.Options{Runners: 2, Hold: hold})
			for i := range whole.Shots {
				want, got := &whole.Shots[i], &few.Shots[i]
				first := hold
				if hold == engine.KitAlone && want.Use == nil {
					first = 1
				}
				var names, all []string
				for k := range want.Ranking {
					j := &want.Ranking[k]
					if all = append(all, j.Lens); j.Rank != k+1 {
						t.Errorf("%s, %s: rank %d of the %d. lens", file.name, want.Shot.ID, j.Rank, k+1)
					}
					if k < first || slices.Contains(whole.Kit.Lenses, j.Lens) {
						names = append(names, j.Lens)
					}
					found := got.Find(j.Lens)
					if found == nil || found.Score != j.Score || found.Standing != j.Standing || found.KeptOut != j.KeptOut || len(found.Vetoes()) != len(j.Vetoes()) || found.Rank != 0 && found.Rank != j.Rank {
						t.Errorf("%s, %s, hold %d: %s is found as %v, want %v", file.name, want.Shot.ID, hold, j.Lens, found, j)
					}
				}
				held, through := lensesOf(got.Held()), lensesOf(got.All())
				if begins := max(0, min(first, len(all))); !slices.Equal(held[:begins], all[:begins]) {
					t.Errorf("%s, %s, hold %d: begins with %q, want %q", file.name, want.Shot.ID, hold, held, all[:begins])
				}
				slices.Sort(names) // of the excluded lenses of the kit the order is not worked out
				slices.Sort(held)
				if !slices.Equal(held, names) {
					t.Errorf("%s, %s, hold %d: got %q, want %q", file.name, want.Shot.ID, hold, held, names)
				}
				if !slices.Equal(through, all) || got.Total != len(all) {
					t.Errorf("%s, %s, hold %d: all are %q, %d in all, want %q", file.name, want.Shot.ID, hold, through, got.Total, all)
				}
			}
		}
	}
}

func lensesOf(ranking func(func(*engine.Judgement) bool)) (lenses []string) {
	for j := range ranking {
		lenses = append(lenses, j.Lens)
	}
	return lenses
}
