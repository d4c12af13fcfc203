package engine_test

import (
	"context"
	"fmt"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	howsure "glassbrief/engine/sure"
	"glassbrief/lang/langtest"

	"pgregory.net/rapid"
)

func figuresOf(t rapid.TB, r *engine.Recommendation) *howsure.Figures {
	t.Helper()
	f, err := howsure.OfFigures(context.Background(), r.Table, &r.Kit, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// A kit that is called sure is the best for whatever the assumed figures turn out to be, as
// written into the files, and stays so when one of them is found out.
func TestSureKitStays(t *testing.T) {
	draws, held := langtest.Cases(400), 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBrief(t)
		gappy := drawGaps(t, b)
		s := gappy.load(t)
		r := enginetest.Recommend(t, s, engine.Options{})
		if f := figuresOf(t, r); f == nil || !f.Sure || len(r.Kit.Lenses) == 0 {
			return
		}
		place := func(i int) float64 { return rapid.Float64Range(-1, 1).Draw(t, "place") }
		for range draws / 20 {
			values := s.Draw(place)
			other := enginetest.Recommend(t, gappy.with(s, values).load(t), engine.Options{})
			if kept := other.Table.Kit(r.Kit.Lenses); other.Kit.Left < kept.Left-1e-9 || other.Kit.Left < kept.Left+1e-9 && other.Kit.Value > kept.Value+1e-9 {
				said := ""
				for i := range s.Shots {
					for _, name := range []string{r.Kit.Lenses[0], other.Kit.Lenses[0]} {
						j := r.Table.Place(name)
						said += fmt.Sprintf("\n%s: told %.4f to %.4f, scores %.4f with %s", name, r.Table.Least(i, j), r.Table.Most(i, j), other.Table.Outcome(i, j).Score, say(s, values, name))
					}
				}
				t.Fatalf("%v is called sure, and %v is worth %.4f against %.4f:%s", r.Kit.Lenses, other.Kit.Lenses, other.Kit.Value, kept.Value, said)
			}
		}
		i := rapid.IntRange(0, len(s.Assumed)-1).Draw(t, "found out")
		known := enginetest.Recommend(t, gappy.with(s, brief.Values{i: s.Draw(place)[i]}).load(t), engine.Options{})
		if f := figuresOf(t, known); f != nil && !f.Sure {
			t.Errorf("%v is sure, and %v not any more once %s of %s is known", r.Kit.Lenses, known.Kit.Lenses, s.Assumed[i].Keyword, s.Assumed[i].Name)
		}
		held++
	})
	if held == 0 && langtest.Enough(100) {
		t.Error("no kit was called sure, so nothing was checked")
	}
}
