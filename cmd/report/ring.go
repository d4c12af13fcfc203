package report

import (
	"math"
	"strings"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// The ring of a card is drawn at the size at which it is shown, so that its text is never scaled.
const (
	ringWidth = 324.0
	ringTop   = 18.0 // above stands what is to spare
	ringHigh  = 14.0
	ringFoot  = 18.0
)

// A ringDrawing is the focus ring laid out straight, near on the left, in equal turns.
type ringDrawing struct {
	Width, Height, Top, High, Foot px
	Sharp                          span
	Shot                           []ringPiece
	Mark                           px
	Ticks                          []tick // the ends of the shot
	Near, Far                      string // what is to spare
	Says                           string
}

// A ringPiece is a part of the shot on the ring.
type ringPiece struct {
	span
	Fails bool
}

// drawRing draws the ring of a set-up with what is to spare at both ends, as it is said; nil where it
// is not known what is sharp.
func drawRing(j *engine.Judgement, near, far string, p lang.Printer) *ringDrawing {
	ring, known := floor.RingOf(j)
	if !known {
		return nil
	}
	at := func(distance float64) px { return px(ringWidth * min(1, max(0, ring.At(distance)))) }
	d := &ringDrawing{
		Width: ringWidth, Height: ringTop + ringHigh + ringFoot, Top: ringTop, High: ringHigh, Foot: ringTop + ringHigh + 14,
		Sharp: span{at(ring.Sharp[0]), at(ring.Sharp[1]) - at(ring.Sharp[0])}, Mark: at(ring.Mark), Near: near, Far: far,
	}
	nearest, farthest := math.Inf(1), 0.0
	for _, piece := range ring.Shot {
		low, high := min(piece.From, piece.To), max(piece.From, piece.To)
		s := span{at(low), at(high) - at(low)}
		if low == high { // one distance is a line
			s = span{s.X - 1, 2}
		}
		d.Shot = append(d.Shot, ringPiece{s, piece.Hold == floor.Fails})
		nearest, farthest = min(nearest, low), max(farthest, high)
	}
	d.tick(at(nearest), p.Quantity(nearest, "m"))
	d.tick(at(farthest), p.Quantity(farthest, "m"))
	d.Says = "The focus ring, near on the left: the shot " + between(nearest, farthest, p) + ", sharp " + wording.Between(ring.Sharp[0], ring.Sharp[1], p) + ", the mark at " + p.Quantity(ring.Mark, "m") + "."
	return d
}

// tick writes a distance below the ring, unless it stands where another does.
func (d *ringDrawing) tick(x px, text string) {
	text = strings.TrimSuffix(text, " m")
	half := px(labelWidth(text) / 2)
	x = max(half, min(d.Width-half, x))
	for _, other := range d.Ticks {
		if x-other.X < half+px(labelWidth(other.Text)/2) {
			return
		}
	}
	d.Ticks = append(d.Ticks, tick{x, text})
}
