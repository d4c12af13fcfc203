package floor

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/optics"

	"pgregory.net/rapid"
)

// A look judges a distance by the optics alone, along other ways than the walk is solved.
type look struct {
	shot *brief.Shot
	j    *engine.Judgement
}

func (l look) holds(a Aspect, distance float64) bool {
	focal := l.j.Fact(facts.FocalLength)
	s := optics.FromSensor(focal, distance)
	switch a {
	case Focus:
		if l.j.Fact(facts.Following) == 1 {
			return distance >= l.j.Fact(facts.CloseFocus)
		}
		near, far := optics.Limits(focal, l.j.Fact(facts.Stop), l.j.Fact(facts.Confusion), optics.FromSensor(focal, l.j.Fact(facts.FocusMark)))
		return near <= s && s <= far
	case Framing:
		m := optics.Magnification(focal, s)
		if pupil, breathing := l.j.Fact(facts.Pupil), l.j.Fact(facts.Breathing); !math.IsNaN(pupil) {
			from, closest := distance-pupil, l.j.Fact(facts.CloseFocus)-pupil
			m = focal / (from * (1 + breathing*min(1, closest/from))) // by the angle at which the frame is seen from there
		}
		fill := max(l.j.Fact(facts.SubjectHeight)*m/l.j.Fact(facts.FrameHeight), l.j.Fact(facts.SubjectWidth)*m/l.j.Fact(facts.FrameWidth))
		return l.shot.Frame.Far.Low <= fill && fill <= l.shot.Frame.Near.High
	}
	return distance > l.j.Fact(facts.LensLength)
}

// Each stretch holds up to its ends and not a step beyond. The limits of the walk are ends of
// stretches, lose what they say, and forbid neither the end of the move nor the mark.
func TestWalkEndsWhereSomethingBreaks(t *testing.T) {
	// A step is what a tape shows; within is what its marks are good to.
	const step, within = 1e-3, 1e-7
	known := 0
	rapid.Check(t, func(rt *rapid.T) {
		near := math.Round(rapid.Float64Range(0.5, 6).Draw(rt, "near")*100) / 100
		far := near + math.Round(rapid.Float64Range(0, 4).Draw(rt, "depth")*100)/100
		framing := rapid.SampledFrom([]string{"medium", "full", "medium-full", "wide", "close..full", "full..wide", "30%..60%"}).Draw(rt, "framing")
		focus := rapid.SampledFrom([]string{"fixed", "pulled", "auto"}).Draw(rt, "focus")
		move := rapid.SampledFrom([]string{"follow", "push-in", "pull-out"}).Draw(rt, "move")
		r := recommend(t, fmt.Sprintf(briefText, shortSled, fmt.Sprintf(
			"subject person 1.7m\nframe %s\ndistance %.2fm..%.2fm\nmove %s\nfocus %s\nlight 800lx\n", framing, near, far, move, focus)))
		answer := &r.Shots[0]
		j := &answer.Ranking[rapid.IntRange(0, len(answer.Ranking)-1).Draw(rt, "place in the ranking")]
		if j.Fact(facts.IsFisheye) == 1 || math.IsNaN(j.Fact(facts.Stop)) || math.IsNaN(j.Fact(facts.LensLength)) ||
			optics.TooNear(j.Fact(facts.FocalLength), min(near, j.Fact(facts.CloseFocus), j.Fact(facts.FocusMark))) {
			rt.Skip("another projection, no thin lens, or nothing to set")
		}
		path := pathOf(answer.Shot, j)
		w := walkOf(answer.Shot, j, path)
		l := look{answer.Shot, j}
		for _, s := range w.Stretches {
			for _, at := range []struct {
				distance float64
				want     bool
			}{{s.Near * (1 + within), true}, {s.Far * (1 - within), true}, {s.Near - step, false}, {s.Far + step, false}} {
				if math.IsInf(at.distance, 1) || s.Near > s.Far || at.distance < 4*j.Fact(facts.FocalLength) {
					continue // the stretch is empty or ends nowhere, or no thin lens focuses there
				}
				if l.holds(s.Holds, at.distance) != at.want {
					rt.Errorf("%s: %s is said to hold from %g to %g, and at %g m it does not so", j.Lens, s.Holds, s.Near, s.Far, at.distance)
				}
			}
		}
		holdsAll := func(distance float64) bool {
			return !slices.ContainsFunc(w.Stretches, func(s Stretch) bool { return !s.has(distance) })
		}
		if w.Covers != (holdsAll(near) && holdsAll(far)) {
			rt.Errorf("covers is %t of %g to %g in %+v", w.Covers, near, far, w)
		}
		if !w.Known() {
			return
		}
		known++
		must := []float64{}
		if move != "follow" {
			must = append(must, map[string]float64{"push-in": near, "pull-out": far}[move])
		}
		if mark := j.Fact(facts.FocusMark); mark >= near && mark <= far {
			must = append(must, mark)
		}
		for _, distance := range must {
			if distance < w.Near*(1-within) || distance > w.Far*(1+within) {
				rt.Errorf("%s: the walk of %g to %g forbids %g, an end of the move or the mark", j.Lens, w.Near, w.Far, distance)
			}
		}
		if len(w.NearLoses) == 0 || len(w.FarLoses) == 0 && !math.IsInf(w.Far, 1) {
			rt.Errorf("%s a step beyond %g to %g loses nothing", j.Lens, w.Near, w.Far)
		}
		for _, a := range w.NearLoses {
			if at := w.Near - step; at > 4*j.Fact(facts.FocalLength) && l.holds(a, at) {
				rt.Errorf("%s keeps %s at %g m, nearer than %g", j.Lens, a, at, w.Near)
			}
		}
		for _, a := range w.FarLoses {
			if l.holds(a, w.Far+step) {
				rt.Errorf("%s keeps %s a step beyond %g", j.Lens, a, w.Far)
			}
		}
	})
	if known == 0 {
		t.Error("no walk was known")
	}
}

