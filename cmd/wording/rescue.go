package wording

import (
	"fmt"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

// NoChange begins what is said where no change was found; these are the figures that are tried, and
// another way of keeping focus, say, may still do.
const NoChange = "No change of distance, light, framing, highest ISO, speed or accessories alone"

// Rescue says which lens of the house comes nearest to a shot that none of them does, and which
// change of the brief would let one do it.
func Rescue(r *why.Rescue, p lang.Printer) string {
	text := "No lens of the house does it. "
	if r.Nearest == nil {
		return text + "None of them goes on the camera."
	}
	text += Nearest(r, p) + "."
	if f := r.Filter; f != nil {
		text += " " + WithFilter(f, p)
	}
	var changes []string
	for i := range r.Changes {
		c := &r.Changes[i]
		changes = append(changes, Change(&c.BriefChange, p)+", with "+c.Lens)
	}
	switch len(changes) {
	case 0:
		if len(r.Untried) == 0 {
			text += " " + NoChange + " lets one of them do it."
		}
	case 1:
		text += " One change of the brief would do: " + changes[0] + "."
	default:
		text += " One of these changes of the brief would do: " + strings.Join(changes, "; ") + "."
	}
	if len(r.Untried) > 0 {
		text += " Changes with " + Lenses(r.Untried) + " are not looked for: a rule here reads across parts of the set-up, so that each trial would go through all of them."
	}
	return text
}

// Wanting says what a shot lacks of being good and whole, "" for nothing: [Doubt], and what there is to
// do where no lens of the house does it. A hired one in the kit may do it after all.
func Wanting(a *answer.Answer, shot *engine.ShotAnswer, p lang.Printer) string {
	said, rescue := Doubt(shot, p), a.Rescue(shot)
	switch {
	case rescue == nil || said == "":
		return said
	case shot.Use == nil:
		return engine.Out.String() + ": " + Rescue(rescue, p)
	}
	return said + ". " + Rescue(rescue, p)
}

// WithFilter says which filter lets a lens do a shot.
func WithFilter(f *why.FilterWant, p lang.Printer) string {
	return fmt.Sprintf("With %s, %s would do it.", Filter(f.Thread, f.Stops, p), f.Lens)
}

// Nearest says which lens of the house comes nearest, and what is in its way.
func Nearest(r *why.Rescue, p lang.Printer) string {
	text := r.Nearest.Lens + " comes nearest"
	if out := WhyOut(r.Nearest, p); len(out) > 0 {
		text += ": " + strings.Join(out, "; ")
	}
	return text
}
