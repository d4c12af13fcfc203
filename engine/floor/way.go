package floor

import (
	"cmp"
	"math"
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/facts"
)

// A Lane is an aspect of the picture that is followed along a move.
type Lane uint8

const (
	FramingLane Lane = iota
	FocusLane
	LightLane
	SteadyLane

	Lanes // how many there are
)

// lanes tells the lane of an aspect that a limit is about.
var lanes = map[engine.Aspect]Lane{engine.Framing: FramingLane, engine.Focus: FocusLane, engine.Light: LightLane, engine.Steadiness: SteadyLane}

// String names the lane.
func (l Lane) String() string { return [...]string{"framing", "focus", "light", "steady"}[l] }

// A Hold is how far an aspect holds somewhere on a move.
type Hold uint8

const (
	Holds Hold = iota
	Thin       // it holds, with less to spare than is calm
	Fails
)

// A Piece is a part of a move over which an aspect holds alike. Distances run from the subject to
// the sensor plane; a piece that fails at an end alone begins and ends there.
type Piece struct {
	Hold
	From, To float64
	Near     bool // it is lost nearer than where it holds, and else farther
	Verdict  engine.Verdict
}

// A Way is the move of a shot laid out by the distance of its subject, with what of the picture
// holds where. A move that keeps between two distances is laid out from the farther to the nearer.
type Way struct {
	Start, End float64
	Directed   bool // it is walked from the start to the end
	Lanes      [Lanes][]Piece
}

// Length is how far the distance of the subject changes, in metres.
func (w *Way) Length() float64 { return math.Abs(w.Start - w.End) }

// Place gives where a distance lies between the start and the end, from 0 to 1; 0 on a move that
// keeps its distance.
func (w *Way) Place(distance float64) float64 {
	if w.Start == w.End {
		return 0
	}
	return (distance - w.Start) / (w.End - w.Start)
}

// WayOf lays out the move of a shot with a lens that is explained and may be brought.
func WayOf(j *engine.Judgement) Way {
	shot, path := j.Shot, pathOf(j.Shot, j)
	w := Way{Start: path.At(0).Distance, End: path.At(1).Distance, Directed: directed(path.Way)}
	bites := map[engine.Aspect]engine.Part{}
	for _, part := range j.InPart() {
		bites[part.Aspect] = part
	}
	for aspect, lane := range lanes {
		if _, fails := bites[aspect]; fails && lane > FocusLane {
			w.Lanes[lane] = []Piece{{Hold: Fails, From: w.Start, To: w.End}}
		} else {
			w.Lanes[lane] = []Piece{{From: w.Start, To: w.End}}
		}
	}
	framing := framingStretch(shot, j)
	seen := Stretch{Framing, framing.Near / (1 + engine.FramingSlack), framing.Far * (1 + engine.FramingSlack)}
	w.Lanes[FramingLane] = w.pieces(seen, seen)
	if shot.Frame.Near != shot.Frame.Far { // that changes: each of its ends is to be reached
		w.miss(j.Fact(facts.FillNear)*(1+engine.FramingSlack) < shot.Frame.Near.Low, shot.Near, false)
		w.miss(j.Fact(facts.FillFar) > shot.Frame.Far.High*(1+engine.FramingSlack), shot.Far, true)
	}
	focus, reserve := focusStretch(j), j.Fact(facts.ReserveWanted)
	calm := Stretch{Focus, focus.Near / (1 - reserve), focus.Far / (1 + reserve)}
	if j.Fact(facts.Following) == 1 || math.IsNaN(reserve) {
		calm = focus // the limits of depth are those at the nearest alone
	}
	w.Lanes[FocusLane] = w.pieces(focus, calm)
	for aspect, lane := range lanes {
		judge(w.Lanes[lane], aspect, j)
	}
	return w
}

