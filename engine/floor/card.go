package floor

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// A Card is how one shot is set up. What the judgement holds is read there: the stop, the
// focus mark, what is sharp, the ISO without filters, are facts of Use.
type Card struct {
	Shot *brief.Shot
	Use  *engine.Judgement // the lens of the kit; nil when none does it, and then there is no set-up

	Focal    float64 // to set, as engraved on the lens
	Ring     float64 // f-number to set on the lens, where an adapter with glass changes it
	Walk     Walk
	Plan     Plan
	Moments  []Moment
	Filters  Filters
	Rig      *Rigging // nil without a lens
	Swap     *Swap    // from the card before; nil on the first, and where nothing changes
	Notes    []string // what else to know or do
	Cautions []Caution
}

// Cards makes a card of each shot, in shooting order. The printer says in which units
// notes and cautions write quantities.
func Cards(r *engine.Recommendation, p lang.Printer) []Card {
	cards := make([]Card, len(r.Shots))
	var before *setup
	for i, now := range setups(r, p) {
		answer := &r.Shots[i]
		c := &cards[i]
		*c = Card{Shot: answer.Shot, Use: answer.Use, Focal: math.NaN(), Ring: math.NaN()}
		if now == nil {
			c.Notes = uncovered(r, answer, p)
		} else {
			c.fill(r.Scenario, before, now, p)
			before = now
		}
		c.Cautions = cautionsFor(c)
	}
	return cards
}

func (c *Card) fill(s *brief.Scenario, before, now *setup, p lang.Printer) {
	c.Rig, c.Filters = now.rigging, now.filters
	c.Focal = c.Use.Fact(facts.FocalLength) / c.Use.Fitting.Factor
	c.Ring = c.Use.Fact(facts.Stop) / c.Use.Fitting.Factor
	h := holdOf(c.Shot, c.Use)
	c.Walk = h.walk()
	c.Plan = planOf(c.Shot, c.Use, c.Rig)
	c.Moments = momentsOf(c.Use, c.Plan.Path)
	if before != nil {
		if swap := swapOf(before, now); swap.Minutes > 0 {
			c.Swap = &swap
		}
	}
	c.Notes = append(c.Notes, c.focusNotes(s, p)...)
	c.Notes = append(c.Notes, lightNotes(c.Shot, c.Use, p)...)
	if c.Filters.Problem != "" {
		c.Notes = append(c.Notes, c.Filters.Problem)
	}
	c.Notes = append(c.Notes, c.Rig.Problems...)
}

// focusNotes says where the walk falls short of the brief, and what the focus needs.
func (c *Card) focusNotes(s *brief.Scenario, p lang.Printer) []string {
	var notes []string
	lens, _ := s.Catalogue.Lenses.Lookup(c.Use.Lens)
	if lens.FocusScale() == catalog.ScaleWire && c.Shot.Focus == facts.Fixed {
		notes = append(notes, "The ring of this lens only steers a motor and its marks do not hold: focus on a target at the focus mark, switch the motor off, and check again after every power cut.")
	}
	switch move := fmt.Sprintf("%s to %s", p.Quantity(c.Shot.Near, "m"), p.Quantity(c.Shot.Far, "m")); {
	case !c.Walk.Known():
		notes = append(notes, fmt.Sprintf("Focus and framing hold together nowhere: of the move over %s, focus holds %s and framing %s.",
			move, p.Quantity(c.Use.Fact(facts.FocusHeld), "%"), p.Quantity(c.Use.Fact(facts.FramingHeld), "%")))
	case !c.Walk.Covers:
		var ends []string
		if c.Shot.Near < c.Walk.Near {
			ends = append(ends, fmt.Sprintf("nearer than %s breaks %s", p.Quantity(c.Walk.Near, "m"), strings.Join(c.Walk.NearBreaks, " and ")))
		}
		if c.Shot.Far > c.Walk.Far {
			ends = append(ends, fmt.Sprintf("beyond %s breaks %s", p.Quantity(c.Walk.Far, "m"), strings.Join(c.Walk.FarBreaks, " and ")))
		}
		notes = append(notes, fmt.Sprintf("The move goes over %s, farther than focus and framing hold: %s.", move, strings.Join(ends, ", ")))
	}
	return notes
}

// uncovered says of a shot that no lens of the kit does, why, and what would help.
func uncovered(r *engine.Recommendation, answer *engine.ShotAnswer, p lang.Printer) []string {
	notes := []string{"No lens of the kit does this shot."}
	if len(answer.Ranking) == 0 {
		return notes
	}
	j := nearest(answer, func(*engine.Judgement) bool { return true })
	vetoes := j.Vetoes()
	switch {
	case j.Refusal != "":
		notes = append(notes, fmt.Sprintf("The nearest to it is %q: %s.", j.Lens, j.Refusal))
	case len(vetoes) > 0:
		notes = append(notes, fmt.Sprintf("The nearest to it is %q: %s.", j.Lens, vetoes[0].Reason))
	case j.Standing == engine.Undecided:
		notes = append(notes, fmt.Sprintf("Too little is known of %q to say whether it does: find out its %s.", j.Lens, strings.Join(j.Missing, ", ")))
	default:
		notes = append(notes, fmt.Sprintf("%q would do it, and is not in the kit.", j.Lens))
	}
	notes = append(notes, lightNotes(answer.Shot, j, p)...)
	if j = nearest(answer, func(j *engine.Judgement) bool { return !math.IsNaN(j.Fact(facts.RigMass)) }); j != nil {
		notes = append(notes, riggingOf(r, answer.Shot, j, nil, p).Problems...)
	}
	return notes
}

// nearest gives the lens with the fewest vetoes, of those that fit the camera if any does,
// among the lenses of a kind; nil when there is none.
func nearest(answer *engine.ShotAnswer, of func(*engine.Judgement) bool) *engine.Judgement {
	short := func(j *engine.Judgement) int {
		if j.Refusal != "" {
			return math.MaxInt
		}
		return len(j.Vetoes())
	}
	var best *engine.Judgement
	for i := range answer.Ranking {
		if j := &answer.Ranking[i]; of(j) && (best == nil || short(j) < short(best)) {
			best = j
		}
	}
	return best
}
