package travel

import (
	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/card"
	"glassbrief/engine/floor"
	"glassbrief/engine/rig"
	"glassbrief/lang"
)

// Cards is the document of a deck of cards. Distances run from the sensor plane unless a key
// says otherwise. Texts are in the printer's units.
func Cards(r *engine.Recommendation, d *floor.Deck, p lang.Printer) Object {
	return append(head("cards", r), Ranged(d, d.Worlds, func(d *floor.Deck) Object { return deck(r, d, p) })...)
}

func deck(r *engine.Recommendation, d *floor.Deck, p lang.Printer) Object {
	drop := r.Scenario.Drop
	return Of(
		"lenses", r.Kit.Lenses,
		"drop_from_s", drop.Low, "drop_to_s", drop.High,
		"bolt_mm", d.Bolt,
		"cards", Each(d.Cards, func(c *floor.Card) Object { return oneCard(c, p) }),
		"cautions", Each(d.Cautions, func(c *floor.Caution) Object { return caution(c, p) }),
		"swaps", Each(d.Swaps(), swap),
		"lacks", Each(d.Lacks, func(l *rig.Lack) Object {
			what, how := wording.Lack(*l)
			return Of("what", what, "how", how)
		}),
		"closing", wording.Closing,
	)
}

func oneCard(c *floor.Card, p lang.Printer) Object {
	var setup, from Object
	if c.Use != nil {
		setup = Said(card.Setup(), c)
	}
	if c.Swap != nil {
		from = swap(c.Swap)
	}
	return Of(
		"shot", c.Shot.ID, "title", c.Shot.Title, "scene", c.Shot.Scene,
		"setup?", setup,
		"may_be_out?", c.Use != nil && c.Use.Turns(),
		"swap?", from,
		"notes", wording.Notes(c.Notes(), p),
		"cautions", Each(c.Cautions, func(c *floor.Caution) Object { return caution(c, p) }),
		"closing", wording.Closing,
	)
}

func caution(c *floor.Caution, p lang.Printer) Object {
	return Of("text", wording.Caution(*c, p), "source", c.Source())
}

func swap(s *floor.Swap) Object { return Said(card.Swap, s) }

// Deck is the cards for a spreadsheet. What is not known of a shot that no lens does is left
// empty. The last column says whether any number of the card rests on assumed figures.
func Deck(d *floor.Deck) []Object {
	all := Ranged(d, d.Worlds, func(other *floor.Deck) Object {
		var cards Object
		for i := range other.Cards {
			c := &other.Cards[i]
			cards = append(cards, Member{Key: c.Shot.ID, Value: cells(c)})
		}
		return cards
	})
	var rows []Object
	for _, m := range all {
		row := m.Value.(Object)
		assumed, _ := row.Get(Assumed).(Object)
		rows = append(rows, append(row.without(Assumed), Member{Key: Assumed, Value: assumed != nil}))
	}
	return rows
}

// cells are a card in one line.
func cells(c *floor.Card) Object {
	line := Of("shot", c.Shot.ID)
	for _, r := range card.Setup() {
		if !r.Column {
			continue
		}
		m := Member{}
		if _, m.Key = r.Path(); c.Use != nil {
			_, m = memberOf(r, c)
		}
		line = append(line, m)
	}
	minutes := 0.0
	if c.Swap != nil {
		minutes = c.Swap.Minutes.Value()
	}
	return append(line, Of("swap_min", minutes)...) // from the card before
}
