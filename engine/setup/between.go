package setup

import (
	"math"

	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
)

// Two marks are solved for a stop: one balanced over the plan, one from there to the background.
// Where rules weigh the one against the other, a mark between or beyond them may score better
// than both, and a lens that focuses no nearer than there would be set to it. So the best of all
// is looked for from the better of the two.

// hopeless is the share of the best product below which no better mark is looked for at a stop. A
// product is a high power of a score, so that this is a twentieth of a score and more.
const hopeless = 0.2

// narrowings is how often the stretch in which the best mark lies is made shorter, by the golden
// ratio: so often that no more digits of a score change.
const narrowings = 32

// Once a stretch is a hundredth of what it was, what is nearClose to worth enough no longer comes up
// to it in what is left of the stretch.
const (
	early     = 10
	nearClose = 0.99
)

// beside is the share of a stretch at the end of which it shows whether the worth rises into it.
const beside = 1.0 / 16

// better looks for a mark that is worth more, by what the rules read of stop and mark, than one
// or two that are solved and do not follow. One that is worth less than enough is of no use.
func (s *Search) better(t *Task, solved []mark, worth []float64, enough float64) (best mark, most float64, ok bool) {
	v := &s.record.Value
	least := 0.0
	at := func(turn float64) float64 { return s.worthAt(t, mark{from: 1 / turn}, least) }
	// In turns of the focus ring, which go with 1/distance.
	from, end := 1/solved[0].from, worth[0]
	to := from
	if len(solved) > 1 {
		to, end = 1/solved[1].from, max(worth[0], worth[1])
	}
	if end == 0 || s.lenient > 0 { // no mark is looked for only to say why a lens is excluded
		return best, 0, false
	}
	least = end // what is no better need not be known
	stretch := func(from, to float64) bool { return at(from+(to-from)*beside) > end }
	middle := (from + to) / 2
	low, high, top := to, from, 0.0
	if to < from {
		top = at(middle)
	}
	switch {
	case top > end:
	case to < from && worth[0] >= worth[1]:
		if !stretch(from, middle) {
			return best, 0, false
		}
		low = middle
	case to < from && stretch(to, middle):
		high = middle
	default:
		// Beyond the hyperfocal distance nothing more becomes sharp.
		low, high = 1/facts.SensorDistance(v, optics.Hyperfocal(v[facts.FocalLength], v[facts.Stop], v[facts.Confusion])), to
		if !(low < high) || !stretch(high, low) {
			return best, 0, false
		}
	}
	least = 0
	best.from, most = narrow(at, low, high, enough)
	if top > most {
		best.from, most = 1/middle, top
	}
	return best, most, most > end
}

// narrow finds the best mark of a stretch of turns over which the worth rises and then falls.
func narrow(at func(turn float64) float64, low, high, enough float64) (mark, worth float64) {
	golden := (math.Sqrt(5) - 1) / 2
	a, b := high-golden*(high-low), low+golden*(high-low)
	atA, atB := at(a), at(b)
	for n := range narrowings {
		if n == early && max(atA, atB) < enough*nearClose {
			break
		}
		if atA > atB {
			high, b, atB = b, a, atA
			a = high - golden*(high-low)
			atA = at(a)
		} else {
			low, a, atA = a, b, atB
			b = low + golden*(high-low)
			atB = at(b)
		}
	}
	if atA > atB {
		return 1 / a, atA
	}
	return 1 / b, atB
}

// worthAt gives what a mark leaves of the product at the stop of the record, or no more than least
// where it leaves no more.
func (s *Search) worthAt(t *Task, m mark, least float64) float64 {
	s.record.Set(facts.FocusMark, m.from)
	s.record.SetTruth(facts.Following, m.follows)
	facts.Refill(&s.record, t.optics)
	return t.parts.Factor(byOptics, &s.record, &s.known, s.lenient, least)
}

// worthOf gives what each of some marks leaves, and those that do not follow, which stand first.
func (s *Search) worthOf(t *Task, marks []mark, least float64) (worth []float64, fixed []mark) {
	s.worth, fixed = s.worth[:0], marks
	for i, m := range marks {
		s.worth = append(s.worth, s.worthAt(t, m, least))
		if m.follows {
			fixed = marks[:i]
		}
	}
	return s.worth, fixed
}
