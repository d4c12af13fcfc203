package engine_test

import (
	"context"
	"errors"
	"math"
	"slices"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/enginetest"

	"pgregory.net/rapid"
)

// worse reports whether a kit leaves more uncovered than another, or is worth less on what
// both cover.
func worse(a, b *engine.Kit) bool {
	const rounding = 1e-6
	return a.Left > b.Left+rounding || math.Abs(a.Left-b.Left) <= rounding && a.Value < b.Value-rounding
}

func TestMoreRoomNeverMakesTheKitWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawBrief(t).load(t)
		r := enginetest.Recommend(t, s, engine.Options{Runners: 2})
		alone, err := r.Table.Choose(s.Limits, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(alone.Kit.Lenses, r.Kit.Lenses) {
			t.Errorf("with kits behind it the best is %v, and without them %v", r.Kit.Lenses, alone.Kit.Lenses)
		}
		sizes := r.Sizes(engine.Options{})
		for i := range sizes {
			if i > 0 && worse(&sizes[i].Kit, &sizes[i-1].Kit) {
				t.Errorf("%d lenses leave %g and are worth %g, worse than %d with %g and %g", sizes[i].Carry,
					sizes[i].Kit.Left, sizes[i].Kit.Value, sizes[i-1].Carry, sizes[i-1].Kit.Left, sizes[i-1].Kit.Value)
			}
		}
	})
}

// The second lens is that which the kit would miss least, and without its deciding shot
// it does not come.
func TestSecondLens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := enginetest.Recommend(t, drawBrief(t).load(t), engine.Options{})
		second, err := r.Table.Second(context.Background(), &r.Kit, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if second == nil {
			if len(r.Kit.Lenses) > 1 {
				t.Errorf("got no second lens in %v", r.Kit.Lenses)
			}
			return
		}
		for _, lens := range r.Kit.Lenses {
			others := slices.DeleteFunc(slices.Clone(r.Kit.Lenses), func(name string) bool { return name == lens })
			rest := r.Table.Kit(others)
			if rest.Value > second.Without.Value+1e-9 || lens == second.Lens && (math.Abs(rest.Value-second.Without.Value) > 1e-9 || math.Abs(r.Kit.Mean-rest.Mean-second.Loss) > 1e-9) {
				t.Errorf("without %s there is %+v; the second lens is said to be %s, missed by %g: %+v", lens, rest, second.Lens, second.Loss, second.Without)
			}
			if best := bestOfAll(r, others); best < rest.Mean-1e-9 || best < rest.Value-1e-9 {
				t.Errorf("%v are worth %g of %g, and score at best %g", others, rest.Value, rest.Mean, best)
			}
		}
		if second.Decider == "" {
			return
		}
		i := slices.IndexFunc(r.Shots, func(a engine.ShotAnswer) bool { return a.Shot.ID == second.Decider })
		choice, err := r.Table.WithoutShot(i).Choose(r.Scenario.Limits, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if slices.Contains(choice.Kit.Lenses, second.Lens) {
			t.Errorf("without shot %s the kit is %v, which holds %s still", second.Decider, choice.Kit.Lenses, second.Lens)
		}
	})
}

// bestOfAll gives the weighted mean of the best scores of some lenses.
func bestOfAll(r *engine.Recommendation, lenses []string) float64 {
	sum, total := 0.0, 0.0
	for i := range r.Shots {
		best := 0.0
		for _, name := range lenses {
			if j := r.Shots[i].Find(name); j.Standing == engine.Judged {
				best = max(best, j.Score)
			}
		}
		sum += r.Shots[i].Shot.Weight * best
		total += r.Shots[i].Shot.Weight
	}
	return sum / total
}

func TestCandidates(t *testing.T) {
	text := enginetest.Trial("", "light 90lx")
	text = replace(t, text, `camera "House body A"`, `camera "House cube" or "House body A" or "House body B"`)
	s, ds := enginetest.Load(t, text)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	whole, err := answer.Of(t.Context(), s, engine.Options{Camera: "House body A"})
	if err != nil {
		t.Fatal(err)
	}
	all, best := whole.Cameras, whole.Best
	if len(all) != 3 {
		t.Fatalf("got %d candidates, want 3", len(all))
	}
	for i := range all {
		own := enginetest.Recommend(t, s, engine.Options{Camera: all[i].Camera.Name.Value})
		if !slices.Equal(all[i].Kit.Lenses, own.Kit.Lenses) {
			t.Errorf("%s: got the kit %v, want that of a recommendation on it, %v", all[i].Camera.Name.Value, all[i].Kit.Lenses, own.Kit.Lenses)
		}
		if worse(&all[best].Kit, &all[i].Kit) {
			t.Errorf("%s is said to be the best, and %s is better", all[best].Camera.Name.Value, all[i].Camera.Name.Value)
		}
		if use := all[i].Uses[0]; use != nil && (use.Lens != all[i].Kit.Uses[0] || use.Score != own.Shots[0].Use.Score) {
			t.Errorf("%s: got %s with %g, want %s with %g", all[i].Camera.Name.Value, use.Lens, use.Score, own.Kit.Uses[0], own.Shots[0].Use.Score)
		}
	}
	if all[0].Uses[0] == nil && len(all[0].Kit.Uncovered) == 0 {
		t.Error("a covered shot has no lens")
	}
}

func TestQuestionsEndWithTheContext(t *testing.T) {
	s, ds := enginetest.Load(t, replace(t, enginetest.Trial("", ""), `camera "House body A"`, `camera "House body A" or "House body B"`))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	r := enginetest.Recommend(t, s, engine.Options{})
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := answer.Around(ctx, r); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v from what stands beside an answer, want that the context has ended", err)
	}
	if _, err := engine.CandidateOn(ctx, s, s.Cameras[1], engine.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v from another camera, want that the context has ended", err)
	}
}
