package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
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
	return OfLens(j, func(j *engine.Judgement) string { return DoubtOf(j, p) })
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
		said = append(said, lack(weakest, j, p))
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

// lack says what a criterion wants of a lens: what its limits leave undone, or else what the rules
// say of its score, if they have words for it.
func lack(f *rules.Finding, j *engine.Judgement, p lang.Printer) string {
	var parts []string
	for _, part := range j.InPart() {
		if part.Criterion == f.Name {
			parts = append(parts, Part(&part, j, p))
		}
	}
	if parts != nil {
		return strings.Join(parts, "; ")
	}
	if f.Lacking != nil {
		return f.Lacking.In(p)
	}
	return fmt.Sprintf("%s scores %s%s", f.Name, worth(f), strings.Replace(saidBy(f, p), ": ", ", ", 1))
}

// Part says what of a shot is not done whole, and where.
func Part(p *engine.Part, j *engine.Judgement, printer lang.Printer) string {
	switch p.Aspect {
	case engine.Framing:
		return "framing " + atEnds(p, engine.FramingSlack, "tight", "loose") + held(p)
	case engine.Focus:
		return "focus " + atEnds(p, toldOff, "soft", "") + held(p)
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

// toldOff is by how much the focus of an end must be off for the end to be named.
const toldOff = 0.02

// atEnds says how a part is off, by words for above and below nothing, and at which end: one that
// is off by less than is told is not named.
func atEnds(p *engine.Part, told float64, above, below string) string {
	word := func(off float64) string {
		switch {
		case off > told:
			return above
		case off < -told:
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

// Wholeness says how many shots are done whole and no worse than fair, and how the others are.
func Wholeness(r *engine.Recommendation) string {
	var parts, poorParts, poor []string
	asked := 0
	for i := range r.Shots {
		id, j := r.Shots[i].Shot.ID, r.Shots[i].Use
		if j == nil {
			continue
		}
		switch isPoor := j.Verdict() == engine.Poor; {
		case isPoor && j.Whole():
			poor = append(poor, id)
		case isPoor:
			poorParts = append(poorParts, id)
		case j.Whole():
			asked++
		default:
			parts = append(parts, id)
		}
	}
	var others []string
	for _, other := range []struct {
		ids []string
		how string
	}{{parts, "in part"}, {poorParts, "in part and poorly"}, {poor, "only poorly"}, {r.Kit.Uncovered, "not at all"}} {
		if other.ids != nil {
			others = append(others, shotList(other.ids)+" "+other.how)
		}
	}
	all := [...]string{1: "The shot", 2: "Both shots", 3: fmt.Sprintf("All %d shots", asked)}
	switch n := len(r.Shots); {
	case asked == n:
		return all[min(n, 3)] + " can be done as asked."
	case asked == 0:
		return "No shot can be done as asked: " + List(others, "and") + "."
	default:
		return fmt.Sprintf("%d of %d shots can be done as asked, %s.", asked, n, List(others, "and"))
	}
}