// What holds the whole move by its facts is walked wholly, and what does not is said to fall
// short by as much.
func TestWalkAgreesWithTheFacts(t *testing.T) {
	r := demo(t)
	for i := range r.Shots {
		shot := r.Shots[i].Shot
		for k := range r.Shots[i].Ranking {
			j := &r.Shots[i].Ranking[k]
			path := pathOf(shot, j)
			w := walkOf(shot, j, path)
			if w.Covers && j.Fact(facts.FramingError) > 1e-9 && shot.Frame.Near == shot.Frame.Far {
				t.Errorf("%s with %s: the framing is off by %g and the walk covers the move", shot.ID, j.Lens, j.Fact(facts.FramingError))
			}
			lost, way := 0.0, WayOf(j)
			for _, p := range way.Lanes[FramingLane] {
				if p.Hold == Fails {
					lost += math.Abs(p.From - p.To)
				}
			}
			if j.Fact(facts.FramingError) <= engine.FramingSlack && way.Fails(FramingLane) {
				t.Errorf("%s with %s: a framing that is off by %g is said to be lost", shot.ID, j.Lens, j.Fact(facts.FramingError))
			}
			// What nobody sees is no loss, and reaches so far beyond each end of the band.
			held, off := j.Fact(facts.FramingHeld), 2*engine.FramingSlack*path.Far/(path.Far-path.Near)
			if shot.Frame.Near == shot.Frame.Far && path.Near < path.Far && (1-held < lost/way.Length()-1e-9 || 1-held > lost/way.Length()+off) {
				t.Errorf("%s with %s: the framing holds %g of the move and loses %g m of %g", shot.ID, j.Lens, held, lost, way.Length())
			}
		}
	}
}

// A framing that changes may be anything between its two ends, and an end that is not
// reached is said.
func TestChangingFraming(t *testing.T) {
	_, card := trial(t, shortSled, "subject person 1.7m\nframe close..full\ndistance 0.7m..2.8m\nmove push-in 0.5m/s\nlight 400lx\nfocus pulled\n")
	if card.Use == nil || !card.Walk.Known() || card.Walk.Near > 0.7 {
		t.Fatalf("got the walk %+v, want one that lets the push end at 0.7 m", card.Walk)
	}
	if _, lost := noted[Lost](card.Notes()); lost {
		t.Errorf("got %+v, want no loss between the two ends", card.Notes())
	}
	for i := range card.Of.Shots[0].Ranking {
		j := &card.Of.Shots[0].Ranking[i]
		near, far := card.Shot.Frame.Near, card.Shot.Frame.Far
		way := WayOf(j)
		missed := slices.DeleteFunc(slices.Clone(way.Lanes[FramingLane]), func(p Piece) bool { return p.From != p.To })
		if want := j.Fact(facts.FillNear) < near.Low/(1.01+engine.FramingSlack) || j.Fact(facts.FillFar) > far.High*(1.01+engine.FramingSlack); want && len(missed) == 0 {
			t.Errorf("%s fills %g and %g, and no end is said to be missed", j.Lens, j.Fact(facts.FillNear), j.Fact(facts.FillFar))
		}
		if want := j.Fact(facts.FillNear) < near.Low || j.Fact(facts.FillFar) > far.High; !want && len(missed) > 0 {
			t.Errorf("%s: got %+v, and both ends are reached", j.Lens, missed)
		}
	}
}

// A walk that falls short of the move says so.
func TestWalkShortOfTheMove(t *testing.T) {
	_, card := trial(t, shortSled, "subject person 1.78m\nframe medium-full\ndistance 1.6m..2.8m\nmove lead 1.2m/s\nlight 320lx\n")
	if card.Use == nil {
		t.Fatal("no lens is acceptable")
	}
	if card.Walk.Covers {
		t.Fatalf("got %+v, want a walk that does not cover the move", card.Walk)
	}
	if _, lost := noted[Lost](card.Notes()); !lost {
		t.Errorf("got the notes %+v, want the loss said", card.Notes())
	}
}

// A framing that is off by a hair alarms nobody: nothing is said to be lost, and the walk reaches as
// far as the move.
func TestFramingOffByAHair(t *testing.T) {
	walk := func(distance string) (Card, Walk) {
		_, card := trial(t, shortSled+"\nbring \"Wide 18\"\ncarry 1 lens", "subject person 1.75m\nframe full\ndistance "+distance+"\nmove follow 1m/s\nlight 640lx\n")
		if card.Use == nil {
			t.Fatal("no lens is acceptable")
		}
		return card, card.Walk
	}
	card, off := walk("2.7m..4.7m")
	if loss, lost := noted[Lost](card.Notes()); lost {
		t.Errorf("got %+v for a framing that is off by %g", loss, card.Use.Fact(facts.FramingError))
	}
	if card.Use.Fact(facts.FramingError) == 0 {
		t.Fatal("the framing is not off")
	}
	if off.Near != 2.7 || off.Far != 4.7 {
		t.Errorf("got the walk %+v, want one that reaches as far as the move", off)
	}
	if _, held := walk("2.72m..4.6m"); !slices.Equal(off.NearLoses, held.NearLoses) || !slices.Equal(off.FarLoses, held.FarLoses) {
		t.Errorf("got the walk %+v, want it to lose what that of a framing that holds does, %+v", off, held)
	}
}
