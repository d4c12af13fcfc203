package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/card"
	"glassbrief/engine/floor"
	"glassbrief/engine/rig"
	"glassbrief/lang"
)

// minutesOf says how long a change takes, in the minutes that are known.
func minutesOf(s *floor.Swap, p lang.Printer) string {
	return p.Within(s.Minutes.Value(), card.SwapMinutes.Off(s, s.Minutes.Value()), "")
}

// MinutesOfChanges says how many minutes each change of set-up takes, with those marked that rest on
// assumed figures.
func MinutesOfChanges(c *floor.SetupChanges, p lang.Printer) []string {
	return MarkedAll(c.All, c.Worlds, func(others []floor.SetupChange) []string {
		return ofEach(c.All, others, func(s *floor.Swap) string { return minutesOf(s, p) })
	})
}

// ofEach says something of each change as it is made in a world, "" of one that is not made there.
func ofEach(all, others []floor.SetupChange, say func(*floor.Swap) string) []string {
	said := make([]string, len(all))
	for i := range all {
		if o := all[i].In(others); o != nil {
			said[i] = say(&o.Swap)
		}
	}
	return said
}

// SetupChanges says of each change of set-up which steps it takes on the rig, and how many minutes,
// with the numbers marked that rest on assumed figures.
func SetupChanges(c *floor.SetupChanges, p lang.Printer) [][2]string {
	texts := RangedAll(c.All, c.Worlds, func(others []floor.SetupChange) []string {
		steps := ofEach(c.All, others, func(s *floor.Swap) string {
			steps := adjusted(s)
			if trims := swapSteps(s, p); trims != "" {
				steps = append(steps, trims)
			}
			return strings.Join(steps, ", ")
		})
		return append(steps, ofEach(c.All, others, func(s *floor.Swap) string { return minutesOf(s, p) })...)
	}, func(int) bool { return true })
	all := make([][2]string, len(c.All))
	for i := range all {
		all[i] = [2]string{texts[i], texts[len(all)+i]}
	}
	return all
}

// Minutes gives for each card how many minutes the change before it takes; "" for none.
func Minutes(d *floor.Deck, p lang.Printer) []string {
	return MarkedAll(d, d.Worlds, func(d *floor.Deck) []string {
		texts := make([]string, len(d.Cards))
		for i := range d.Cards {
			if swap := d.Cards[i].Swap; swap != nil {
				texts[i] = minutesOf(swap, p)
			}
		}
		return texts
	})
}

// ChangesInShort says before which shots the lens is changed, how many minutes all changes of set-up
// take at what price, and what kit would be the best without that price; "" for nothing of this.
func ChangesInShort(a *answer.Answer, p lang.Printer) string {
	c, price := &a.Changes, a.Scenario.Prices.Change
	text := Marked(c.All, c.Worlds, func(all []floor.SetupChange) string {
		minutes, before, others := 0.0, []string{}, 0
		for i := range all {
			minutes += all[i].Swap.Minutes.Value()
			if all[i].OfLens() {
				before = append(before, all[i].Before.ID)
			} else {
				others++
			}
		}
		var said []string
		if len(before) > 0 {
			said = append(said, fmt.Sprintf("%s of lens, before %s", Counted(len(before), "change"), List(before, "and")))
		}
		if others > 0 {
			said = append(said, Counted(others, "adjustment"))
		}
		if said == nil {
			return ""
		}
		return fmt.Sprintf("%s: %s minutes", strings.Join(said, "; "), p.Within(minutes, card.SwapMinutes.Off(nil, minutes), ""))
	})
	if text != "" && price > 0 {
		text += fmt.Sprintf(" at %.3g a minute", price)
		if crew := a.Scenario.Prices.Crew; crew > 0 {
			text += fmt.Sprintf(", which stands for %s", p.Quantity(crew, a.Scenario.Limits.Currency))
		}
	}
	free := freeKit(a)
	switch {
	case free == "":
	case text == "":
		text = fmt.Sprintf("0 changes of set-up at %.3g a minute; %s", price, free)
	default:
		text += "; " + free
	}
	return text
}

