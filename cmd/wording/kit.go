package wording

import (
	"fmt"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

// Limits says what the computation leaves out, and what comes before it.
const Limits = "Computed for a thin lens from the figures of the catalogue; a lens test tells more. " + Closing

// Kit names camera, rig and lenses, and how many figures of them and of the shots are assumed.
func Kit(r *engine.Recommendation) string {
	if len(r.Kit.Lenses) == 0 {
		return fmt.Sprintf("On %s with %s no lens that the limits allow does any shot.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value)
	}
	return fmt.Sprintf("On %s with %s: %s%s.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value, List(r.Kit.Lenses, "and"), assumed(r.Scenario, r.Camera, r.Kit.Lenses))
}

// Bring says the answer in a few sentences; rests is nil where nothing is known of how far it hangs
// on assumed figures.
func Bring(r *engine.Recommendation, rests *sure.Figures, p lang.Printer) string {
	k := &r.Kit
	var b strings.Builder
	if len(k.Lenses) == 0 {
		fmt.Fprintf(&b, "On %s with %s, no lens that the limits allow does any shot. Not covered: %s.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value, List(k.Uncovered, "and"))
	} else {
		fmt.Fprintf(&b, "On %s with %s, bring %s%s.", r.Camera.Name.Value, r.Scenario.Rig.Name.Value, List(k.Lenses, "and"), HowSure(rests))
		b.WriteString(" " + Wholeness(r))
		score, mass := KitScore(r, k), KitMass(r, k, p)
		if r.KitRests(k) {
			score += " (" + Hundredths(r.KitSpan()) + ")"
		}
		if s := r.MassSpan(k.Lenses); s.Low < s.High {
			mass += " (" + p.Quantity(s.Low, "g") + " to " + p.Quantity(s.High, "g") + ")"
		}
		fmt.Fprintf(&b, " Score %s; %s in shooting order; %s of glass", score, Counted(k.Swaps, "lens change"), mass)
		if k.Cost > 0 {
			fmt.Fprintf(&b, "; %s a day", p.Quantity(k.Cost, r.Scenario.Limits.Currency))
		}
		b.WriteString(".")
	}
	if !r.Proven {
		b.WriteString(cutShort(r))
	}
	return b.String()
}

// cutShort says what a search that was cut short leaves open.
func cutShort(r *engine.Recommendation) string {
	switch {
	case r.CoverGap > 0:
		return fmt.Sprintf(" The search was cut short: another kit might cover shots of a weight of %.3g more.", r.CoverGap)
	case r.Gap > 0:
		return fmt.Sprintf(" The search was cut short: no kit can score more than %s.", Tilde(r.KitRests(&r.Kit))+hundredths(r.Kit.Mean+r.Gap))
	}
	return " The search was cut short: another kit may be as good, with fewer lens changes or less mass."
}
