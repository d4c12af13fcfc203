package wording

import (
	"strings"

	"glassbrief/engine"
	"glassbrief/lang"
)

// mostMoved is how many changes of a plan one sentence tells.
const mostMoved = 3

const noLens = "no lens of the kit does "

// Moved says in one sentence what a plan does otherwise than another about the same shots: "Wide 24
// replaces Wide 18 in 4A; score 0.87, was 0.89." It is "" when only figures differ.
func Moved(was, is *engine.Recommendation) string {
	type change struct{ from, to string }
	var order []change
	shots := map[change][]string{}
	note := func(c change, shot string) {
		if shots[c] == nil {
			order = append(order, c)
		}
		shots[c] = append(shots[c], shot)
	}
	var verdicts []string
	for i := range is.Shots {
		id, before, now := is.Shots[i].Shot.ID, was.Shots[i].Use, is.Shots[i].Use
		switch {
		case nameOf(before) != nameOf(now):
			note(change{nameOf(before), nameOf(now)}, id)
		case now != nil && standsAs(before) != standsAs(now):
			verdicts = append(verdicts, id+" is "+standsAs(now)+", was "+standsAs(before))
		}
	}
	var said []string
	for _, c := range order {
		in := List(shots[c], "and")
		switch {
		case c.to == "":
			said = append(said, noLens+in)
		case c.from == "":
			said = append(said, c.to+" does "+in+", which no lens did")
		default:
			said = append(said, c.to+" replaces "+c.from+" in "+in)
		}
	}
	said = append(said, verdicts...)
	if brought := came(is.Kit.Lenses, was.Kit.Lenses); said == nil && brought != nil {
		said = append(said, List(brought, "and")+" comes too")
	}
	if said == nil && came(was.Kit.Lenses, is.Kit.Lenses) != nil {
		said = append(said, List(came(was.Kit.Lenses, is.Kit.Lenses), "and")+" stays at home")
	}
	if said == nil {
		return ""
	}
	if more := len(said) - mostMoved; more > 0 {
		said = append(said[:mostMoved], Counted(more, "more change"))
	}
	text := strings.Join(said, "; ")
	if rest, ok := strings.CutPrefix(text, noLens); ok { // else it begins with a name, which stays as it is
		text = lang.Capital(noLens) + rest
	}
	return text + "; score " + KitScore(is, &is.Kit) + ", was " + KitScore(was, &was.Kit) + "."
}

// came lists the lenses of a kit that another has not.
func came(kit, other []string) (new []string) {
	has := map[string]bool{}
	for _, lens := range other {
		has[lens] = true
	}
	for _, lens := range kit {
		if !has[lens] {
			new = append(new, lens)
		}
	}
	return new
}

func nameOf(j *engine.Judgement) string {
	if j == nil {
		return ""
	}
	return j.Lens
}

// standsAs says how well a shot is done.
func standsAs(j *engine.Judgement) string {
	if !j.Whole() {
		return j.Verdict().String() + " in part"
	}
	return j.Verdict().String()
}
