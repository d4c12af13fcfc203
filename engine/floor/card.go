package floor

import (
	"math"
	"slices"
	"sync"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/rig"
)

// A Card is how one shot is set up. What is dialled are facts of Use, and its filters.
type Card struct {
	Of   *engine.Recommendation
	Shot *brief.Shot
	Use  *engine.Judgement // the lens of the kit; nil when none does it, and then there is no set-up

	Walk     Walk
	Plan     Plan
	Moments  []Moment
	Rig      *Rigging // nil without a lens
	Swap     *Swap    // from the card before; nil on the first, and where nothing changes
	Cautions []Caution
	notes    func() []Note
}

// Notes are what else is to be known or done. They are worked out when they are asked for: to say which
// lens comes nearest to doing a shot takes a search.
func (c *Card) Notes() []Note { return c.notes() }

// Cards makes a card of each shot, in shooting order.
func Cards(r *engine.Recommendation) []Card {
	cards := make([]Card, len(r.Shots))
	var before *setup
	all, trim := setups(r)
	for i, now := range all {
		answer := &r.Shots[i]
		c := &cards[i]
		*c = Card{Of: r, Shot: answer.Shot, Use: answer.Use}
		if now == nil {
			c.notes = sync.OnceValue(func() []Note { return uncovered(r, answer) })
		} else {
			c.fill(r.Scenario, &trim, before, now)
			before = now
		}
		c.Cautions = cautionsFor(c)
	}
	return cards
}

// A Deck is the cards of a recommendation with what holds for all of them.
type Deck struct {
	Cards    []Card
	Cautions []Caution  // of the whole day, which no card repeats
	Lacks    []rig.Lack // what is not known on any card, each once
	Bolt     float64    // place of the camera that goes over the middle of the stage, behind the lens flange; NaN when not known
	// Worlds are the deck under other values of the figures that are assumed of it.
	Worlds *engine.Worlds[*Deck]
	swaps  func() []Swap
}

// Swaps are those between every two lenses of the kit. They are worked out when they are asked for.
func (d *Deck) Swaps() []Swap { return d.swaps() }

// NewDeck makes the deck of a recommendation.
func NewDeck(r *engine.Recommendation) *Deck {
	d := deckOf(r)
	d.Worlds = engine.WorldsOf(r, deckOf)
	return d
}

func deckOf(r *engine.Recommendation) *Deck {
	d := &Deck{Cards: Cards(r), Bolt: math.NaN(), swaps: sync.OnceValue(func() []Swap { return sheet(r) })}
	d.Cautions = ofTheDay(d.Cards)
	for _, c := range d.Cards {
		if c.Rig == nil {
			continue
		}
		if math.IsNaN(d.Bolt) {
			d.Bolt = c.Rig.Bolt
		}
		for _, lack := range c.Rig.Lacks {
			if !slices.Contains(d.Lacks, lack) {
				d.Lacks = append(d.Lacks, lack)
			}
		}
	}
	return d
}

func (c *Card) fill(s *brief.Scenario, trim *rig.Trim, before, now *setup) {
	c.Rig = now.rigging
	c.Plan = planOf(c.Shot, c.Use, c.Rig)
	c.Walk = walkOf(c.Shot, c.Use, c.Plan.Path)
	c.Moments = momentsOf(c.Use, c.Plan.Path)
	if before != nil {
		if swap := swapOf(trim, before, now); swap.Minutes > 0 {
			c.Swap = &swap
		}
	}
	c.notes = sync.OnceValue(func() []Note {
		lens, _ := s.Catalogue.Lenses.Lookup(c.Use.Lens)
		return slices.Concat(c.focusNotes(lens), lightNotes(c.Of, c.Shot, lens, c.Use), c.Rig.Problems)
	})
}

// focusNotes says where focus and framing fall short of the brief, and what the focus needs.
func (c *Card) focusNotes(lens *catalog.Lens) []Note {
	var notes []Note
	if lens.FocusScale() == catalog.ScaleWire && c.Shot.Focus == facts.Fixed {
		notes = append(notes, SteeredRing{})
	}
	if facts.DepthUnknown(&c.Use.Facts.Value, c.Use.Fact(facts.FocusMark)) {
		notes = append(notes, DepthUnknown{})
	}
	if wantsPuller(c.Shot, c.Use) {
		notes = append(notes, PullerHelps{Stop: c.Use.Fact(facts.Stop), ISO: c.Use.Fact(facts.ISO)})
	}
	way := WayOf(c.Use)
	for lane, stretch := range []Stretch{FramingLane: framingStretch(c.Shot, c.Use), FocusLane: focusStretch(c.Use)} {
		if lane := Lane(lane); way.Fails(lane) {
			notes = append(notes, Lost{Lane: lane, Way: way, Stretch: stretch})
		}
	}
	return notes
}

// What counts as a small stop and a high ISO: where diffraction begins to show, about f/8 on a
// large sensor, and a stop of noise (common practice).
const (
	smallStop = 0.40
	highISO   = 1.0
)

// wantsPuller reports whether one mark costs so much stop and ISO that somebody on focus
// would serve the picture better over a move.
func wantsPuller(shot *brief.Shot, j *engine.Judgement) bool {
	return shot.Focus == facts.Fixed && shot.Near < shot.Far && j.Fact(facts.DiffractionShare) > smallStop && j.Fact(facts.Noise) > highISO
}

// uncovered says why no lens of the kit does a shot, and what would help.
func uncovered(r *engine.Recommendation, answer *engine.ShotAnswer) []Note {
	notes := []Note{NoLens{}}
	if answer.Total == 0 {
		return notes
	}
	j := nearest(answer, func(*engine.Judgement) bool { return true })
	notes = append(notes, Nearest{Judgement: j})
	lens, _ := r.Scenario.Catalogue.Lenses.Lookup(j.Lens)
	notes = append(notes, lightNotes(r, answer.Shot, lens, j)...)
	if j = nearest(answer, func(j *engine.Judgement) bool { return !math.IsNaN(j.Fact(facts.RigMass)) }); j != nil {
		notes = append(notes, riggingOf(r, answer.Shot, j, nil).Problems...)
	}
	return notes
}

// nearest gives the lens that comes nearest among those that the filter lets through, nil when
// there is none.
func nearest(answer *engine.ShotAnswer, of func(*engine.Judgement) bool) *engine.Judgement {
	for j := range answer.All() {
		if of(j) {
			return j
		}
	}
	return nil
}
