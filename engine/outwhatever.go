package engine

import (
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
)

// givenBy holds the facts that a figure of a lens gives, by its keyword. The thread gives none: it
// says which filters go on.
var givenBy = map[string]facts.Set{
	"transmission": facts.SetOf(facts.WidestT),
	"aperture":     facts.SetOf(facts.SmallestStop),
	"close_focus":  facts.SetOf(facts.CloseFocus, facts.Breathing), // with the magnification it tells the breathing
	"pupil":        facts.SetOf(facts.Pupil, facts.Breathing),
	"breathing":    facts.SetOf(facts.Breathing),
	"circle":       facts.SetOf(facts.ImageCircle),
	"distortion":   facts.SetOf(facts.Bending),
	"falloff":      facts.SetOf(facts.CornerFalloff),
	"mass":         facts.SetOf(facts.LensMass),
	"length":       facts.SetOf(facts.LensLength),
	"thread":       {},
}

// moving gives all facts that change with some assumed figures; false where that is not told.
func (t *Table) moving(figures []int) (all facts.Set, ok bool) {
	for _, i := range figures {
		a := &t.Scenario.Assumed[i]
		given, ok := givenBy[a.Keyword]
		if a.Of != brief.OfLens || !ok {
			return all, false
		}
		all = all.Or(given)
	}
	return all.Or(facts.After(all.IDs()...)), true
}

// outWhatever reports that a lens is out of a shot whatever some figures are, because what excludes
// it hangs on none of them. Without that proof it gives false.
func (t *Table) outWhatever(shot, lens int, figures []int) bool {
	if t.outcomes[shot][lens].Standing != Excluded {
		return false
	}
	besides, ok := t.moving(figures)
	if !ok {
		return false
	}
	g, st := t.at(lens).in(t.staged[shot].shot), t.staged[shot].of(t.glass[lens])
	j := judges.Get().(*judge)
	defer judges.Put(j)
	out := func(r *facts.Record) bool {
		facts.TakeLens(&j.record, r, &g.record)
		for i := range g.ways {
			if !j.search.OutBesides(st.shot.Task, &j.record, &g.ways[i].optics, besides) {
				return false
			}
		}
		return true
	}
	if st.shot.Room == nil {
		return out(&st.record)
	}
	for i := range st.stands {
		if !out(&st.stands[i].record) {
			return false
		}
	}
	return true
}