// miss notes that a framing that changes is off at one of its ends alone: there the subject is too
// large, as from too near, or too small.
func (w *Way) miss(is bool, distance float64, near bool) {
	p, of := Piece{Hold: Fails, From: distance, To: distance, Near: near}, &w.Lanes[FramingLane]
	switch {
	case !is:
	case distance == w.Start:
		*of = slices.Insert(*of, 0, p)
	default:
		*of = append(*of, p)
	}
}

// told is how much of a way must fail for it to be said.
const told = 0.02

// Fails reports whether a lane fails where that is to be said: at an end, or over more than a trace
// of the way.
func (w *Way) Fails(lane Lane) bool {
	lost := 0.0
	for _, p := range w.Lanes[lane] {
		if p.Hold != Fails {
			continue
		}
		if p.From == p.To {
			return true
		}
		lost += math.Abs(p.To - p.From)
	}
	return lost > told*w.Length()
}

// judge gives the pieces of a lane their verdicts. Beside a piece that fails or is thin, which the
// limits of the aspect count, one that holds is judged without them.
func judge(pieces []Piece, aspect engine.Aspect, j *engine.Judgement) {
	whole, held := j.VerdictOn(aspect)
	if len(pieces) > 1 {
		whole = held
	}
	for i := range pieces {
		pieces[i].Verdict = max(whole, [...]engine.Verdict{Holds: engine.Good, Thin: engine.Fair, Fails: engine.Out}[pieces[i].Hold])
	}
}

// pieces parts the way by where an aspect holds and where that is calm. One whose stretch is not
// known is taken to hold: what limits it says so elsewhere.
func (w *Way) pieces(holds, calm Stretch) []Piece {
	if math.IsNaN(holds.Near + holds.Far) {
		return []Piece{{From: w.Start, To: w.End}}
	}
	cuts := []float64{w.Start, w.End}
	for _, cut := range []float64{holds.Near, calm.Near, calm.Far, holds.Far} {
		if place := w.Place(cut); place > rounding && place < 1-rounding {
			cuts = append(cuts, cut)
		}
	}
	slices.SortFunc(cuts, func(a, b float64) int { return cmp.Compare(w.Place(a), w.Place(b)) })
	var pieces []Piece
	for i := range cuts[1:] {
		p := Piece{From: cuts[i], To: cuts[i+1]}
		switch middle := (p.From + p.To) / 2; {
		case !holds.has(middle):
			p.Hold, p.Near = Fails, middle < holds.Near
		case !calm.has(middle):
			p.Hold, p.Near = Thin, middle < calm.Near
		}
		if last := len(pieces) - 1; last >= 0 && pieces[last].Hold == p.Hold && pieces[last].Near == p.Near {
			pieces[last].To = p.To
		} else {
			pieces = append(pieces, p)
		}
	}
	return pieces
}

// Worst parts the way by the worst that any lane is at each place.
func (w *Way) Worst() []Piece {
	cuts := []float64{w.Start, w.End}
	for _, lane := range w.Lanes {
		for _, p := range lane {
			cuts = append(cuts, p.From, p.To)
		}
	}
	slices.SortFunc(cuts, func(a, b float64) int { return cmp.Compare(w.Place(a), w.Place(b)) })
	var pieces []Piece
	for i := range cuts[1:] {
		worst := Piece{From: cuts[i], To: cuts[i+1]}
		for _, lane := range w.Lanes {
			for _, p := range lane {
				if w.Start == w.End || w.Place(p.From) <= w.Place(worst.From) && w.Place(worst.To) <= w.Place(p.To) {
					worst.Hold, worst.Verdict = max(worst.Hold, p.Hold), max(worst.Verdict, p.Verdict)
				}
			}
		}
		if last := len(pieces) - 1; last >= 0 && pieces[last].Hold == worst.Hold && pieces[last].Verdict == worst.Verdict {
			pieces[last].To = worst.To
		} else if worst.From != worst.To || worst.Hold == Fails || w.Start == w.End {
			pieces = append(pieces, worst)
		}
	}
	return pieces
}
