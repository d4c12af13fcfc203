package sure

import (
	"glassbrief/engine"
)

// A trial is what becomes of a kit in one nearby brief.
type trial struct {
	best engine.Kit // that the limits allow in the brief; without lenses where they allow none
	own  engine.Kit // the kit, or what of it keeps within the limits
}

// tryKit tries a kit in the brief of a table. With other masses of its lenses it may be too heavy for
// the bag; then the best of its lenses that are not come along.
func tryKit(t *engine.Table, kit *engine.Kit, o engine.Options) (tried trial) {
	limits := &t.Scenario.Limits
	choice, err := t.Choose(*limits, o)
	if err != nil { // what must come is too heavy, and there is no kit at all
		return tried
	}
	tried.best = choice.Kit
	if tried.own = t.Kit(kit.Lenses); limits.BagMass == 0 || tried.own.Mass <= limits.BagMass {
		return tried
	}
	ours := make([]bool, len(t.Lenses()))
	for _, lens := range kit.Lenses {
		ours[t.Place(lens)] = true
	}
	if choice, err = t.Only(ours).Choose(*limits, o); err != nil {
		tried.own = t.Kit(nil)
	} else {
		tried.own = choice.Kit
	}
	return tried
}

// covers reports whether the kit does all that it does in the brief itself.
func (t *trial) covers(kit *engine.Kit) bool {
	for i := range kit.Uses {
		if kit.Uses[i] != "" && used(&t.own, i) == nil {
			return false
		}
	}
	return true
}

// outdone reports whether another kit leaves less undone.
func (t *trial) outdone() bool { return t.best.Left < t.own.Left-rounding }

// loss gives what the kit is worth less than the best one. Where that does shots that this kit does not,
// and the others no better, the loss is told by what is covered, and there is none of value.
func (t *trial) loss() float64 {
	if loss := t.best.Value - t.own.Value; loss > rounding {
		return loss
	}
	return 0
}

// rounding is what a choice of kits in whole numbers may be off by, in values and weights.
const rounding = 1e-9
