package floor

import (
	"math"

	"glassbrief/engine"
	"glassbrief/engine/facts"
)

// A Ring is the focus ring of a set-up laid out straight, on an axis of dioptres: equal steps of it
// are equal turns. Distances run from the sensor plane.
type Ring struct {
	Near, Far float64 // the ends of what is laid out, with a little room beyond all that is on it; Far may be infinite
	Sharp     [2]float64
	Mark      float64
	Shot      []Piece    // of the way; from its nearest alone where the focus follows, and only the end then
	Spare     [2]float64 // of the focus, nearer and farther than the shot, in metres; negative where it is not sharp
}

// RingOf lays out the ring of a set-up; it is false where the stop, and so what is sharp, is not
// known.
func RingOf(j *engine.Judgement) (Ring, bool) {
	r := Ring{Sharp: [2]float64{j.Fact(facts.NearLimit), j.Fact(facts.FarLimit)}, Mark: j.Fact(facts.FocusMark)}
	if math.IsNaN(r.Sharp[0] + r.Sharp[1] + r.Mark) {
		return r, false
	}
	need := j.FocusNeed()
	r.Spare = [2]float64{need.Near - r.Sharp[0], r.Sharp[1] - need.Far}
	nearest, farthest := min(need.Near, r.Sharp[0]), max(need.Far, r.Sharp[1])
	room := (1/nearest - 1/farthest) / 10
	r.Near, r.Far = 1/(1/nearest+room), 1/max(0, 1/farthest-room)
	if need.Near == need.Far {
		r.Shot = []Piece{{From: need.Near, To: need.Near}}
		if r.Spare[0] < 0 || r.Spare[1] < 0 {
			r.Shot[0].Hold = Fails
		}
		return r, true
	}
	way := WayOf(j)
	for _, lane := range []Lane{FocusLane, FramingLane} {
		for _, piece := range way.Lanes[lane] {
			if lane == FocusLane || piece.Hold == Fails {
				r.Shot = append(r.Shot, piece)
			}
		}
	}
	return r, true
}

// At gives the place of a distance on the ring, from 0 at its near end to 1 at its far end.
func (r *Ring) At(distance float64) float64 {
	return (1/r.Near - 1/distance) / (1/r.Near - 1/r.Far)
}
