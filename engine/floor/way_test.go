package floor

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
	"glassbrief/lang/langtest"

	"pgregory.net/rapid"
)

// Each piece of a way says what the optics say at every place of it, and the pieces of a lane cover
// the way from its start to its end.
func TestWayHoldsWhereTheOpticsHold(t *testing.T) {
	const places = 97
	seen := map[Hold]int{}
	rapid.Check(t, func(rt *rapid.T) {
		near := math.Round(rapid.Float64Range(0.5, 6).Draw(rt, "near")*100) / 100
		far := near + math.Round(rapid.Float64Range(0.1, 4).Draw(rt, "depth")*100)/100
		framing := rapid.SampledFrom([]string{"medium", "full", "medium-full", "wide", "30%..60%"}).Draw(rt, "framing")
		focus := rapid.SampledFrom([]string{"fixed", "pulled"}).Draw(rt, "focus")
		move := rapid.SampledFrom([]string{"follow", "push-in", "pull-out", "orbit"}).Draw(rt, "move")
		r := recommend(t, fmt.Sprintf(briefText, shortSled, fmt.Sprintf(
			"subject person 1.7m\nframe %s\ndistance %.2fm..%.2fm\nmove %s\nfocus %s\nlight 800lx\n", framing, near, far, move, focus)))
		answer := &r.Shots[0]
		j := &answer.Ranking[rapid.IntRange(0, len(answer.Ranking)-1).Draw(rt, "place in the ranking")]
		if j.Standing != engine.Judged || math.IsNaN(j.Fact(facts.Stop)) || optics.TooNear(j.Fact(facts.FocalLength), min(near, j.Fact(facts.FocusMark))) {
			rt.Skip("out, or no thin lens")
		}
		w, l := WayOf(j), look{answer.Shot, j}
		start, end := far, near
		if move == "pull-out" {
			start, end = near, far
		}
		if math.Abs(w.Start-start) > 1e-9 || math.Abs(w.End-end) > 1e-9 {
			rt.Errorf("%s goes from %g to %g, want %g to %g", move, w.Start, w.End, start, end)
		}
		for lane, pieces := range w.Lanes {
			at := w.Start
			for _, p := range pieces {
				if p.From != at {
					rt.Errorf("%s: a piece begins at %g and the one before ends at %g", Lane(lane), p.From, at)
				}
				at = p.To
				seen[p.Hold]++
			}
			if at != w.End {
				rt.Errorf("%s ends at %g, want %g", Lane(lane), at, w.End)
			}
		}
		reserve := j.Fact(facts.ReserveWanted)
		for i := range places {
			distance := w.Start + (w.End-w.Start)*(float64(i)+0.5)/places
			hold := func(lane Lane) Hold {
				for _, p := range w.Lanes[lane] {
					if min(p.From, p.To) <= distance && distance <= max(p.From, p.To) {
						return p.Hold
					}
				}
				return Fails
			}
			if got, want := hold(FramingLane) == Holds, l.holds(Framing, distance); got != want {
				// What nobody sees is no loss: it ends a little beyond the band.
				if within := l.holds(Framing, distance*(1+engine.FramingSlack)*1.01) || l.holds(Framing, distance/(1+engine.FramingSlack)/1.01); !got || !within {
					rt.Errorf("%s at %g m: framing holds is %t, and by the optics %t", j.Lens, distance, got, want)
				}
			}
			want := Holds
			switch calm := l.holds(Focus, distance*(1-reserve)) && l.holds(Focus, distance*(1+reserve)); {
			case !l.holds(Focus, distance):
				want = Fails
			case !calm && focus == "fixed":
				want = Thin
			}
			atEdge := slices.ContainsFunc(w.Lanes[FocusLane], func(p Piece) bool { return math.Abs(p.To-distance) < 1e-3 })
			if got := hold(FocusLane); got != want && !atEdge {
				rt.Errorf("%s at %g m: focus is %d, and by the optics %d; sharp from %g to %g with a reserve of %g: %+v", j.Lens, distance, got, want, j.Fact(facts.NearLimit), j.Fact(facts.FarLimit), reserve, w.Lanes[FocusLane])
			}
		}
	})
	if langtest.Enough(40) && (seen[Holds] == 0 || seen[Thin] == 0 || seen[Fails] == 0) {
		t.Errorf("not every way to hold was seen: %v", seen)
	}
}

// The worst of a way is the worst of its lanes at each place, and an end that is missed alone stays.
func TestWorstOfAWay(t *testing.T) {
	whole := []Piece{{From: 3, To: 1}}
	w := Way{Start: 3, End: 1, Lanes: [Lanes][]Piece{
		FramingLane: {{Hold: Fails, Verdict: engine.Out, From: 3, To: 3}, {From: 3, To: 1}},
		FocusLane:   {{From: 3, To: 2.5}, {Hold: Thin, Verdict: engine.Fair, From: 2.5, To: 1.5}, {Hold: Fails, Verdict: engine.Out, From: 1.5, To: 1}},
		LightLane:   {{Verdict: engine.Fair, From: 3, To: 1}},
		SteadyLane:  whole,
	}}
	want := []Piece{
		{Hold: Fails, Verdict: engine.Out, From: 3, To: 3}, {Verdict: engine.Fair, From: 3, To: 2.5},
		{Hold: Thin, Verdict: engine.Fair, From: 2.5, To: 1.5}, {Hold: Fails, Verdict: engine.Out, From: 1.5, To: 1},
	}
	if got := w.Worst(); !slices.Equal(got, want) {
		t.Errorf("got %+v, want %+v", got, want)
	}
	stands := Way{Start: 2, End: 2, Lanes: [Lanes][]Piece{
		{{From: 2, To: 2}}, {{Hold: Thin, Verdict: engine.Fair, From: 2, To: 2}}, {{Verdict: engine.Poor, From: 2, To: 2}}, {{From: 2, To: 2}},
	}}
	if got, want := stands.Worst(), []Piece{{Hold: Thin, Verdict: engine.Poor, From: 2, To: 2}}; !slices.Equal(got, want) {
		t.Errorf("where it stands got %+v, want %+v", got, want)
	}
}
