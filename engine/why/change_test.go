package why

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/lang/langtest"

	"pgregory.net/rapid"
)

var scenarios = os.DirFS("../../scenarios")

func load(t testing.TB, name string) *brief.Scenario {
	t.Helper()
	return enginetest.ReadFile(t, scenarios, name)
}

// checkChanges holds each change to its word: applied it makes the difference, no smaller step or
// part of it does, and light is only raised.
func checkChanges(t rapid.TB, s *brief.Scenario, camera *catalog.Camera, shot *brief.Shot, test Test, parts int) {
	t.Helper()
	turns := map[Figure]knob{}
	for _, k := range knobs(s, camera, shot) {
		turns[k.figure] = k
	}
	for _, c := range Changes(s, camera, shot, test) {
		if !test(c.Scenario, c.Shot) {
			t.Errorf("%s from %g to %g, said as %g: applied, it makes no difference", c.Figure, c.Now, c.To, c.Said)
		}
		if c.Figure == Light && c.To < c.Now {
			t.Errorf("less light, %g for %g, is proposed: no brief takes light away, a filter does", c.To, c.Now)
		}
		k := turns[c.Figure]
		if k.clicks != nil {
			for _, smaller := range k.clicks {
				if smaller.size >= c.Size {
					break
				}
				if test(smaller.turn()) {
					t.Errorf("%s from %g to %g: %g is a smaller step and makes the difference too", c.Figure, c.Now, c.To, smaller.to)
				}
			}
			continue
		}
		if !test(k.turn(c.To)) || (c.Said-c.To)*(c.To-c.Now) < 0 {
			t.Errorf("%s from %g to %g, said as %g: it makes no difference yet, or less of it is said", c.Figure, c.Now, c.To, c.Said)
		}
		for part := 1; part < parts; part++ {
			if less := c.Now + (c.To-c.Now)*float64(part)/float64(parts); test(k.turn(less)) {
				t.Errorf("%s from %g to %g: %g makes the difference too", c.Figure, c.Now, c.To, less)
				break
			}
		}
	}
}

// A trial is a shot that is like one of the demo, and a judgement that may be turned in it.
type trial struct {
	s      *brief.Scenario
	camera *catalog.Camera
	shot   *brief.Shot
	test   Test
}

// drawTrial draws a trial, with what draws a number below another and a value between two.
func drawTrial(demo []*brief.Scenario, below func(n int) int, between func(low, high float64) float64) trial {
	s := demo[below(len(demo))]
	camera, shot := s.Cameras[below(len(s.Cameras))], *s.Shots[below(len(s.Shots))]
	stretch := between(0.4, 2.5)
	shot.Near, shot.Far = shot.Near*stretch, shot.Far*stretch
	shot.Light *= math.Exp2(between(-5, 3))
	lenses := s.Catalogue.Lenses.All()
	lens, other := lenses[below(len(lenses))], lenses[below(len(lenses))]
	on := engine.NewBench(s, camera)
	return trial{s, camera, &shot, []Test{Lifted(on, lens), Accepted(on, lens), Overtakes(on, lens, other)}[below(3)]}
}

// A change that lifts a veto, or that puts one lens before another, does so, and an eighth of
// it, or two, or seven, do not, for shots of all kinds.
func TestChangesKeepTheirWord(t *testing.T) {
	demo := []*brief.Scenario{load(t, "night-ferry.scenario"), load(t, "orchard.scenario")}
	rapid.Check(t, func(t *rapid.T) {
		d := drawTrial(demo, func(n int) int { return rapid.IntRange(0, n-1).Draw(t, "place") },
			func(low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, "value") })
		if !d.test(d.s, d.shot) {
			checkChanges(t, d.s, d.camera, d.shot, d.test, 8)
		}
	})
}

// A change is the smallest: whoever looks everywhere below it, finds none. The shots are the same
// each time, since a judgement may turn for a hair's breadth between any two places that are looked at.
func TestChangesAreTheSmallest(t *testing.T) {
	demo := []*brief.Scenario{load(t, "night-ferry.scenario"), load(t, "orchard.scenario")}
	for seed := range uint64(langtest.Cases(120)) {
		random := rand.New(rand.NewPCG(seed, 8))
		d := drawTrial(demo, random.IntN, func(low, high float64) float64 { return low + random.Float64()*(high-low) })
		if !d.test(d.s, d.shot) {
			checkChanges(t, d.s, d.camera, d.shot, d.test, 99)
		}
	}
}

// The demo has changes of every figure, so that the properties above are about something. They are
// the smallest too; among them is light at which a lens comes first in some thirds of a stop alone.
func TestEveryFigureMakesADifferenceSomewhere(t *testing.T) {
	seen := map[Figure]bool{}
	for _, name := range []string{"night-ferry.scenario", "orchard.scenario"} {
		s := load(t, name)
		r, err := engine.Recommend(context.Background(), s, engine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, shot := range r.Shots {
			for i, behind := range shot.Ranking[1:] {
				lens, _ := s.Catalogue.Lenses.Lookup(behind.Lens)
				ahead, _ := s.Catalogue.Lenses.Lookup(shot.Ranking[i].Lens)
				test := Overtakes(r.Table.Bench(), lens, ahead)
				if behind.Standing == engine.Excluded {
					test = Lifted(r.Table.Bench(), lens)
				}
				if test(s, shot.Shot) {
					continue // a tie
				}
				for _, c := range Changes(s, r.Camera, shot.Shot, test) {
					seen[c.Figure] = true
				}
				checkChanges(t, s, r.Camera, shot.Shot, test, 49)
			}
		}
	}
	for figure := range figures {
		if !seen[figure] {
			t.Errorf("no change of the %s makes a difference in the demo, want one", figure)
		}
	}
}

// What is far from lifting is not lifted by a change that nobody would make, and what no
// figure can lift has no changes.
func TestAMountIsNoFigure(t *testing.T) {
	s := load(t, "night-ferry.scenario")
	lens, ok := s.Catalogue.Lenses.Lookup("Coin 8")
	if !ok {
		t.Fatal("the demo catalogue has no \"Coin 8\"")
	}
	if got := Changes(s, s.Cameras[0], s.Shots[0], Lifted(engine.NewBench(s, s.Cameras[0]), lens)); len(got) > 0 {
		t.Errorf("got a change of the %s that lets a lens fit another mount, want none", got[0].Figure)
	}
}

func TestTheSmallestChangeComesFirst(t *testing.T) {
	s := load(t, "night-ferry.scenario")
	table := enginetest.Judge(t, s, engine.Options{})
	for i, shot := range s.Shots {
		for j, lens := range table.Lenses() {
			if table.Outcome(i, j).Standing != engine.Excluded {
				continue
			}
			last := 0.0
			for _, c := range Changes(s, s.Cameras[0], shot, Lifted(table.Bench(), lens)) {
				if c.Size < last {
					t.Errorf("shot %s, %s: a change of %g steps after one of %g", shot.ID, lens.Name.Value, c.Size, last)
				}
				last = c.Size
			}
		}
	}
}
