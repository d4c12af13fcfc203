package engine

import "glassbrief/engine/facts"

// A FocusNeed is what focus should hold in a set-up, as distances from the sensor plane: the
// subject over the whole move, or at its nearest where the focus follows it, and that with the
// reserve that is comfortable.
type FocusNeed struct {
	Near, Far   float64
	WithReserve [2]float64 // nearest and farthest
}

// FocusNeed gives what the focus should hold.
func (j *Judgement) FocusNeed() FocusNeed {
	need := FocusNeed{Near: j.Fact(facts.SubjectNear), Far: j.Fact(facts.SubjectFar)}
	if j.Fact(facts.Following) == 1 {
		need.Far = need.Near
	}
	reserve := j.Fact(facts.ReserveWanted)
	need.WithReserve = [2]float64{need.Near * (1 - reserve), need.Far * (1 + reserve)}
	return need
}
