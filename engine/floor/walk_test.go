package floor

import (
	"fmt"
	"math"
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

func (l look) sharp(distance float64) bool {
	focal, stop, confusion := l.j.Fact(facts.FocalLength), l.j.Fact(facts.Stop), l.j.Fact(facts.Confusion)
	if l.shot.Focus == facts.Fixed {
		near, far := optics.Limits(focal, stop, confusion, optics.FromSensor(focal, l.j.Fact(facts.FocusMark)))
		s := optics.FromSensor(focal, distance)
		return near <= s && s <= far
	}
	depth := facts.PulledDepth
	if l.shot.Focus == facts.Auto {
		depth = facts.AutoDepth
	}
	if distance < l.j.Fact(facts.CloseFocus) || distance-depth/2 < 4*focal {
		return false
	}
	front, back := optics.FromSensor(focal, distance-depth/2), optics.FromSensor(focal, distance+depth/2)
	near, far := optics.Limits(focal, stop, confusion, optics.FocusMark(front, back))
	return near <= front && back <= far
}

func (l look) framed(distance float64) bool {
	s := optics.FromSensor(l.j.Fact(facts.FocalLength), distance) - l.j.Fact(facts.FocalLength)
	fill := max(l.j.Fact(facts.SubjectHeight)/(l.j.Fact(facts.SpreadHeight)*s), l.j.Fact(facts.SubjectWidth)/(l.j.Fact(facts.SpreadWidth)*s))
	low, high := l.shot.Frame.Near.Low, l.shot.Frame.Near.High
	if t := (distance - l.shot.Near) / (l.shot.Far - l.shot.Near); l.shot.Far > l.shot.Near && t > 0 {
		t = min(t, 1)
		low = math.Exp((1-t)*math.Log(low) + t*math.Log(l.shot.Frame.Far.Low))
		high = math.Exp((1-t)*math.Log(high) + t*math.Log(l.shot.Frame.Far.High))
	}
	return low <= fill && fill <= high
}

// Up to the edge of the walk focus and framing hold; a step beyond breaks one, and that
// one which the card names.
func TestWalkEndsWhereFocusOrFramingBreaks(t *testing.T) {
	// A step is what a tape shows; within is what its marks are good to.
	const step, within = 1e-3, 1e-7
	rapid.Check(t, func(rt *rapid.T) {
		near := math.Round(rapid.Float64Range(0.5, 6).Draw(rt, "near")*100) / 100
		far := near + math.Round(rapid.Float64Range(0, 4).Draw(rt, "depth")*100)/100
		framing := rapid.SampledFrom([]string{"medium", "full", "medium-full", "wide", "close..full", "full..wide", "30%..60%"}).Draw(rt, "framing")
		focus := rapid.SampledFrom([]string{"fixed", "pulled", "auto"}).Draw(rt, "focus")
		r := recommend(t, fmt.Sprintf(briefText, shortSled, fmt.Sprintf(
			"subject person 1.7m\nframe %s\ndistance %.2fm..%.2fm\nmove follow\nfocus %s\nlight 800lx\n", framing, near, far, focus)))
		answer := &r.Shots[0]
		j := &answer.Ranking[rapid.IntRange(0, len(answer.Ranking)-1).Draw(rt, "place in the ranking")]
		if j.Fact(facts.IsFisheye) == 1 || math.IsNaN(j.Fact(facts.Stop)) || math.IsNaN(j.Fact(facts.LensLength)) {
			rt.Skip("another projection, or nothing to set")
		}
		h := holdOf(answer.Shot, j)
		w := h.walk()
		if !w.Known() {
			return
		}
		l := look{answer.Shot, j}
		for _, d := range []float64{w.Near * (1 + within), w.Far * (1 - within), (w.Near + w.Far) / 2} {
			if d < w.Near || d > w.Far {
				continue // the walk is a point
			}
			if !l.sharp(d) || !l.framed(d) {
				rt.Errorf("%s at %g m of %g to %g: sharp %t, framed %t, want both", j.Lens, d, w.Near, w.Far, l.sharp(d), l.framed(d))
			}
		}
		for _, end := range []struct {
			at     float64
			breaks []string
		}{{w.Near - step, w.NearBreaks}, {w.Far + step, w.FarBreaks}} {
			room := end.at > j.Fact(facts.LensLength)
			if room && l.sharp(end.at) && l.framed(end.at) {
				rt.Errorf("%s a step beyond %g to %g, at %g m, keeps focus and framing", j.Lens, w.Near, w.Far, end.at)
			}
			if len(end.breaks) == 0 {
				rt.Errorf("%s a step beyond %g to %g: the card names nothing that breaks", j.Lens, w.Near, w.Far)
			}
		}
		covers := w.Near <= answer.Shot.Near && answer.Shot.Far <= w.Far
		if covers != w.Covers && math.Abs(w.Near-answer.Shot.Near) > 1e-6 && math.Abs(w.Far-answer.Shot.Far) > 1e-6 {
			rt.Errorf("got covers %t for a walk of %g to %g and a move of %g to %g", w.Covers, w.Near, w.Far, near, far)
		}
	})
}

// What holds the whole move by its facts is walked wholly.
func TestWalkAgreesWithTheFacts(t *testing.T) {
	r := demo(t)
	for i := range r.Shots {
		answer := &r.Shots[i]
		for k := range answer.Ranking {
			j := &answer.Ranking[k]
			h := holdOf(answer.Shot, j)
			w := h.walk()
			held := j.Fact(facts.FocusHeld) == 1 && j.Fact(facts.FramingHeld) == 1 && j.Fact(facts.Clearance) > 0 && answer.Shot.Focus == facts.Fixed
			if held && !w.Covers {
				t.Errorf("%s with %s: focus and framing are held and the walk is %+v", answer.Shot.ID, j.Lens, w)
			}
			if w.Covers && (j.Fact(facts.FramingError) > 1e-9) {
				t.Errorf("%s with %s: the framing is off by %g and the walk covers the move", answer.Shot.ID, j.Lens, j.Fact(facts.FramingError))
			}
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
	_, short := noted[FallsShort](card.Notes)
	if _, nowhere := noted[HoldsNowhere](card.Notes); !short && !nowhere {
		t.Errorf("got the notes %+v, want the shortfall said", card.Notes)
	}
}
