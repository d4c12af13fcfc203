package floor

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
	"glassbrief/engine/rig"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// rigged puts a lens of the demo on the rig of a trial, trimmed.
func rigged(t testing.TB, scenario, lens string) *Rigging {
	t.Helper()
	r := recommend(t, fmt.Sprintf(briefText, scenario, usualShot))
	g := anySetup(r, lens).rigging
	trimmed(r, g)
	return g
}

// trimmed trims some set-ups together.
func trimmed(r *engine.Recommendation, all ...*Rigging) rig.Trim {
	var setups []*rig.Setup
	for _, g := range all {
		setups = append(setups, g.Setup)
	}
	trim := rig.Together(r.Scenario.Rig, setups)
	for _, g := range all {
		g.trim(&trim)
	}
	return trim
}

// The trim of a card hangs, and its payload's moments about the post are nothing.
func TestTrimBalances(t *testing.T) {
	for _, c := range Cards(demo(t)) {
		if c.Use == nil {
			continue
		}
		r := c.Rig
		ahead := r.Payload.Forward + r.Bolt + r.Shift
		if math.Abs(ahead) > 1e-12 || r.Tilt != 0 {
			t.Errorf("%s: the payload hangs %g mm ahead of the post, tilted by %g", c.Shot.ID, ahead*1e3, r.Tilt)
		}
		if !(r.Quickest < r.Trim.Drop && r.Trim.Drop < r.Slowest) {
			t.Errorf("%s: got a drop of %g s between %g s and %g s", c.Shot.ID, r.Trim.Drop, r.Quickest, r.Slowest)
		}
		again := r.Sled.At(r.OnStage(), r.Trim.Plates, r.Trim.Post)
		if again != r.Trim {
			t.Errorf("%s: got the trim %+v, want %+v", c.Shot.ID, again, r.Trim)
		}
	}
}

func TestWindowOfTheScenario(t *testing.T) {
	g := rigged(t, shortSled+"\ndrop 2.4s..2.6s", "Wide 18")
	if drop := g.Trim.Drop; !g.Trimmed || math.Abs(drop-2.5) > 1e-9 {
		t.Errorf("got a drop of %g s (%t), want 2.5", drop, g.Trimmed)
	}
}

func TestOutOfReach(t *testing.T) {
	for _, c := range []struct {
		name, scenario, lens string
		is                   func(n Untrimmed) bool
	}{
		{"too quick", "camera \"House body A\"\nrig \"Long sled\"", "Normal 35", func(n Untrimmed) bool { return n.Longest < n.Window.Low && n.Ballast > 0 }},
		{"too slow", shortSled + "\ndrop 0.3s..0.4s", "Wide 18", func(n Untrimmed) bool { return n.Shortest > n.Window.High && n.Ballast == 0 }},
		{"top-heavy", shortSled + "\naccessories 2kg 0mm x 500mm", "Wide 18", func(n Untrimmed) bool { return math.IsNaN(n.Shortest) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := rigged(t, c.scenario, c.lens)
			if n, ok := noted[Untrimmed](g.Problems); g.Trimmed || !ok || !c.is(n) {
				t.Errorf("got %+v trimmed %t", g.Problems, g.Trimmed)
			}
		})
	}
}

// The ballast that is proposed does what it is said to do, and a step less does not.
func TestBallastIsEnough(t *testing.T) {
	g := rigged(t, "camera \"House body A\"\nrig \"Long sled\"", "Normal 35")
	more := g.ballast(brief.UsualDrop)
	if more == 0 {
		t.Fatal("no ballast does")
	}
	for _, c := range []struct {
		mass float64
		want bool
	}{{more, true}, {more - 0.010, false}} {
		load := g.OnStage()
		load.Mass += c.mass
		if _, ok := g.Sled.Fewest(load, 1.5, 2); ok != c.want {
			t.Errorf("with %g g more: got trimmed %t, want %t", c.mass*1e3, ok, c.want)
		}
	}
}

func TestStageThatEndsTooEarly(t *testing.T) {
	r := recommend(t, fmt.Sprintf(briefText, shortSled, usualShot))
	bare, long := anySetup(r, "Normal 50"), anySetup(r, "Cine zoom 20-55")
	trimmed(r, bare.rigging, long.rigging)
	for _, s := range []*setup{bare, long} {
		if math.Abs(math.Abs(s.rigging.Shift)-0.030) > 1e-9 {
			t.Errorf("%s: got a shift of %g mm, want the whole travel of 30", s.use.Lens, s.rigging.Shift*1e3)
		}
		if n, ok := noted[StageTooShort](s.rigging.Problems); !ok || !(math.Abs(n.Wanted) > n.Travel) || (n.Wanted < 0) != (s.rigging.Shift < 0) {
			t.Errorf("%s: got %+v, want how far the stage would have to go", s.use.Lens, s.rigging.Problems)
		}
	}
	if !(bare.rigging.Tilt < 0) {
		t.Errorf("got a tilt of %g, want the short lens nose up", bare.rigging.Tilt)
	}
}

