package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/audit"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// HireOverDays says what all hire costs by the plan of the days.
func HireOverDays(r *audit.Answer, p lang.Printer) string {
	plan := r.Days.Plan
	text := "By the plan of \"glassbrief days\" nothing is hired."
	switch {
	case math.IsNaN(plan.Cost):
		text = "What all hire costs is not known: a lens that is brought has no price."
	case len(plan.Hire) > 0:
		text = fmt.Sprintf("All hire by the plan of \"glassbrief days\": %s.", p.Quantity(plan.Cost, r.Limits.Currency))
	}
	if !plan.Proven {
		text += " The search for that plan was cut short."
	}
	return text
}

// Audit answers the producer in a few sentences.
func Audit(r *audit.Answer, p lang.Printer) string {
	var b strings.Builder
	on := fmt.Sprintf("On %s with %s, ", r.Camera.Name.Value, r.Scenario.Rig.Name.Value)
	rests := assumed(r.Scenario, r.Camera, r.House.Lenses)
	short := 0
	for i := range r.Shots {
		if r.Shots[i].Verdict == audit.Compromise {
			short++
		}
	}
	switch failing := r.House.Uncovered; {
	case len(failing) == 0 && r.Hire == nil && len(r.TooBright) > 0:
		fmt.Fprintf(&b, "%sthe glass of the house does every shot, and its filters do not: with %s, %s %s too much light%s.",
			on, List(r.House.Lenses, "and"), shotList(r.TooBright), verb(len(r.TooBright), "gets", "get"), rests)
	case len(failing) == 0:
		fmt.Fprintf(&b, "%sthe glass of the house suits: bring %s%s.", on, List(r.House.Lenses, "and"), rests)
	case len(r.House.Lenses) == 0:
		fmt.Fprintf(&b, "%sthe house has no glass for any shot.", on)
	default:
		fmt.Fprintf(&b, "%sthe glass of the house does not suit: with %s, %s %s%s.",
			on, List(r.House.Lenses, "and"), shotList(failing), verb(len(failing), "fails", "fail"), rests)
	}
	if short > 0 {
		fmt.Fprintf(&b, " %s %s with a compromise.", Counted(short, "shot"), verb(short, "passes", "pass"))
	}
	for i := range r.Filters {
		f := &r.Filters[i]
		fmt.Fprintf(&b, " Bring or hire %s: %s %s it on %s.",
			Filter(f.Thread, f.Stops, p), shotList(r.IDs(f.Shots)), verb(len(f.Shots), "wants", "want"), List(f.Lenses, "or"))
	}
	if r.Hire != nil {
		fmt.Fprintf(&b, " Hire %s %s and bring %s: ", List(names(r.Hire.Lenses), "and"),
			aDay(r.Hire.Kit.Cost, r.Limits.Currency, p), List(r.Hire.Kit.Lenses, "and"))
		if len(r.Hire.Kit.Uncovered) == 0 {
			b.WriteString("every shot passes.")
		} else {
			fmt.Fprintf(&b, "all pass but %s.", shotList(r.Hire.Kit.Uncovered))
		}
	}
	if r.Beyond != nil {
		fmt.Fprintf(&b, " The limit of %s a day stands in the way: %s for %s would leave %s.", p.Quantity(r.Limits.Rent, r.Limits.Currency),
			List(names(r.Beyond.Lenses), "and"), p.Quantity(r.Beyond.Kit.Cost, r.Limits.Currency), none(r.Beyond.Kit.Uncovered))
	}
	if r.Better != nil && hundredths(r.Better.Kit.Mean) != hundredths(r.Best().Mean) {
		fmt.Fprintf(&b, " The best within the limits is %s at %s a day, with a score of %s instead of %s.", List(r.Better.Kit.Lenses, "and"),
			p.Quantity(r.Better.Kit.Cost, r.Limits.Currency), Tilde(r.KitRests(&r.Better.Kit))+hundredths(r.Better.Kit.Mean), Tilde(r.KitRests(r.Best()))+hundredths(r.Best().Mean))
	}
	if r.Hire == nil && r.Beyond == nil && len(r.House.Uncovered) > 0 && !r.Limits.OwnedOnly {
		if slices.ContainsFunc(r.Offers(), func(o audit.OfferFor) bool { return math.IsNaN(o.DayRate) }) {
			b.WriteString(" No lens for hire with a known price helps.")
		} else {
			b.WriteString(" No lens for hire helps.")
		}
	}
	return b.String()
}

