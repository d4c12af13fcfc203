package show

import (
	"math"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// ringCells is the length of a ring, with which 60 cells hold the distances at its ends too, in feet
// and inches as well.
const ringCells = 26

// RingKey says how a ring reads.
const RingKey = "In equal turns of the focus ring, near on the left: the shot (=), where focus or framing does not hold (/), sharp besides (.), not sharp (_), and the mark (|)."

// RingGrid draws the ring of each shot. A focus that follows is drawn at its nearest.
func RingGrid(r *engine.Recommendation, p lang.Printer) Grid {
	g := Grid{Columns: []Column{{Title: "shot"}, {Title: "near", Right: true}, {Title: "focus"}, {Title: "far"}}}
	for i := range r.Shots {
		if j := r.Shots[i].Use; j != nil {
			g.Rows = append(g.Rows, append([]Cell{{Text: r.Shots[i].Shot.ID}}, RingCells(j, ringCells, p)...))
		}
	}
	return g
}

// RingCells gives the near end of a ring, the ring in so many cells, and its far end; the ring is ""
// where it is not known what is sharp.
func RingCells(j *engine.Judgement, cells int, p lang.Printer) []Cell {
	ring, known := floor.RingOf(j)
	if !known {
		return []Cell{{Text: p.Quantity(math.NaN(), "m")}, {}, {Text: p.Quantity(math.NaN(), "m")}}
	}
	row := []Cell{{Text: p.Quantity(ring.Near, "m")}, {Text: drawRing(&ring, cells)}, {Text: p.Quantity(ring.Far, "m")}}
	for _, other := range j.Worlds().All() {
		if o, known := floor.RingOf(other); known && other.Standing == j.Standing {
			row[0].assume(p.Quantity(o.Near, "m"))
			row[2].assume(p.Quantity(o.Far, "m"))
		}
	}
	return row
}

// drawRing draws a ring in so many cells, each as the worst of what happens in it.
func drawRing(r *floor.Ring, cells int) string {
	drawn := []byte(strings.Repeat("_", cells))
	fill := func(from, to float64, with byte) {
		low, high := r.At(min(from, to))*float64(cells), r.At(max(from, to))*float64(cells)
		for cell := max(0, int(low)); cell < min(cells, max(int(low)+1, int(math.Ceil(high)))); cell++ {
			drawn[cell] = with
		}
	}
	fill(r.Sharp[0], r.Sharp[1], '.')
	for _, with := range []struct {
		hold floor.Hold
		mark byte
	}{{floor.Holds, '='}, {floor.Thin, '='}, {floor.Fails, '/'}} {
		for _, piece := range r.Shot {
			if piece.Hold == with.hold {
				fill(piece.From, piece.To, with.mark)
			}
		}
	}
	fill(r.Mark, r.Mark, '|')
	return string(drawn)
}
