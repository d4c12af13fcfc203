package report

import (
	"math"
	"slices"
	"strconv"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// A way is the move of a shot as a bar of four lanes, from its start to its end.
type way struct {
	Lanes      []lane
	Start, End string // distances of the subject; End is "" on a move that keeps its distance
}

// A lane is one aspect along the way.
type lane struct {
	Name, Says, Figure string
	Fault              bool // it does not hold everywhere, or with little to spare
	Pieces             []lanePiece
	Old                []lanePiece // before, in a comparison
	Was                string      // the figure then, "" for the same
}

// A lanePiece is a part of the way: as high as its verdict is good, and hatched where it does not hold.
type lanePiece struct {
	X, Width  share
	Y, Height px
	Fails     bool
	Tip       share // where a piece too short to be seen is pointed at
	Short     bool
}

// A share is a length along the whole way, or a place on it, written in per cent.
type share float64

func (s share) String() string {
	return strconv.FormatFloat(math.Round(float64(s)*1e4)/100, 'f', -1, 64) + "%"
}

// The heights of lanes, with a tip above those of a shot.
const (
	shotLane = 12.0
	dayLane  = 9.0
	laneTop  = 3.0
	pointed  = 0.045 // of the way; a piece that is shorter is pointed at
)

func newWay(j *engine.Judgement, p lang.Printer) *way {
	w := floor.WayOf(j)
	drawn := &way{Start: p.Quantity(w.Start, "m")}
	if w.Start != w.End {
		drawn.End = p.Quantity(w.End, "m")
	}
	for l := range floor.Lanes {
		of := lane{
			Name: l.String(), Says: wording.LaneSays(&w, l, p), Pieces: lanePieces(&w, w.Lanes[l], shotLane),
			Figure: wording.OfLens(j, func(j *engine.Judgement) string { return wording.LaneFigure(l, j, p) }),
		}
		for _, piece := range w.Lanes[l] {
			of.Fault = of.Fault || piece.Hold != floor.Holds || piece.Verdict >= engine.Poor
		}
		drawn.Lanes = append(drawn.Lanes, of)
	}
	return drawn
}

// overWay draws the lanes that a change of the brief changes: those of before over those of now, on one
// axis of distances.
func overWay(was, is *engine.Judgement, p lang.Printer) *way {
	before, now := floor.WayOf(was), floor.WayOf(is)
	axis := floor.Way{Start: max(before.Start, before.End, now.Start, now.End), End: min(before.Start, before.End, now.Start, now.End)}
	if now.Start < now.End {
		axis.Start, axis.End = axis.End, axis.Start
	}
	drawn := &way{Start: p.Quantity(axis.Start, "m")}
	if axis.Start != axis.End {
		drawn.End = p.Quantity(axis.End, "m")
	}
	for l := range floor.Lanes {
		figure := func(j *engine.Judgement) string {
			return wording.OfLens(j, func(j *engine.Judgement) string { return wording.LaneFigure(l, j, p) })
		}
		of := lane{
			Name: l.String(), Says: "now " + wording.LaneSays(&now, l, p) + "; before " + wording.LaneSays(&before, l, p),
			Pieces: lanePieces(&axis, now.Lanes[l], shotLane), Old: lanePieces(&axis, before.Lanes[l], shotLane), Figure: figure(is), Was: figure(was),
		}
		if slices.Equal(of.Old, of.Pieces) && of.Was == of.Figure {
			continue
		}
		for i := range of.Pieces {
			of.Pieces[i].Y += laneTop + shotLane
		}
		if of.Was == of.Figure {
			of.Was = ""
		}
		drawn.Lanes = append(drawn.Lanes, of)
	}
	return drawn
}

// lanePieces draws pieces of a way in a lane of a height: all of it for good, two thirds for fair and
// a third for poor.
func lanePieces(w *floor.Way, pieces []floor.Piece, high float64) []lanePiece {
	const stands = 0.015 // as wide as a shot is drawn that stands somewhere on the way
	drawn := make([]lanePiece, len(pieces))
	for i, p := range pieces {
		from, to := max(0, w.Place(p.From)), w.Place(p.To) // and not -0
		switch {
		case w.Start == w.End:
			to = 1
		case from == to && p.Hold != floor.Fails:
			from = min(from, 1-stands)
			to = from + stands
		}
		d := lanePiece{X: share(from), Width: share(to - from), Fails: p.Hold == floor.Fails, Height: px(high)}
		if !d.Fails {
			d.Height = px(high * [...]float64{engine.Good: 1, engine.Fair: 2. / 3, engine.Poor: 1. / 3, engine.Out: 0}[p.Verdict])
		}
		d.Y = laneTop + px(high) - d.Height
		if d.Short = d.Fails && to-from < pointed; d.Short {
			d.Tip = share((from + to) / 2)
		}
		drawn[i] = d
	}
	return drawn
}
