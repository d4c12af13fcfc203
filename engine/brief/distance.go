package brief

import (
	"fmt"
	"math"

	"glassbrief/engine/motion"
	"glassbrief/lang"
)

// A Room is where the camera may stand: distances from the sensor plane to the subject, in
// metres. Behind is the distance from the subject to the background, which stays as the
// camera goes elsewhere; NaN when it is not given.
type Room struct{ Near, Far, Behind float64 }

// Middle gives the place in the room that is as many times farther than its near end as the
// far end is farther than it.
func (r Room) Middle() float64 { return math.Sqrt(r.Near * r.Far) }

// tapeSteps are the steps by which places in a room are tried, in metres, each up to a
// distance: no more than a twentieth of it, within which nobody sees a difference in framing.
var tapeSteps = []struct{ step, to float64 }{{0.01, 0.5}, {0.02, 1}, {0.05, 2}, {0.1, 5}, {0.25, 10}, {0.5, 20}, {1, 50}, {2, 100}, {5, 200}, {10, 500}, {25, 1000}}

// Places lists where in the room the camera may stand, the nearest first: its two ends, and
// between them steps of a tape. These are the same in every room, so that a wider one holds
// all of them.
func (r Room) Places() []float64 {
	all := []float64{r.Near}
	const rounding = 1e-9
	from := 0.0
	for _, s := range tapeSteps {
		for n := math.Floor(max(from, r.Near)/s.step+rounding) + 1; n*s.step < min(s.to+rounding, r.Far-rounding); n++ {
			all = append(all, n*s.step)
		}
		from = s.to
	}
	return append(all, r.Far)
}

// distance is how far the subject is: from where to where by the blocking, or in which room
// the camera may stand anywhere.
type distance struct {
	given lang.Interval
	room  *Room
}

// DecodeArgs reads the values of "distance".
func (d *distance) DecodeArgs(args *lang.Args) {
	within := args.Skip("within")
	d.given = args.Interval(lang.Length)
	near, far := d.given.Low.OrNaN(), d.given.High.OrNaN()
	if within && near > 0 && near < far {
		d.room = &Room{Near: near, Far: far}
	} else if within && near == far {
		args.Report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.BadInterval, Span: d.given.Span,
			Summary: fmt.Sprintf("%q leaves no room to stand anywhere else", d.given.Span.Text()),
			Detail:  "Write from where to where the camera may stand, as \"within 1m..4m\", or leave \"within\" out.",
		})
	}
}

func (l *loader) checkDistance(b *shotBlock, shot *Shot) {
	d := b.Distance.given
	if d.Span.Known() && !(d.Low.Known() && d.High.Known()) {
		l.report(lang.Diagnostic{
			Severity: lang.Error, Code: lang.BadInterval, Span: d.Span,
			Summary: "a shot needs both its nearest and its farthest distance",
			Detail:  "Write both ends, as \"1.6m..2.8m\".",
		})
	}
	if shot.Room == nil {
		return
	}
	switch shot.Move.Way {
	case motion.Approaching, motion.Retreating:
		l.contradiction(d.Span, fmt.Sprintf("a %s goes from one distance to another, and this leaves it open which", shot.Move.Word),
			"Write the two ends of the move, as \"distance 1.6m..2.8m\".", shot.Move.Span, "the move is here")
	}
	if shot.Frame.Near != shot.Frame.Far {
		l.contradiction(d.Span, "the framing changes over the move, and the camera is to stand in one place",
			"Write the two ends of the move, as \"distance 1.6m..2.8m\", or one framing.", shot.Frame.Span, "the framing is here")
	}
}

// contradiction reports a line that does not go with another.
func (l *loader) contradiction(span lang.Span, summary, remedy string, other lang.Span, note string) {
	l.report(lang.Diagnostic{
		Severity: lang.Error, Code: lang.Contradiction, Span: span, Summary: summary, Detail: remedy,
		Related: []lang.Related{{Span: other, Note: note}},
	})
}
