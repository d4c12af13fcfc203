package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// Doubt says what a shot lacks of being good and whole, "" for nothing.
func Doubt(shot *engine.ShotAnswer, p lang.Printer) string {
	j := shot.Use
	if j == nil {
		text := engine.Out.String() + ": no lens of the kit does it"
		if len(shot.Ranking) > 0 {
			text += ". " + nearest(&shot.Ranking[0], p)
		}
		return text
	}
	return DoubtOf(j, p)
}

// DoubtOf says what a lens that may be brought lacks of doing a shot well and whole, "" for
// nothing.
func DoubtOf(j *engine.Judgement, p lang.Printer) string {
	var said []string
	parts, weakest := j.InPart(), j.Weakest()
	for i := range parts {
		said = append(said, Part(&parts[i], j, p))
		if weakest != nil && parts[i].Criterion == weakest.Name {
			weakest = nil
		}
	}
	if weakest != nil {
		said = append(said, weakest.Name+saidBy(weakest, p))
	}
	if said == nil {
		return ""
	}
	verdict := j.Verdict().String()
	if parts != nil {
		verdict += ", in part"
	}
	return verdict + ": " + strings.Join(said, "; ")
}

// Part says what of a shot is not done whole, and where.
func Part(p *engine.Part, j *engine.Judgement, printer lang.Printer) string {
	switch p.Aspect {
	case engine.Framing:
		return "framing " + atEnds(p, "tight", "loose") + held(p)
	case engine.Focus:
		return "focus " + atEnds(p, "soft", "") + held(p)
	case engine.Light:
		if p.Near < 0 {
			return printer.Quantity(-p.Near, "stops") + " too dark"
		}
		return printer.Quantity(p.Near, "stops") + " too bright"
	case engine.Steadiness:
		return "the picture swims by " + Fact(j, facts.Swing, printer) + " of its width"
	}
	return p.In(printer)
}

// toldOff is by how much an end must be off to be named.
const toldOff = 0.02

// atEnds says how a part is off, by words for above and below nothing, and at which end.
func atEnds(p *engine.Part, above, below string) string {
	word := func(off float64) string {
		switch {
		case off > toldOff:
			return above
		case off < -toldOff:
			return below
		}
		return ""
	}
	near, far := word(p.Near), word(p.Far)
	switch {
	case near == "" && far == "":
		return word(math.Copysign(1, p.Near+p.Far)) + " by a trace"
	case math.IsNaN(p.Held) && near == far:
		return near
	case near == far:
		return near + " at both ends"
	case far == "":
		return near + " at the near end"
	case near == "":
		return far + " at the far end"
	}
	return near + " at the near end, " + far + " at the far end"
}

// held says over how much of the way a part holds, "" where it is none or that says nothing.
func held(p *engine.Part) string {
	if !(p.Held >= 0.005) {
		return ""
	}
	return fmt.Sprintf(", held over %s of the way", Share(p.Held))
}

// Wholeness says how many shots are done whole, and which are not.
func Wholeness(r *engine.Recommendation) string {
	var parts, poor []string
	whole := 0
	for i := range r.Shots {
		id, j := r.Shots[i].Shot.ID, r.Shots[i].Use
		switch {
		case j == nil:
			continue
		case j.Whole():
			whole++
		default:
			parts = append(parts, id)
		}
		if j.Verdict() == engine.Poor {
			poor = append(poor, id)
		}
	}
	var text string
	switch {
	case whole == len(r.Shots):
		text = [...]string{1: "The shot is", 2: "Both shots are", 3: fmt.Sprintf("All %d shots are", whole)}[min(whole, 3)] + " whole."
	default:
		text = strings.Replace(Counted(whole, "shot"), "0 ", "No ", 1) + " whole"
		if parts != nil {
			text += fmt.Sprintf(", %d in part: %s", len(parts), List(parts, "and"))
		}
		text += "."
	}
	if poor != nil {
		text += " Poor: " + List(poor, "and") + "."
	}
	if len(r.Kit.Uncovered) > 0 {
		text += " Not covered: " + List(r.Kit.Uncovered, "and") + "."
	}
	return text
}
