package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/sure"
	"glassbrief/lang"
)

// Differences in value below a thousandth are said as none, and half a hundredth, which scores do not
// show, hardly matters.
const (
	sensible = 0.0005
	harmless = 0.005
)

// Nearby says how well a kit does in nearby briefs, and by how much another would do better.
func Nearby(n *sure.Nearby, r *engine.Recommendation) string {
	k := &r.Kit
	if len(k.Lenses) == 0 {
		return fmt.Sprintf("In %s of %s nearby another kit would do something.", Share(n.Outdone.Value), Counted(n.Briefs, "brief"))
	}
	text := "The kit still covers everything"
	if len(k.Uncovered) > 0 {
		text = fmt.Sprintf("The kit leaves %s undone as it is, and still covers the rest", List(k.Uncovered, "and"))
	}
	text += fmt.Sprintf(" in %s of %s nearby%s", Share(n.Covers.Value), Counted(n.Briefs, "brief"), offShare(n.Covers))
	switch {
	case n.Outdone.Value > 0:
		text += fmt.Sprintf("; in %s another kit would leave less undone.", Share(n.Outdone.Value))
	case n.Covers.Value < 1:
		text += "; where it does not, no other kit leaves less undone."
	default:
		text += "."
	}
	return text + " " + regret(n) + fmt.Sprintf(" It scores %s or less in half of them, and %s or less in one of twenty.", hundredths(n.Score.Value), hundredths(n.ScoreSeldom.Value))
}

// regret says by how much another kit would have been better.
func regret(n *sure.Nearby) string {
	half, often := n.Loss.Value, n.LossOften.Value
	text := fmt.Sprintf("Another kit would have been better by %.3f or more in half of them%s, and by %.3f or more in one of twenty%s", half, off(n.Loss), often, off(n.LossOften))
	switch {
	case often < sensible:
		text = "In 19 of 20 no other kit would have been better by a thousandth"
	case half < sensible:
		text = fmt.Sprintf("In half of them no other kit would have been better; in one of twenty, another would by %.3f or more%s", often, off(n.LossOften))
	}
	if often+n.LossOften.Error < harmless {
		text += ", so that it hardly matters which kit comes"
	}
	return text + "."
}

// off writes a sampling error behind its value, "" where none shows.
func off(e sure.Estimate) string {
	if !(e.Error >= sensible) {
		return ""
	}
	return fmt.Sprintf(" (±%.3f)", e.Error)
}

// offShare writes the sampling error of a share likewise, to the tenth of a per cent above.
func offShare(e sure.Estimate) string {
	if !(e.Error > 0) {
		return ""
	}
	return fmt.Sprintf(" (±%.1f%%)", math.Ceil(1000*e.Error)/10)
}

// Drawn says how nearby briefs differ.
func Drawn(n *sure.Nearby, s *brief.Scenario, p lang.Printer) string {
	t := &s.Tolerances
	text := fmt.Sprintf("Each figure is off by itself, evenly within %s at each end of a distance, %s of light, %s in a size and %s in a weight",
		p.Quantity(t.Distance, "%"), p.Quantity(t.Light, "stops"), p.Quantity(t.Subject, "%"), p.Quantity(t.Weight, "%"))
	if n.Figures > 0 {
		text += "; " + map[bool]string{true: "1 assumed figure lies anywhere in its range", false: fmt.Sprintf("%d assumed figures lie anywhere in their ranges", n.Figures)}[n.Figures == 1]
	}
	if !math.IsNaN(n.Covers.Error) {
		text += "; ± is the sampling error at 95%"
	}
	return text + "."
}

// SameKit says how often the same kit is the best of nearby briefs, and what else came.
func SameKit(n *sure.Nearby, r *engine.Recommendation) string {
	text := fmt.Sprintf("In %d of %s nearby (%s) the same kit is the best.", n.Same, Counted(n.Briefs, "brief"), Share(n.Share(n.Same)))
	var others []string
	for _, kit := range n.Kits {
		if len(others) < 2 && !engine.SameLenses(kit.Lenses, r.Kit.Lenses) {
			others = append(others, fmt.Sprintf("%s in %d", Lenses(kit.Lenses), kit.Briefs))
		}
	}
	if others != nil {
		text += " Else came most: " + strings.Join(others, "; ") + "."
	}
	return text
}

// Hurts says what hurts a kit most when it alone turns out otherwise.
func Hurts(all []sure.Hurt, n *sure.Nearby) string {
	switch {
	case len(all) > 0:
	case n.Covers.Value < 1 || n.LossOften.Value > 0:
		return "Nothing hurts the kit by itself, only several figures at once."
	default:
		return "Nothing hurts the kit by itself."
	}
	first := &all[0]
	text := fmt.Sprintf("What hurts most by itself is %s: ", OfCause(&first.Cause))
	switch {
	case first.Undone == 0:
		return text + fmt.Sprintf("on average another kit is better by %s.", lossOf(first.Loss))
	case first.Loss < sensible:
		text += fmt.Sprintf("the kit leaves a shot undone in about %s of what it may be, and no other would score more.", Share(first.Undone))
	default:
		text += fmt.Sprintf("the kit leaves a shot undone in about %s of what it may be, and on average another kit is better by %s.", Share(first.Undone), lossOf(first.Loss))
	}
	most := first
	for i := range all {
		if all[i].Loss > most.Loss {
			most = &all[i]
		}
	}
	if most != first && most.Loss >= sensible {
		text += fmt.Sprintf(" Against other kits most is lost by %s: %s.", OfCause(&most.Cause), lossOf(most.Loss))
	}
	return text
}

// shownHurts is how many causes are listed.
const shownHurts = 5

// ShownHurts gives those that hurt most, without what takes less than shows.
func ShownHurts(all []sure.Hurt) []sure.Hurt {
	n := 0
	for n < min(len(all), shownHurts) && (all[n].Undone > 0 || all[n].Loss >= sensible) {
		n++
	}
	return all[:n]
}

// lossOf writes a loss or gain of value.
func lossOf(loss float64) string {
	if loss < sensible {
		return "less than 0.001"
	}
	return fmt.Sprintf("%.3f", loss)
}

// OfCause names what may turn out otherwise.
func OfCause(c *sure.Cause) string {
	switch {
	case c.Figure != nil:
		return "the " + ofAssumed(c.Figure)
	case c.Input == sure.Subject:
		return "the size of the subject in shot " + c.Shot
	}
	return fmt.Sprintf("the %s of shot %s", c.Input, c.Shot)
}

// Flip says which figure alone changes the kit soonest.
func Flip(f *sure.Flip, s *brief.Scenario, p lang.Printer) string {
	if f == nil {
		return "No figure of a shot changes the kit by itself, up to three times its tolerance."
	}
	by := p.Quantity(math.Abs(f.By), "%")
	if f.Input == sure.Light {
		by = p.Quantity(math.Round(math.Abs(f.By)*10)/10, "stops")
		if math.Abs(f.By) < 0.05 {
			by = "less than " + p.Quantity(0.1, "stops")
		}
	}
	return fmt.Sprintf("The kit changes first by %s: at %s %s, it would be %s.", OfCause(&sure.Cause{Shot: f.Shot, Input: f.Input}), by, less(f), Lenses(f.Kit))
}

func less(f *sure.Flip) string {
	if f.By < 0 {
		return "less"
	}
	return "more"
}
