package rig

import (
	"math"

	"glassbrief/catalog"
	"glassbrief/engine/balance"
)

// A Trim is how the set-ups of a kit are trimmed together: with one place to bolt the camera and
// the same plates where possible, so that changes are short.
type Trim struct {
	plates [2]int  // upright and in low mode; -1 where each set-up has the fewest that it can
	middle float64 // of the camera's flange behind the middle of the stage, m; NaN when no centre of mass is known
	travel float64 // of the stage either way, m; +Inf when not known
}

// Together trims the set-ups that a kit can have. Those on legs are left out.
func Together(rig *catalog.Rig, setups []*Setup) Trim {
	t := Trim{middle: math.NaN(), travel: rig.StageTravel.Or(math.Inf(1))}
	least, most := math.Inf(1), math.Inf(-1)
	for _, u := range setups {
		if u.Placed && !u.OnLegs {
			least, most = min(least, u.Payload.Forward), max(most, u.Payload.Forward)
		}
	}
	if least <= most {
		t.middle = (least + most) / 2
	}
	for i, inverted := range []bool{false, true} {
		t.plates[i] = platesForAll(setups, inverted)
	}
	return t
}

// platesForAll gives the fewest plates that trim every set-up that can be trimmed at all, -1 when
// there is none or no plates do.
func platesForAll(setups []*Setup, inverted bool) int {
	plates := -1
	for i := 0; i < len(setups); i++ {
		u := setups[i]
		if u.Inverted != inverted || u.fewest() < 0 {
			continue
		}
		if plates < 0 {
			plates = u.fewest()
		}
		if u.within(plates) {
			continue
		}
		for plates += 2; plates/2 < len(u.posts) && !u.within(plates); plates += 2 {
		}
		if plates/2 >= len(u.posts) {
			return -1
		}
		i = -1 // more plates: are they right for all before?
	}
	return plates
}

// Of gives plates and post of a set-up; false when nothing brings the drop time into the window.
func (t *Trim) Of(u *Setup) (plates int, post float64, ok bool) {
	plates = t.plates[0]
	if u.Inverted {
		plates = t.plates[1]
	}
	if fewest := u.fewest(); fewest < 0 {
		return 0, math.NaN(), false
	} else if plates < 0 || !u.within(plates) {
		plates = fewest
	}
	return plates, u.posts[plates/2], true
}

// Balance gives the state of the rig with a set-up; false as [Trim.Of] does.
func (t *Trim) Balance(u *Setup) (balance.Trim, bool) {
	plates, post, ok := t.Of(u)
	if !ok {
		return balance.Trim{Post: math.NaN(), Mass: math.NaN(), Offset: math.NaN(), Inertia: math.NaN(), Drop: math.NaN()}, false
	}
	return u.Sled.At(u.OnStage(), plates, post), true
}

// Bolt gives the place of the camera that goes over the middle of the stage, behind the lens
// flange, one for all set-ups; NaN when no centre of mass is known.
func (t *Trim) Bolt() float64 { return -t.middle }

// Shift gives how far the stage goes forward from its middle with a set-up, and how far it would
// have to if its travel did not end. Both are NaN when that is not known, and on legs.
func (t *Trim) Shift(u *Setup) (shift, wanted float64) {
	if !u.Placed || u.OnLegs {
		return math.NaN(), math.NaN()
	}
	wanted = t.middle - u.Payload.Forward
	return max(-t.travel, min(t.travel, wanted)), wanted
}