// aDay says what a kit costs a day.
func aDay(cost float64, currency string, p lang.Printer) string {
	if math.IsNaN(cost) {
		return "at a price that is not known"
	}
	return "for " + p.Quantity(cost, currency) + " a day"
}

func verb(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// Autofocused says of the lenses that are missing which the camera must be able to focus, "" for none.
func Autofocused(r *audit.Answer) string {
	var shots []string
	for i := range r.Shots {
		if s := &r.Shots[i]; s.Window != nil && s.Shot.Focus == facts.Auto {
			shots = append(shots, s.Shot.ID)
		}
	}
	if shots == nil {
		return ""
	}
	return "For " + shotList(shots) + " the camera must be able to focus the lens."
}

func none(shots []string) string {
	if len(shots) == 0 {
		return "no shot undone"
	}
	return shotList(shots) + " undone"
}

func names(offers []audit.Offer) []string {
	var all []string
	for _, offer := range offers {
		all = append(all, offer.Lens)
	}
	return all
}

// Verdict says what a verdict on a shot rests on.
func Verdict(r *audit.Answer, v *audit.ShotVerdict, p lang.Printer) string {
	if v.Use == nil {
		return verdict(r, v, p)
	}
	return OfLens(v.Use, func(j *engine.Judgement) string {
		if j == v.Use {
			return verdict(r, v, p)
		}
		return verdict(r, v.With(j), p)
	})
}

func verdict(r *audit.Answer, v *audit.ShotVerdict, p lang.Printer) string {
	var said []string
	for i := range v.Compromises {
		f := &v.Compromises[i]
		if len(f.Unknown) > 0 {
			said = append(said, fmt.Sprintf("%s cannot be judged: not known %s %s", f.Name, verb(len(f.Unknown), "is", "are"), List(f.Unknown, "and")))
			continue
		}
		said = append(said, fmt.Sprintf("%s (%s %s)", lack(f, v.Use, p), f.Name, worth(f)))
	}
	switch {
	case v.Able != nil:
		said = append(said, fmt.Sprintf("%s %s it, and %s may be carried", List(v.Able, "or"), verb(len(v.Able), "does", "do"), Counted(r.Limits.Carry, "lens")))
	case v.Blocks != nil && v.Filter == nil:
		said = append(said, "no lens could do it as it is: "+strings.Join(Vetoes(v.Blocks, p), "; "))
	case v.Verdict == audit.Fails:
		said = append(said, "no lens of the house does it")
	}
	if v.Rescue != nil && v.Rescue.Nearest != nil {
		said = append(said, Nearest(v.Rescue, p))
	}
	if f := v.Filter; f != nil {
		said = append(said, fmt.Sprintf("with %s, %s would do it", Filter(f.Thread, f.Stops, p), f.Lens))
	}
	return strings.Join(said, "; ")
}

// Filter names an ND filter to bring by its strength and thread.
func Filter(thread, stops float64, p lang.Printer) string {
	return fmt.Sprintf("an ND of %s for the %s thread", p.Quantity(stops, "stops"), p.Quantity(thread, "mm"))
}

// Axes are the names of the figures that a window bounds.
var Axes = map[audit.Axis]string{
	audit.Focal: "focal length", audit.WidestT: "widest T-stop", audit.CloseFocus: "closest focus",
	audit.Circle: "image circle", audit.Mass: "mass", audit.Length: "length",
}

// Edges writes what a window allows on one axis, rounded to the safe side.
func Edges(axis audit.Axis, edges audit.Interval, p lang.Printer) string {
	unit, shown := axis.Scale().Unit, axis.Scale().Rounded(edges)
	switch {
	case edges.Open():
		return "any"
	case math.IsNaN(shown.Low):
		return "to " + p.Quantity(shown.High, unit)
	case math.IsNaN(shown.High):
		return "from " + p.Quantity(shown.Low, unit)
	}
	return p.Quantity(shown.Low, unit) + " to " + p.Quantity(shown.High, unit)
}
