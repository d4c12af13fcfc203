package wording

import (
	"math"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// WayKey says how [Strip] reads.
const WayKey = "= holds, - little to spare, / does not hold"

// Strip draws the way of a shot from its start to its end in so many cells, each as the worst of
// what happens in it. A piece that fails is never too short to be seen.
func Strip(w *floor.Way, cells int) string {
	worst := make([]floor.Hold, cells)
	for _, lane := range w.Lanes {
		for _, piece := range lane {
			from, to := 0, cells
			if w.Start != w.End {
				from = int(math.Floor(w.Place(piece.From)*float64(cells) + 1e-9))
				to = max(from+1, int(math.Ceil(w.Place(piece.To)*float64(cells)-1e-9)))
			}
			for cell := min(from, cells-1); cell < min(to, cells); cell++ {
				worst[cell] = max(worst[cell], piece.Hold)
			}
		}
	}
	strip := make([]byte, cells)
	for i, hold := range worst {
		strip[i] = "=-/"[hold]
	}
	return string(strip)
}

// LaneFigure gives the figure of a lane: what the picture is high, what is to spare of focus, what the
// light is met with, and what moves the picture most.
func LaneFigure(lane floor.Lane, j *engine.Judgement, p lang.Printer) string {
	switch lane {
	case floor.FramingLane:
		return overWay(j, facts.FieldFar, facts.FieldNear, p) + " high"
	case floor.FocusLane:
		if j.Fact(facts.Following) == 1 {
			return "follows"
		}
		near, far := j.Fact(facts.SubjectNear)-j.Fact(facts.NearLimit), j.Fact(facts.FarLimit)-j.Fact(facts.SubjectFar)
		return length(near, p) + " near, " + length(far, p) + " far"
	case floor.LightLane:
		text := "ISO " + Fact(j, facts.ISO, p)
		if j.Fact(facts.ND) > 0 {
			text += ", ND " + Fact(j, facts.ND, p)
		}
		return text + " at " + Fact(j, facts.TStop, p)
	}
	if j.Fact(facts.Pace) < 1 {
		return "turns past in " + Fact(j, facts.CrossingTime, p)
	}
	if j.Fact(facts.Swing) >= j.Fact(facts.StepShare) {
		return "swing " + Fact(j, facts.Swing, p)
	}
	return "step " + Fact(j, facts.StepShare, p)
}

// overWay gives a fact at the start and the end of a way, once where they read alike.
func overWay(j *engine.Judgement, far, near facts.ID, p lang.Printer) string {
	w := floor.WayOf(j)
	from, to := Fact(j, far, p), Fact(j, near, p)
	if w.Start < w.End {
		from, to = to, from
	}
	if from == to {
		return from
	}
	return from + " to " + to
}

// LaneSays says a lane piece by piece, from the start of the way to its end.
func LaneSays(w *floor.Way, lane floor.Lane, p lang.Printer) string {
	var said []string
	for _, piece := range w.Lanes[lane] {
		text := piece.Verdict.String()
		if piece.Hold == floor.Fails {
			text = "does not hold"
		}
		if len(w.Lanes[lane]) > 1 {
			text += " to " + p.Quantity(piece.To, "m")
		}
		said = append(said, text)
	}
	return lane.String() + ": " + strings.Join(said, ", ")
}
