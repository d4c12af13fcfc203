package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine/card"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
)

// A Dial is what is set for a shot, as it stands largest on its card: a label, the figure, and what
// belongs to it in small.
type Dial struct{ Label, Figure, Small string }

// Dials are the places of the dials of a card, in the order in which they are set.
const (
	StopDial = iota
	MarkDial
	NearDial
	FarDial
	ISODial
	NDDial

	Dials // how many there are
)

var dials = [Dials]struct {
	label         string
	figure, small func(*speaker) string
}{
	StopDial: {"stop", func(s *speaker) string { return s.say(card.LensStop) }, (*speaker).transmits},
	MarkDial: {"mark", func(s *speaker) string { return s.say(card.FocusAt) }, (*speaker).focuses},
	NearDial: {"near", func(s *speaker) string { return s.say(card.Near) }, func(s *speaker) string { return s.spare(0) }},
	FarDial:  {"far", func(s *speaker) string { return strings.TrimSuffix(s.say(card.Far), "inity") }, func(s *speaker) string { return s.spare(1) }},
	ISODial:  {"ISO", (*speaker).iso, func(s *speaker) string { return fmt.Sprintf("1/%.0f s", 1/s.number(card.Shutter)) }},
	NDDial:   {"ND", (*speaker).stopsOfND, func(s *speaker) string { return filtersOn(s.c.Use, s.p) }},
}

func (s *speaker) transmits() string {
	text := ""
	if !math.IsNaN(s.number(card.TStop)) {
		text = s.say(card.TStop)
	}
	if s.number(card.LensStop) != s.number(card.Stop) { // with an adapter that changes it
		text = strings.TrimPrefix(text+", acts as "+s.say(card.Stop), ", ")
	}
	return text
}

func (s *speaker) focuses() string {
	return [...]string{facts.Fixed: "set once", facts.Pulled: "pulled", facts.Auto: "automatic"}[s.c.Shot.Focus]
}

// spare says how much of the focus is left at the near or the far end of the shot.
func (s *speaker) spare(end int) string {
	ring, known := floor.RingOf(s.c.Use)
	if !known || math.IsInf(ring.Spare[end], 1) {
		return ""
	}
	limit, unit := [...]row{card.Near, card.Far}[end], "m"
	spare := math.Abs(ring.Spare[end])
	if spare < 0.995 { // in centimetres, as steps are measured
		unit = "cm"
	}
	said := s.p.Within(spare, limit.Off(s.c, s.number(limit)), unit)
	if ring.Spare[end] < 0 {
		return said + " short"
	}
	return said + " spare"
}

func (s *speaker) stopsOfND() string {
	if !(s.number(card.ND) > 0) {
		return "none"
	}
	return s.say(card.ND)
}
