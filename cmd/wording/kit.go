package wording

import (
	"fmt"
	"math"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

// Limits says what the computation leaves out, and what comes before it.
const Limits = "Computed from the figures of the catalogue, with the depth of field of a thin lens; a lens test tells more. " + Closing

// Kit names camera, rig and lenses, and how many figures of them and of the shots are assumed.
func Kit(r *engine.Recommendation) string {
	if len(r.Kit.Lenses) == 0 {
		return fmt.Sprintf("On %s with %s no lens that the limits allow does any shot.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value)
	}
	return fmt.Sprintf("On %s with %s: %s%s.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value, List(r.Kit.Lenses, "and"), assumed(r.Scenario, r.Camera, r.Kit.Lenses))
}

// OneDay says that a kit and its set-ups are those of one unit in one day where the scenario has several,
// "" where it has not.
func OneDay(s *brief.Scenario) string {
	if len(s.Days)+len(s.Units) == 0 {
		return ""
	}
	return "All shots as of one unit in one day: \"glassbrief days\" plans days and units."
}

// Bring says the answer: the lenses, what they go on, how far that rests on assumed figures, and how
// the shots are done with them. rests is nil where nothing is known of how far it rests on any.
func Bring(r *engine.Recommendation, rests *sure.Figures) string {
	k := &r.Kit
	text := ""
	if len(k.Lenses) == 0 {
		text = fmt.Sprintf("On %s with %s, no lens that the limits allow does any shot. Not covered: %s.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value, List(k.Uncovered, "and"))
	} else {
		text = fmt.Sprintf("Bring %s on %s with %s%s. %s", List(k.Lenses, "and"), r.Camera.Name.Value, r.Scenario.Rig.Name.Value, HowSure(rests), Wholeness(r))
	}
	return text + CutShort(r)
}

// InAll gives the score of the kit, its mass and what it costs, "" for no kit.
func InAll(r *engine.Recommendation, p lang.Printer) string {
	k := &r.Kit
	if len(k.Lenses) == 0 {
		return ""
	}
	score, mass := KitScore(r, k), KitMass(r, k, p)
	if r.KitRests(k) {
		score += " (" + Hundredths(r.KitSpan()) + ")"
	}
	if s := r.MassSpan(k.Lenses); s.Low < s.High {
		mass += " (" + p.Quantity(s.Low, "g") + " to " + p.Quantity(s.High, "g") + ")"
	}
	text := fmt.Sprintf("Score %s; %s of glass", score, mass)
	if k.Cost > 0 {
		text += "; " + p.Quantity(k.Cost, r.Scenario.Limits.Currency) + " a day"
	}
	return text + "."
}

// CutShort says what a search that was cut short leaves open, "" of one that was not.
func CutShort(r *engine.Recommendation) string {
	switch {
	case r.Proven:
		return ""
	case r.CoverGap > 0:
		return fmt.Sprintf(" The search was cut short: another kit might cover shots of a weight of %.3g more.", r.CoverGap)
	case r.Gap > 0 && r.Scenario.Prices.Change > 0:
		return fmt.Sprintf(" The search was cut short: no kit can be better by more than %.2g of the score, or %s minutes of changes.", r.Gap, halfMinutes(math.Ceil(2*r.GapMinutes)/2))
	case r.Gap > 0:
		return fmt.Sprintf(" The search was cut short: no kit can score more than %s.", Tilde(r.KitRests(&r.Kit))+hundredths(r.Kit.Mean+r.Gap))
	}
	return " The search was cut short: another kit may be as good, with fewer lens changes or less mass."
}
