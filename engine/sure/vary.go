package sure

import (
	"math"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/kit"
)

// An Input is a figure of a shot that may turn out otherwise.
type Input uint8

const (
	Distance Input = iota // of a subject that stays at one
	Nearest               // the near end of distances that differ
	Farthest              // the far end
	Light
	Subject // its size
	Weight
	inputs // how many there are
)

// String names the input as a scenario does.
func (i Input) String() string {
	return [inputs]string{"distance", "nearest distance", "farthest distance", "light", "subject", "weight"}[i]
}

// tolerance gives how far the input of a shot may vary: a share, or stops for light. It is 0 for what
// the shot does not have, for distances where the camera stands free in a room, and for light that is
// assumed, which has a range instead.
func (i Input) tolerance(shot *brief.Shot, t brief.Tolerances) float64 {
	switch {
	case i <= Farthest && shot.Room != nil, i == Light && !shot.Metered():
		return 0
	case i == Distance && shot.Near != shot.Far, (i == Nearest || i == Farthest) && shot.Near == shot.Far:
		return 0
	case i <= Farthest:
		return t.Distance
	}
	return [inputs]float64{Light: t.Light, Subject: t.Subject, Weight: t.Weight}[i]
}

// turned gives a shot whose figures are off by shares, and by stops of light. Where the ends of its
// distances would cross, the nearer of them is the near one.
func turned(shot *brief.Shot, by [inputs]float64) *brief.Shot {
	changed := *shot
	near, far := shot.Near*(1+by[Distance]+by[Nearest]), shot.Far*(1+by[Distance]+by[Farthest])
	changed.Place(min(near, far), max(near, far))
	changed.Light *= math.Exp2(by[Light])
	changed.Subject.Width.Value *= 1 + by[Subject]
	changed.Subject.Height.Value *= 1 + by[Subject]
	changed.Weight = min(shot.Weight*(1+by[Weight]), kit.MaxWeight)
	return &changed
}

// A Cause is what may turn out otherwise than the brief has it: an input of a shot, or an assumed
// figure.
type Cause struct {
	Shot   string
	Input  Input
	Figure *brief.Assumption // nil for an input

	place     int // of the shot or of the figure, in the scenario
	tolerance float64
}

// causesOf lists what may turn out otherwise in the brief of a table, the inputs of the shots first.
func causesOf(t *engine.Table) (all []Cause) {
	s := t.Scenario
	for i, shot := range s.Shots {
		for input := range inputs {
			if tolerance := input.tolerance(shot, s.Tolerances); tolerance > 0 {
				all = append(all, Cause{Shot: shot.ID, Input: input, place: i, tolerance: tolerance})
			}
		}
	}
	for _, i := range t.Assumed() {
		all = append(all, Cause{Figure: &s.Assumed[i], place: i})
	}
	return all
}

// near gives the table of a brief in which every cause is off at once, each to its place from -1 to 1 of
// what it may be, with 0 for what the brief has.
func near(t *engine.Table, causes []Cause, place func(cause int) float64) *engine.Table {
	by := make([][inputs]float64, len(t.Scenario.Shots))
	drawn := map[int]float64{} // by the places of the figures
	for k, c := range causes {
		if c.Figure != nil {
			drawn[c.place] = place(k)
		} else {
			by[c.place][c.Input] = c.tolerance * place(k)
		}
	}
	values := brief.Values{}
	if len(drawn) > 0 {
		all := t.Scenario.Draw(func(i int) float64 { return drawn[i] })
		for i := range drawn {
			values[i] = all[i]
		}
	}
	return t.Otherwise(values, func(shots []*brief.Shot) []*brief.Shot {
		others := make([]*brief.Shot, len(shots))
		for i, shot := range shots {
			others[i] = turned(shot, by[i])
		}
		return others
	})
}

// alone gives the table of a brief in which nothing but the cause is off.
func (c *Cause) alone(t *engine.Table, place float64) *engine.Table {
	if c.Figure != nil {
		return t.Under(brief.Values{c.place: c.Figure.At(place)})
	}
	return off(t, c.place, c.Input, c.tolerance*place)
}

// off gives the table of a brief in which one input of one shot is off by a share, or by stops of light.
func off(t *engine.Table, shot int, input Input, share float64) *engine.Table {
	var by [inputs]float64
	by[input] = share
	changed := turned(t.Scenario.Shots[shot], by)
	if input == Weight {
		return t.Weighing(shot, changed.Weight)
	}
	return t.WithShot(shot, changed)
}
