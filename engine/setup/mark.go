package setup

import (
	"math"

	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
)

// A mark is a way to place the focus.
type mark struct {
	from    float64 // from the sensor plane, in metres
	follows bool    // whoever focuses keeps it on the subject
}

// marksOf adds to list the marks that are worth trying at the stop of a record: balanced over
// the plan, balanced from the nearest subject to the background, and, where somebody or the
// camera focuses, on the subject wherever it is. These are solved and not searched: the best
// balance of reserve has a closed form, which moves smoothly with the brief. [Search.better]
// looks for one that the rules like more.
//
// No mark lies nearer than the lens focuses, which is the mark where no thin lens forms an image of
// the subject.
func marksOf(list []mark, v *facts.Values) []mark {
	focal, closest := v[facts.FocalLength], v[facts.CloseFocus]
	near, far := v[facts.NearFromLens], v[facts.FarFromLens]
	add := func(from float64, follows bool) {
		if from < closest { // false when the closest focus is not known
			from = closest
		}
		for _, m := range list {
			if m.from == from && m.follows == follows {
				return
			}
		}
		list = append(list, mark{from, follows})
	}
	switch stop, confusion := v[facts.Stop], v[facts.Confusion]; {
	case math.IsNaN(near): // no thin lens focuses as near as that
		add(closest, false)
	case math.IsNaN(stop):
		add(facts.SensorDistance(v, optics.FocusMark(near, far)), false)
	default:
		behind := v[facts.SubjectNear] - near // nearly the same at all distances
		plan := optics.BalancedMark(focal, stop, confusion, near, far, behind)
		add(facts.SensorDistance(v, min(max(plan, near), far)), false)
		deep := optics.BalancedMark(focal, stop, confusion, near, max(far, facts.LensDistance(v, v[facts.BackgroundDistance])), behind)
		add(facts.SensorDistance(v, max(deep, near)), false)
	}
	if v[facts.FocusFixed] == 0 {
		add(v[facts.SubjectNear], true)
	}
	return list
}