// freeKit says what the kit would be, or what its lenses would do, if changes had no price; "" where
// that is the same.
func freeKit(a *answer.Answer) string {
	k := a.Free
	if k == nil || slices.Equal(k.Uses, a.Kit.Uses) && engine.SameLenses(k.Lenses, a.Kit.Lenses) {
		return ""
	}
	lenses := Lenses(k.Lenses)
	if engine.SameLenses(k.Lenses, a.Kit.Lenses) {
		lenses = "the same lenses"
	}
	higher := "less than 0.01"
	if more := k.Mean - a.Kit.Mean; more >= 0.005 {
		higher = hundredths(more)
	}
	minutes := "as many minutes"
	switch more := k.Minutes - a.Kit.Minutes; {
	case more > 0:
		minutes = halfMinutes(more) + " minutes more"
	case more < 0:
		minutes = halfMinutes(-more) + " minutes less"
	}
	return fmt.Sprintf("without that price %s, %s higher and %s", lenses, higher, minutes)
}

// adjusted says what else than the trim is changed with the same lens, which a card says elsewhere.
func adjusted(s *floor.Swap) []string {
	var parts []string
	if s.Filters && s.From == s.To {
		parts = append(parts, "filters")
	}
	if s.Flip {
		parts = append(parts, map[bool]string{true: "to low mode", false: "upright"}[s.Low])
	}
	return parts
}

// swapSteps says what a change of lens takes on the rig.
func swapSteps(s *floor.Swap, p lang.Printer) string {
	var parts []string
	if s.From != s.To {
		parts = append(parts, s.From+" to "+s.To)
	}
	parts = append(parts, map[rig.Stand][]string{rig.OntoLegs: {"onto legs"}, rig.OntoSled: {"back onto the sled"}}[s.Onto]...)
	switch {
	case s.OnLegs:
	case !s.Known:
		parts = append(parts, "plates, post and stage by drop test")
	default:
		if s.Plates != 0 {
			parts = append(parts, fmt.Sprintf("%+d plates", s.Plates))
		}
		if s.Post >= leastShift {
			parts = append(parts, "post out "+millimetres(s.Post, p))
		} else if s.Post <= -leastShift {
			parts = append(parts, "post in "+millimetres(-s.Post, p))
		}
		if math.Abs(s.Shift) >= leastShift {
			parts = append(parts, "stage "+shiftText(s.Shift, p))
		}
	}
	return strings.Join(parts, ", ")
}

// Swap says what a change of lens takes on the rig, how long, and how the rig would hang
// without it.
func Swap(s *floor.Swap, p lang.Printer) string {
	text := fmt.Sprintf("%s; about %s min", swapSteps(s, p), minutesOf(s, p))
	switch {
	case !s.Known:
	case math.IsNaN(s.Tilt):
		text += "; left as it was, it tips over"
	case s.Tilt != 0:
		text += "; left as it was, it hangs " + tiltText(s.Tilt, card.SwapTilt.Off(s, s.Tilt), p)
	}
	return text
}

// SwapBetween says of a swap of the sheet between which lenses it is, and what it takes.
func SwapBetween(s *floor.Swap, p lang.Printer) (lenses, takes string) {
	bare := *s
	bare.From, bare.To = "", ""
	return s.From + " to " + s.To, Swap(&bare, p)
}

// SwapLimits says how the minutes of a swap are counted.
func SwapLimits() string {
	text := "Minutes are counted by steps, as common practice has them:"
	for i, step := range []struct {
		name  string
		takes rig.Minutes
	}{
		{"lens", rig.ForLens}, {"adapter", rig.ForAdapter}, {"filters", rig.ForFilters}, {"plates", rig.ForPlates}, {"post", rig.ForPost},
		{"stage", rig.ForShift}, {"low mode", rig.ForFlip}, {"onto legs or back", rig.ForLegs}, {"drop test", rig.ForDrop},
	} {
		text += [...]string{" ", ", "}[min(i, 1)] + step.name + " " + halfMinutes(step.takes.Value())
	}
	return text + ". Time your own."
}
