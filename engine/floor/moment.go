package floor

import (
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/motion"
)

// A Moment is one moment of a move: where the subject is and how the picture moves.
// Rates are in widths of the picture a second; those of the background in a boom in heights.
type Moment struct {
	Share      float64 // of the move, from 0 to 1
	Time       float64 // seconds from the start; NaN when the brief does not settle it
	Distance   float64 // of the subject from the sensor plane
	Fill       float64 // share of the frame that the subject fills
	Subject    float64 // rate at which the outline of the subject moves; NaN when only the ends of the distance are known
	Background float64 // rate at which the background moves, at the edge of the picture where it moves most
	Blur       float64 // trail of the background in one frame, as a share of the same side
}

// moments is how many moments of a move a card holds.
const moments = 5

// momentsOf follows the picture along a move.
func momentsOf(j *engine.Judgement, path motion.Path) []Moment {
	h := j.Fact
	shutter := h(facts.ShutterTime)
	background := h(facts.BackgroundDistance) - facts.Entrance(&j.Facts.Value)
	reach := h(facts.FrameReach)
	list := make([]Moment, moments)
	for i := range list {
		share := float64(i) / (moments - 1)
		s := path.At(share)
		m := Moment{
			Share: share, Time: share * path.Duration(), Distance: s.Distance,
			Fill: reach / facts.FieldDistance(&j.Facts.Value, s.Distance),
		}
		m.Subject = m.Fill * motion.EdgeRate(s.Closing, facts.PupilDistance(&j.Facts.Value, s.Distance))
		m.Background = max(
			1/facts.CrossingAt(&j.Facts.Value, s.Turn, s.Sweep),
			motion.EdgeRate(s.Advance, background),
		)
		m.Blur = shutter * m.Background
		list[i] = m
	}
	return list
}