// What the catalogue does not say is asked for, with the way to find it out.
func TestLacks(t *testing.T) {
	g := rigged(t, shortSled, "Old 28")
	if g.Trimmed || !math.IsNaN(g.Shortest) || !math.IsNaN(g.Shift) || !math.IsNaN(g.post()) {
		t.Errorf("a lens of unknown balance was trimmed: %+v", g.Trim)
	}
	for _, want := range []rig.Lack{{Unknown: rig.ItemBalance, Of: "Old 28"}} { // its mass is assumed
		if !slices.Contains(g.Lacks, want) {
			t.Errorf("got %v, want %v", g.Lacks, want)
		}
	}
}

func TestUnknownRigAsksForTwoDrops(t *testing.T) {
	catalogue, _ := lang.NewSource("barn.catalog", []byte("rig \"Barn sled\" {\npayload 1kg..4kg\n}\n"))
	text := fmt.Sprintf(briefText, "camera \"House body A\"\nrig \"Barn sled\"", usualShot)
	s := enginetest.Read(t, text, brief.Files{Catalogues: []*lang.Source{catalogue}})
	u := rig.New(s, s.Cameras[0], s.Shots[0], s.Catalogue.Lenses.All()[0], catalog.Fitting{}, nil)
	lacks := slices.DeleteFunc(u.Lacks, func(l rig.Lack) bool { return l.Of != "Barn sled" })
	if !math.IsNaN(u.Sled.Inertia) || len(lacks) != 9 {
		t.Errorf("got %d lacks, want all nine figures of the rig asked for", len(lacks))
	}
	if !slices.Contains(lacks, rig.Lack{Unknown: rig.SledMechanics, Of: "Barn sled"}) {
		t.Errorf("got %v, want the two drops", lacks)
	}
}

// A swap there is the opposite of the swap back, and the tilt that the old trim leaves is
// the moment of the new lens about the post.
func TestSwapThereAndBack(t *testing.T) {
	r := recommend(t, fmt.Sprintf(briefText, shortSled, usualShot))
	lenses := []string{"Wide 14", "Wide 18", "Wide 24", "Normal 35", "Normal 50", "Portrait 85", "Zoom 16-35", "Old 50"}
	rapid.Check(t, func(rt *rapid.T) {
		from := anySetup(r, rapid.SampledFrom(lenses).Draw(rt, "from"))
		to := anySetup(r, rapid.SampledFrom(lenses).Draw(rt, "to"))
		trim := trimmed(r, from.rigging, to.rigging)
		there, back := swapOf(&trim, from, to), swapOf(&trim, to, from)
		if !there.Known || there.Plates != -back.Plates || there.Post != -back.Post || there.Shift != -back.Shift || there.Minutes != back.Minutes {
			rt.Errorf("got %+v and back %+v, want the opposite in the same time", there, back)
		}
		if from.use.Lens == to.use.Lens && there.Minutes != 0 {
			rt.Errorf("from a lens to itself: got %g minutes", there.Minutes.Value())
		}
		if math.IsNaN(there.Tilt) {
			return
		}
		left := to.rigging.Sled.At(to.rigging.OnStage(), from.rigging.Trim.Plates, from.rigging.Trim.Post)
		ahead := to.rigging.Payload.Forward - from.rigging.Payload.Forward
		moment := to.rigging.Payload.Mass*ahead*math.Cos(there.Tilt) - left.Mass*left.Offset*math.Sin(there.Tilt)
		if math.Abs(moment) > 1e-9 {
			rt.Errorf("tilted by %g: got a moment of %g kg m, want none", there.Tilt, moment)
		}
	})
}

func TestSheetHoldsEveryPairOnce(t *testing.T) {
	r := recommend(t, fmt.Sprintf(briefText, shortSled+"\ncarry 3 lenses\nbring \"Wide 18\" \"Normal 35\" \"Portrait 85\"", usualShot))
	swaps := sheet(r)
	if len(swaps) != 3 {
		t.Fatalf("got %d swaps between three lenses, want 3", len(swaps))
	}
	for _, s := range swaps {
		if !s.Known || s.From == s.To || s.Minutes < rig.ForLens+rig.ForDrop {
			t.Errorf("got %+v, want a swap of two lenses with its time", s)
		}
	}
}

