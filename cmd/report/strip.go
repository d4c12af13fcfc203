package report

import (
	"math"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// The focus strip is drawn on an axis of dioptres, which is how a focus ring turns: depth
// of field is about as long everywhere on it.
const (
	stripLeft  = 40.0 // where the names of the stops end
	stripRight = 284.0
	stripWidth = 288.0
	stripTop   = 18.0
	stripRow   = 20.0
)

// A stripDrawing sets what should be sharp against what is.
type stripDrawing struct {
	Width, Height px
	Need          span // the subject with the reserve that is wanted
	Mark          px   // the focus mark
	Rows          []stripStop
	Ticks         []tick
	Foot, Depth   px // where the ticks stand, and how far down from the top of what must be sharp
	Says          string

	axis axis
}

// A span is an interval of the axis, from far on the left to near on the right.
type span struct{ X, Width px }

// A stripStop is what is sharp at one stop.
type stripStop struct {
	Stop   string
	Chosen bool
	Y      px
	Sharp  span
}

type tick struct {
	X    px
	Text string
}

// axis maps distances from the sensor plane to places in the strip.
type axis struct{ low, high float64 } // dioptres

func (a axis) at(distance float64) float64 {
	share := (1/distance - a.low) / (a.high - a.low)
	return stripLeft + min(1, max(0, share))*(stripRight-stripLeft)
}

func (a axis) span(near, far float64) span {
	from, to := a.at(far), a.at(near)
	return span{px(from), px(to - from)}
}

// drawStrip gives the strip at some stops, of which the chosen one is one. It is nil when
// the lens's stop, and so what is sharp, is not known.
func drawStrip(j *engine.Judgement, stops []float64, p lang.Printer) *stripDrawing {
	near, far, mark := j.Fact(facts.NearLimit), j.Fact(facts.FarLimit), j.Fact(facts.FocusMark)
	if math.IsNaN(near + far + mark) {
		return nil
	}
	d := &stripDrawing{Width: stripWidth}
	limits := make([][2]float64, len(stops))
	need := j.FocusNeed()
	nearest, farthest := min(need.WithReserve[0], near), max(need.WithReserve[1], far)
	for i, stop := range stops {
		limits[i] = [2]float64{near, far}
		if stop != j.Fact(facts.Stop) {
			limits[i] = sharpAt(j, stop)
		}
		nearest, farthest = min(nearest, limits[i][0]), max(farthest, limits[i][1])
	}
	room := (1/nearest - 1/farthest) * 0.08
	a := axis{max(0, 1/farthest-room), 1/nearest + room}
	for i, stop := range stops {
		text := p.Quantity(stop, "f/")
		if stop == j.Fact(facts.Stop) {
			text = wording.OfLens(j, func(j *engine.Judgement) string { return p.Quantity(j.Fact(facts.Stop), "f/") })
		}
		d.Rows = append(d.Rows, stripStop{
			Stop: text, Chosen: stop == j.Fact(facts.Stop),
			Y: px(stripTop + float64(i)*stripRow), Sharp: a.span(limits[i][0], limits[i][1]),
		})
	}
	d.axis = a
	d.Need = a.span(need.WithReserve[0], need.WithReserve[1])
	d.Mark = px(a.at(mark))
	foot := stripTop + float64(len(stops))*stripRow
	d.Foot, d.Depth, d.Height = px(foot), px(foot-10), px(foot+22)
	d.Ticks = a.ticks(p)
	d.Says = "The subject, " + between(need.Near, need.Far, p) + ", with the reserve that is wanted, against what is sharp at " + p.Quantity(j.Fact(facts.Stop), "f/") + ", " + wording.Between(near, far, p) + "."
	return d
}

// neighbours gives the chosen stop with those one stop to either side that the lens has.
func neighbours(j *engine.Judgement) []float64 {
	chosen := j.Fact(facts.Stop)
	stops := []float64{chosen}
	if wider := exposure.Marked(chosen / math.Sqrt2); wider >= j.Fact(facts.WidestStop) {
		stops = []float64{wider, chosen}
	}
	if smaller := exposure.Marked(chosen * math.Sqrt2); !(smaller > j.Fact(facts.SmallestStop)) {
		stops = append(stops, smaller)
	}
	return stops
}

// sharpAt gives the limits from the sensor plane at another stop, with the mark kept.
func sharpAt(j *engine.Judgement, stop float64) [2]float64 {
	near, far := facts.LimitsAt(&j.Facts.Value, stop)
	return [2]float64{near, far}
}

// ticks marks round distances, none nearer to the next than a label is wide.
func (a axis) ticks(p lang.Printer) []tick {
	const apart = 52
	var ticks []tick
	last := math.Inf(-1)
	add := func(distance float64) {
		x := a.at(distance)
		text := p.Quantity(distance, "m")
		half := labelWidth(text) / 2
		if x-last < apart && len(ticks) > 0 || x < stripLeft+8 || x > stripRight-8 || x+half > stripWidth {
			return
		}
		if math.IsInf(distance, 1) {
			text = "∞"
		}
		ticks = append(ticks, tick{px(x), text})
		last = x
	}
	if a.low == 0 {
		ticks = append(ticks, tick{px(stripLeft), "∞"})
		last = stripLeft
	}
	// Equal steps of the axis, each moved to a distance that reads well.
	for i := range 7 {
		dioptres := a.low + (a.high-a.low)*(float64(i)+0.5)/7
		step := (a.high - a.low) / 7 / dioptres / dioptres
		unit := niceLength(step/2, p)
		add(math.Round(1/dioptres/unit) * unit)
	}
	return ticks
}
