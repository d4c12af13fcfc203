package report

import (
	"math"
	"strconv"
)

// px is a length in a drawing, in CSS pixels at the width the drawing is made for. It is
// written to a tenth, which no screen shows.
type px float64

func (p px) String() string { return string(appendTenths(nil, int64(math.Round(float64(p)*10)))) }

func appendTenths(text []byte, tenths int64) []byte {
	if tenths < 0 {
		text, tenths = append(text, '-'), -tenths
	}
	text = strconv.AppendInt(text, tenths/10, 10)
	if rest := tenths % 10; rest != 0 {
		text = append(text, '.', byte('0'+rest))
	}
	return text
}

// A point is a place in a drawing, or in metres in what is drawn.
type point struct{ X, Y float64 }

func (p point) times(x float64) point { return point{p.X * x, p.Y * x} }

// A path is the data of an SVG path. Behind the start of a line it is written in steps
// from place to place, which takes half the room.
type path struct {
	text   []byte
	open   bool
	steps  bool     // there are some behind the start
	tenths [2]int64 // the place of the pen
}

// to draws to a place, or begins a line there. A place that is not a number ends the
// line: nothing is seen there.
func (p *path) to(at point) {
	// Far outside of any drawing a line still has its direction.
	const far = 1e5
	if math.IsNaN(at.X) || math.IsNaN(at.Y) || math.Abs(at.X) > far || math.Abs(at.Y) > far {
		p.open = false
		return
	}
	place := [2]int64{int64(math.Round(at.X * 10)), int64(math.Round(at.Y * 10))}
	if !p.open {
		p.text = append(p.text, 'M')
		p.pair(place[0], place[1])
		p.open, p.steps, p.tenths = true, false, place
		return
	}
	dx, dy := place[0]-p.tenths[0], place[1]-p.tenths[1]
	const unseen = 3 // tenths of a pixel
	if -unseen < dx && dx < unseen && -unseen < dy && dy < unseen {
		return
	}
	if !p.steps { // one without numbers is a fault
		p.text = append(p.text, 'l')
	}
	p.pair(dx, dy)
	p.steps, p.tenths = true, place
}

// pair writes two numbers of tenths, parted from what stands before.
func (p *path) pair(x, y int64) {
	for _, n := range [...]int64{x, y} {
		if last := p.text[len(p.text)-1]; n >= 0 && last != 'M' && last != 'l' {
			p.text = append(p.text, ' ')
		}
		p.text = appendTenths(p.text, n)
	}
}

// straightened gives the two ends of a line from which nobody sees the places between depart.
func straightened(places []point) []point {
	const unseen = 0.4 // px
	from, to := places[0], places[len(places)-1]
	length := math.Hypot(to.X-from.X, to.Y-from.Y)
	for _, p := range places {
		if off := math.Abs((p.X-from.X)*(to.Y-from.Y)-(p.Y-from.Y)*(to.X-from.X)) / length; !(off < unseen) {
			return places
		}
	}
	return []point{from, to}
}

// line draws through places, from a new start.
func (p *path) line(places ...point) {
	p.open = false
	for _, at := range places {
		p.to(at)
	}
}

// closed is line, back to its start. When part of it is not seen it stays open.
func (p *path) closed(places ...point) {
	p.line(places...)
	for _, at := range places {
		if math.IsNaN(at.X) || math.IsNaN(at.Y) {
			return
		}
	}
	if p.open {
		p.text = append(p.text, 'Z')
		p.open = false
	}
}

func (p path) String() string { return string(p.text) }