// In low mode the camera must be the heavier end.
func TestLowModeHangsByTheCamera(t *testing.T) {
	_, card := trial(t, shortSled, strings.Replace(usualShot, "follow 1.2m/s", "follow 1.2m/s low mode", 1))
	r := card.Rig
	if !r.Trimmed || !r.Inverted {
		t.Fatalf("got %+v, want a trim in low mode", r.Trim)
	}
	payload, sled := r.OnStage(), r.Sled
	up := payload.Mass * payload.Height
	down := sled.Mass*sled.Offset + sled.Base*(r.Trim.Post-sled.PostIn) + float64(r.Trim.Plates)*sled.Plate*r.Trim.Post
	if !(up > down) {
		t.Errorf("got %g kg m on the camera's side and %g on the base's, want the camera's more", up, down)
	}
	want := balance.DropTime(r.Trim.Inertia, r.Trim.Mass, (up-down)/r.Trim.Mass)
	if math.Abs(want/r.Trim.Drop-1) > 1e-9 {
		t.Errorf("got a drop of %g s, want %g", r.Trim.Drop, want)
	}
}

func TestMomentsAgreeWithTheFacts(t *testing.T) {
	for _, move := range []string{"orbit 0.8m/s", "side 1.2m/s", "boom 0.4m/s", "hold 4deg/s"} {
		_, card := trial(t, shortSled, "subject object 0.6m x 1m\nframe full..wide\ndistance 2m\nlight 800lx\nmove "+move+"\n")
		if card.Use == nil {
			t.Errorf("%s: no lens does it", move)
			continue
		}
		worst := 0.0
		for _, m := range card.Moments {
			worst = max(worst, m.Background)
		}
		if got, want := 1/worst, card.Use.Fact(facts.CrossingTime); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s: the background crosses in %g s, want %g", move, got, want)
		}
	}
	_, card := trial(t, shortSled, "subject person 1.7m\nframe medium..full\ndistance 1.5m..3m\nlight 800lx\nmove push-in 0.5m/s\n")
	first, last := card.Moments[0], card.Moments[moments-1]
	if first.Distance != 3 || math.Abs(last.Distance-1.5) > 1e-9 || math.Abs(last.Time-3) > 1e-9 {
		t.Errorf("a push in: got %+v to %+v, want 3 m to 1.5 m in 3 s", first, last)
	}
	if !(last.Subject > first.Subject && last.Fill > first.Fill) {
		t.Errorf("a push in: got %+v to %+v, want the subject to grow, and faster", first, last)
	}
	if math.Abs(card.Use.Fact(facts.FillNear)-last.Fill) > 1e-9 {
		t.Errorf("a push in fills %g at its end, and the facts have %g", last.Fill, card.Use.Fact(facts.FillNear))
	}
}

// On legs nothing is trimmed, held or overloaded, and the camera goes there and back in the
// time that it takes.
func TestLegsWantNoTrim(t *testing.T) {
	held := strings.Replace(usualShot, "move follow 1.2m/s", "move hold", 1)
	if held == usualShot {
		t.Fatal("the usual shot does not follow")
	}
	day := fmt.Sprintf(briefText, shortSled+"\naccessories 1.6kg 0mm x 500mm\ncarry 1 lens", held)
	for _, support := range []string{"legs", "docked"} {
		day += fmt.Sprintf("shot %q {\n%s\nsupport %s\n}\n", support, held, support)
	}
	cards := Cards(recommend(t, day))
	onSled, onLegs, docked := &cards[0], &cards[1], &cards[2]
	if _, found := noted[Untrimmed](onSled.Notes()); !found {
		t.Fatalf("got %v, want a sled that cannot be trimmed", onSled.Notes())
	}
	if onLegs.Use == nil || onLegs.Rig.Trimmed || len(onLegs.Rig.Problems) > 0 || len(onLegs.Rig.Lacks) > 0 || !math.IsNaN(onLegs.Plan.RigRoom) {
		t.Errorf("on legs: got %+v", onLegs.Rig)
	}
	if s := onLegs.Swap; s == nil || s.Onto != rig.OntoLegs || s.Minutes != rig.ForLegs {
		t.Errorf("onto legs: got %+v", s)
	}
	if s := docked.Swap; s == nil || s.Onto != rig.OntoSled || s.Minutes < rig.ForLegs+rig.ForDrop {
		t.Errorf("back onto the sled: got %+v", s)
	}
	for _, c := range cards {
		if held := slices.ContainsFunc(c.Cautions, func(c Caution) bool { return c.Hazard == brief.HeldOut }); held != (c.Shot.Support == facts.Sled) {
			t.Errorf("%s: it is held out: %v", c.Shot.ID, held)
		}
	}
}
