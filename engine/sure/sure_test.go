package sure

import (
	"context"
	"errors"
	"math"
	"os"
	"slices"
	"sync/atomic"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

var scenarios = os.DirFS("../../scenarios")

func load(t testing.TB, name string) *brief.Scenario {
	t.Helper()
	return enginetest.ReadFile(t, scenarios, name)
}

func plan(t testing.TB, s *brief.Scenario) (*engine.Table, *engine.Kit) {
	t.Helper()
	table := enginetest.Judge(t, s, engine.Options{})
	choice, err := table.Choose(s.Limits, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return table, &choice.Kit
}

func draw(t testing.TB, s *brief.Scenario, briefs, workers int) *Nearby {
	t.Helper()
	table, kit := plan(t, s)
	near, err := Draw(context.Background(), table, kit, briefs, engine.Options{Workers: workers})
	if err != nil {
		t.Fatal(err)
	}
	return near
}

func TestDrawDoesNotDependOnWorkers(t *testing.T) {
	s := load(t, "night-ferry.scenario")
	if diff := cmp.Diff(draw(t, s, 40, 1), draw(t, s, 40, 3)); diff != "" {
		t.Errorf("one worker and three differ (-one +three):\n%s", diff)
	}
}

func TestDrawCountsEveryBrief(t *testing.T) {
	s := load(t, "night-ferry.scenario")
	s.Tolerances.Distance, s.Tolerances.Light = 0.2, 1
	near := draw(t, s, 60, 0)
	total := func(outcomes []Frequency) (sum int) {
		for _, o := range outcomes {
			sum += o.Briefs
		}
		return sum
	}
	if got := total(near.Kits); got != 60 {
		t.Errorf("the kits: got %d briefs in all, want 60", got)
	}
	if near.Same == 0 || near.Same == 60 {
		t.Errorf("got %d of 60 briefs with the same kit, want some and not all for this brief", near.Same)
	}
	for _, shot := range near.Shots {
		if got := total(shot.Outcomes); got != 60 {
			t.Errorf("shot %s: got %d briefs in all, want 60", shot.ID, got)
		}
	}
}

func TestWithoutToleranceNothingChanges(t *testing.T) {
	s := load(t, "night-ferry.scenario")
	s.Tolerances = brief.Tolerances{}
	near := draw(t, s, 20, 0)
	if near.Same != 20 {
		t.Errorf("got %d of 20 briefs with the same kit, want all", near.Same)
	}
	table, kit := plan(t, s)
	flip, err := First(context.Background(), table, kit, engine.Options{})
	if err != nil || flip != nil {
		t.Errorf("got flip %v and error %v, want neither", flip, err)
	}
}

func TestBriefsStayWithinTolerancesAndRanges(t *testing.T) {
	s := load(t, "night-ferry.scenario")
	s.Tolerances = brief.Tolerances{Distance: 0.2, Light: 2, Subject: 0.1, Weight: 0.5}
	table, _ := plan(t, s)
	causes := causesOf(table)
	drawn := newDraws(200, len(causes), seed)
	within := func(name string, got, of, tolerance float64) {
		if off := math.Abs(got/of - 1); off > tolerance+1e-12 {
			t.Errorf("%s: off by %.3f, want at most %.3f", name, off, tolerance)
		}
	}
	crossed, together, moved := 0, 0, map[string]bool{}
	for k := range 200 {
		place := func(cause int) float64 { return drawn.at(k, cause) }
		other := near(table, causes, place).Scenario
		for i, shot := range other.Shots {
			was := s.Shots[i]
			within("near", shot.Near, was.Near, 0.2)
			within("far", shot.Far, was.Far, 0.2)
			within("subject", shot.Subject.Height.Value, was.Subject.Height.Value, 0.1)
			within("weight", shot.Weight, was.Weight, 0.5)
			if stops := math.Abs(math.Log2(shot.Light / was.Light)); stops > 2+1e-12 {
				t.Errorf("light: off by %.3f stops, want at most 2", stops)
			}
			if shot.Near > shot.Far || was.Near == was.Far && shot.Near != shot.Far {
				t.Errorf("shot %s: got %g to %g for %g to %g", shot.ID, shot.Near, shot.Far, was.Near, was.Far)
			}
			if math.Abs(shot.Near/was.Near-shot.Far/was.Far) < 1e-3 && was.Near < was.Far {
				together++
			}
		}
		for cause, c := range causes {
			switch c.Input {
			case Nearest:
				if far := slices.IndexFunc(causes, func(o Cause) bool { return o.Shot == c.Shot && o.Input == Farthest }); s.Shots[c.place].Near*(1+0.2*place(cause)) > s.Shots[c.place].Far*(1+0.2*place(far)) {
					crossed++
				}
			}
			if f := c.Figure; f != nil {
				item, _ := other.Catalogue.Lenses.Lookup(f.Name)
				if was, _ := s.Catalogue.Lenses.Lookup(f.Name); item != was {
					moved[f.Name+" "+f.Keyword] = true
				}
			}
		}
	}
	if crossed == 0 {
		t.Error("no ends of distances would have crossed")
	}
	if together > 200*len(s.Shots)/20 {
		t.Errorf("%d times both ends of a distance moved alike, want seldom", together)
	}
	if len(moved) != len(table.Assumed()) {
		t.Errorf("figures of %v moved, want %d", moved, len(table.Assumed()))
	}
}

// An unmetered shot has a range of light, and no tolerance beside it.
func TestLightThatIsAssumedVariesOnce(t *testing.T) {
	s := enginetest.Read(t, enginetest.Trial("", ""), brief.Files{})
	table, _ := plan(t, s)
	lights := 0
	for _, c := range causesOf(table) {
		if c.Input == Light && c.Figure == nil {
			t.Errorf("got a tolerance of light for shot %s, which has a range", c.Shot)
		}
		if c.Figure != nil && c.Figure.Keyword == "light" {
			lights++
			for _, place := range []float64{-1, 0.3, 1} {
				if got, want := c.alone(table, place).Scenario.Shots[0].Light, c.Figure.At(place); got != want {
					t.Errorf("at %g: got %g lx, want %g", place, got, want)
				}
			}
		}
	}
	if lights != 1 {
		t.Errorf("got %d ranges of light, want that of the shot", lights)
	}
}

// The draws of every dimension lie evenly: the greatest gap between what a part of the
// line holds and what it should stays below 0.04 in all of 400 dimensions, which 500 random
// points pass in every second one (Kolmogorov's distribution).
func TestDrawsAreEven(t *testing.T) {
	const points = 500
	drawn := newDraws(points, 400, seed)
	for dimension := range drawn.steps {
		values := make([]float64, points)
		for i := range values {
			values[i] = (drawn.at(i, dimension) + 1) / 2
		}
		slices.Sort(values)
		worst := 0.0
		for i, v := range values {
			worst = max(worst, math.Abs(v-(float64(i)+0.5)/points))
		}
		if worst > 0.04 {
			t.Errorf("dimension %d: got a discrepancy of %.3f, want at most 0.04", dimension, worst)
		}
	}
}

// The error that is told holds what is known in 95 of 100 seeds, whatever is estimated: a share that one
// dimension decides, one that four decide together, one of a sum of 40, a mean, and quantiles of sums.
// 400 seeds may be off by three times their own error.
func TestErrorsAreThoseOfSampling(t *testing.T) {
	const seeds, dimensions = 400, 40
	sum := func(d *draws, draw, n int) (sum float64) {
		for dimension := range n {
			sum += d.at(draw, dimension)
		}
		return sum
	}
	values := func(d *draws, n int) []float64 {
		all := make([]float64, d.number)
		for draw := range all {
			all[draw] = sum(d, draw, n)
		}
		return all
	}
	for _, c := range []struct {
		name string
		want float64
		of   func(d *draws) Estimate
	}{
		{"share of one", 0.3, func(d *draws) Estimate { return d.share(func(k int) bool { return d.at(k, 7) > 0.4 }) }},
		{"share of four", 0.0625, func(d *draws) Estimate {
			return d.share(func(k int) bool { return d.at(k, 3) > 0 && d.at(k, 17) > 0 && d.at(k, 30) < 0 && d.at(k, 31) < 0 })
		}},
		{"share of a sum", 0.5, func(d *draws) Estimate { return d.share(func(k int) bool { return sum(d, k, dimensions) > 0 }) }},
		{"share of a product", 0.5, func(d *draws) Estimate {
			return d.share(func(k int) bool { return d.at(k, 1)*d.at(k, 2)*d.at(k, 3) > 0 })
		}},
		{"mean of a square", 1.0 / 3, func(d *draws) Estimate {
			squares := values(d, 1)
			for k, v := range squares {
				squares[k] = v * v
			}
			return d.estimate(squares, mean)
		}},
		{"median of a sum", 0, func(d *draws) Estimate { return d.quantile(values(d, 3), 0.5) }},
		{"19 of 20 of a sum of two", 2 - 2*math.Sqrt(0.1), func(d *draws) Estimate { return d.quantile(values(d, 2), 0.95) }},
	} {
		held := 0
		for seed := range uint64(seeds) {
			if e := c.of(newDraws(500, dimensions, seed)); math.Abs(e.Value-c.want) <= e.Error {
				held++
			}
		}
		if share := float64(held) / seeds; math.Abs(share-0.95) > 3*math.Sqrt(0.95*0.05/seeds) {
			t.Errorf("%s: the error holds in %.1f%% of the seeds, want 95%%", c.name, 100*share)
		}
	}
}

// What First names changes the kit, and half of it does not.
func TestFirstNamesTheLeast(t *testing.T) {
	for _, name := range []string{"night-ferry.scenario", "orchard.scenario"} {
		t.Run(name, func(t *testing.T) {
			table, kit := plan(t, load(t, name))
			flip, err := First(context.Background(), table, kit, engine.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if flip == nil {
				t.Fatal("got no flip, want one for this brief")
			}
			shot := slices.IndexFunc(table.Scenario.Shots, func(s *brief.Shot) bool { return s.ID == flip.Shot })
			s := &search{table: table, kit: keyOf(kit.Lenses)}
			if got, changes := s.changes(&way{shot, flip.Input, flip.By}, 1); !changes || keyOf(got) != keyOf(flip.Kit) {
				t.Errorf("%s of shot %s by %.3f: got the kit %q, want %q", flip.Input, flip.Shot, flip.By, got, flip.Kit)
			}
			if got, changes := s.changes(&way{shot, flip.Input, flip.By}, 0.5); changes {
				t.Errorf("%s of shot %s by half of %.3f: got the kit %q, want no change", flip.Input, flip.Shot, flip.By, got)
			}
		})
	}
}

func TestDrawEndsWithItsContext(t *testing.T) {
	table, kit := plan(t, load(t, "night-ferry.scenario"))
	ctx, cancel := context.WithCancel(context.Background())
	var seen atomic.Int64
	_, err := Draw(ctx, table, kit, 10_000, engine.Options{Progress: func(done, total int) {
		if seen.Add(1); done >= 3 { // whoever comes first: the one that did the third may be held up
			cancel()
		}
		if total != 10_000 {
			t.Errorf("got %d briefs in all, want 10000", total)
		}
	}})
	if !errors.Is(err, context.Canceled) || seen.Load() > 100 {
		t.Errorf("got %v after %d briefs, want the end of the context soon after three", err, seen.Load())
	}
	if _, err := First(ctx, table, kit, engine.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want the end of the context", err)
	}
}

// BenchmarkNearby compares 500 nearby briefs of the demo with one run of the engine, which
// loads, judges, chooses and explains what is shown. So many runs are timed together as take
// about as long.
func BenchmarkNearby(b *testing.B) {
	const runs = 40
	table, kit := plan(b, load(b, "night-ferry.scenario"))
	r := langtest.NewRace(langtest.Processor,
		langtest.Way{Name: "run", Units: runs, Do: func() {
			for range runs {
				if _, err := engine.Recommend(b.Context(), load(b, "night-ferry.scenario"), engine.Options{Runners: 2, Hold: 3}); err != nil {
					b.Fatal(err)
				}
			}
		}},
		langtest.Way{Name: "nearby", Do: func() {
			if _, err := Draw(b.Context(), table, kit, 500, engine.Options{}); err != nil {
				b.Fatal(err)
			}
			if _, err := First(b.Context(), table, kit, engine.Options{}); err != nil {
				b.Fatal(err)
			}
			if _, err := Hurts(b.Context(), table, kit, engine.Options{}); err != nil {
				b.Fatal(err)
			}
		}},
	)
	langtest.Hold(b, r.Round, r.AtMost("nearby", "run", 100))
}
