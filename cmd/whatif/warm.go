package whatif

import (
	"fmt"
	"slices"

	"glassbrief/engine/whatif"
	"glassbrief/engine/why"
)

// warmings is how many edits make the engine warm: behind so many, the next are hardly quicker.
const warmings = 30

// Warm makes the next edits quicker, by one that nobody sees, and reports whether more of it would help.
// A program for browsers runs slowly at first, until each piece of it was met some times.
//
// Before that it looks for what there is to do about each shot that nothing does in the saved plan, one
// at a time: that takes as long as many edits, and is not looked for while somebody waits.
func (s *Session) Warm() bool {
	if s.warmed >= warmings {
		return false
	}
	for i, use := range s.saved.Kit.Uses {
		if _, known := s.rescues[i]; use == "" && !known {
			s.rescues[i] = why.RescueOf(s.saved.Table, i)
			return true
		}
	}
	const apart = 7 // in the list of controls, so that soon all kinds of them were moved
	controls := s.Plan.Controls
	c := &controls[s.warmed*apart%len(controls)]
	s.warmed++
	text := ""
	switch ladder := s.Plan.Ladders[c.Ladder]; {
	case c.Choice:
		text = ladder[s.warmed%len(ladder)].Text
	case len(c.Saved) == 2:
		text = fmt.Sprintf("%.3f%s..%.3f%s", c.Saved[0].Value*0.95, c.Unit, c.Saved[1].Value*1.05, c.Unit)
	default:
		at := slices.IndexFunc(ladder, func(v whatif.Value) bool { return v.Value > c.Saved[0].Value })
		text = ladder[max(at, 0)].Text + c.Unit
	}
	shown, left := s.shown, s.left
	s.Answer(whatif.State{{Key: c.Key, Text: text}}.String())
	s.Rest()
	s.shown, s.left = shown, left
	return s.warmed < warmings
}
