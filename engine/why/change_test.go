package why

import (
	"context"
	"math"
	"os"
	"testing"

	"pgregory.net/rapid"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
)

var scenarios = os.DirFS("../../scenarios")

func load(t testing.TB, name string) *brief.Scenario {
	t.Helper()
	return enginetest.ReadFile(t, scenarios, name)
}

// checkChanges holds each change to its word: applied it makes the difference, and half
// of it does not.
func checkChanges(t rapid.TB, s *brief.Scenario, camera *catalog.Camera, shot *brief.Shot, tooBright bool, test Test) {
	t.Helper()
	turns := map[Figure]knob{}
	for _, k := range knobs(s, camera, shot) {
		turns[k.figure] = k
	}
	for _, c := range Changes(s, camera, shot, tooBright, test) {
		if !test(c.Scenario, c.Shot) {
			t.Errorf("%s from %g to %g: applied, it makes no difference", c.Figure, c.Now, c.To)
		}
		if c.Figure == Light && c.To < c.Now && !tooBright {
			t.Errorf("less light, %g for %g, is proposed where too much is no fault", c.To, c.Now)
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
		if half := k.at(c.To, 0.5); test(k.turn(half)) {
			t.Errorf("%s from %g to %g: half of it, %g, makes the difference too", c.Figure, c.Now, c.To, half)
		}
	}
}

// A change that lifts a veto, or that puts one lens before another, does so, and half of
// it does not, for shots of all kinds.
func TestChangesKeepTheirWord(t *testing.T) {
	demo := []*brief.Scenario{load(t, "night-ferry.scenario"), load(t, "orchard.scenario")}
	rapid.Check(t, func(t *rapid.T) {
		s := demo[rapid.IntRange(0, len(demo)-1).Draw(t, "scenario")]
		camera := s.Cameras[rapid.IntRange(0, len(s.Cameras)-1).Draw(t, "camera")]
		shot := *s.Shots[rapid.IntRange(0, len(s.Shots)-1).Draw(t, "shot")]
		stretch := rapid.Float64Range(0.4, 2.5).Draw(t, "distance")
		shot.Near, shot.Far = shot.Near*stretch, shot.Far*stretch
		shot.Light *= math.Exp2(rapid.Float64Range(-5, 3).Draw(t, "light"))
		lenses := s.Catalogue.Lenses.All()
		lens := lenses[rapid.IntRange(0, len(lenses)-1).Draw(t, "lens")]
		other := lenses[rapid.IntRange(0, len(lenses)-1).Draw(t, "other")]
		on := engine.NewBench(s, camera)
		tests := []Test{Lifted(on, lens), Accepted(on, lens), Overtakes(on, lens, other)}
		if test := tests[rapid.IntRange(0, len(tests)-1).Draw(t, "test")]; !test(s, &shot) {
			tooBright := on.Stage(&shot).Explain(lens)
			checkChanges(t, s, camera, &shot, tooBright.TooBright(), test)
		}
	})
}

// The demo has changes of every figure, so that the property above is about something.
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
				for _, c := range Changes(s, r.Camera, shot.Shot, behind.TooBright(), test) {
					seen[c.Figure] = true
				}
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
	if got := Changes(s, s.Cameras[0], s.Shots[0], false, Lifted(engine.NewBench(s, s.Cameras[0]), lens)); len(got) > 0 {
		t.Errorf("got a change of the %s that lets a lens fit another mount, want none", got[0].Figure)
	}
}

func TestTheSmallestChangeComesFirst(t *testing.T) {
	s := load(t, "night-ferry.scenario")
	table, err := engine.Judge(context.Background(), s, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, shot := range s.Shots {
		for j, lens := range table.Lenses() {
			if table.Outcome(i, j).Standing != engine.Excluded {
				continue
			}
			last := 0.0
			for _, c := range Changes(s, s.Cameras[0], shot, true, Lifted(table.Bench(), lens)) {
				if c.Size < last {
					t.Errorf("shot %s, %s: a change of %g steps after one of %g", shot.ID, lens.Name.Value, c.Size, last)
				}
				last = c.Size
			}
		}
	}
}
