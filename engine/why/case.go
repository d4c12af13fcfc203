package why

import (
	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/engine/taste"
)

// A Case is all that is behind the judgement of one lens in one shot.
type Case struct {
	Recommendation *engine.Recommendation
	Shot           *engine.ShotAnswer
	Lens           *engine.Judgement
	Against        *engine.Judgement // the lens to compare with; nil when there is no other
	Trace          []rules.Trace
	Turns          []Turn
	Rescue         *Rescue     // of a shot that no lens of the house does; nil of another
	Duel           *taste.Duel // of the two lenses over all weightings; nil where one of them may not be brought
}

// A Turn is a judgement that would be another one, and the changes that bring it about.
type Turn struct {
	Lens    *catalog.Lens // that gains
	Over    *catalog.Lens // that it would come before; nil when it would not be excluded any more
	Changes []BriefChange
	Filter  *FilterWant // with which the lens would do the shot, where too much light excludes it; nil elsewhere
}

// Of looks into the judgement of a lens in a shot of a recommendation that holds two lenses of each
// ranking at least. Against is the lens to compare with; nil for the best other one.
func Of(r *engine.Recommendation, shot *engine.ShotAnswer, lens, against *engine.Judgement) *Case {
	c := &Case{Recommendation: r, Shot: shot, Lens: lens, Against: against}
	for i := range shot.Ranking {
		if j := &shot.Ranking[i]; c.Against == nil && j.Lens != lens.Lens && j.Standing == engine.Judged {
			c.Against = j
		}
	}
	c.Trace = shot.Shot.RulesFor(lens.Lens).Trace(lens.Facts)
	c.turn()
	if t := r.Table; c.Against != nil {
		c.Duel = taste.DuelOf(t, shot.Place(r.Scenario), t.Place(lens.Lens), t.Place(c.Against.Lens))
	}
	c.Rescue = RescueOf(r.Table, shot.Place(r.Scenario))
	return c
}

// With gives the case with its lenses judged otherwise, under other values of assumed figures.
func (c *Case) With(lens, against *engine.Judgement) *Case {
	other := *c
	other.Lens, other.Against = lens, against
	other.Trace = c.Shot.Shot.RulesFor(lens.Lens).Trace(lens.Facts)
	return &other
}

// turn looks for what would turn the judgement.
func (c *Case) turn() {
	on := c.Recommendation.Table.Bench()
	s, camera, shot := c.Recommendation.Scenario, c.Recommendation.Camera, c.Shot.Shot
	if c.Lens.Standing == engine.Excluded {
		lens, _ := s.Catalogue.Lenses.Lookup(c.Lens.Lens)
		table := c.Recommendation.Table
		c.Turns = append(c.Turns, Turn{lens, nil, Changes(s, camera, shot, Lifted(on, lens)), FilterFor(table, c.Shot.Place(s), table.Place(c.Lens.Lens))})
	}
	if c.Against == nil || c.Against.Lens == c.Lens.Lens {
		return
	}
	behind, ahead := c.Lens, c.Against
	if behind.Standing < ahead.Standing || behind.Standing == ahead.Standing && behind.Score > ahead.Score {
		behind, ahead = ahead, behind
	}
	loser, _ := s.Catalogue.Lenses.Lookup(behind.Lens)
	winner, _ := s.Catalogue.Lenses.Lookup(ahead.Lens)
	c.Turns = append(c.Turns, Turn{loser, winner, Changes(s, camera, shot, Overtakes(on, loser, winner)), nil})
}

// A Value is a fact with what it is for the lens of a case.
type Value struct {
	Name, Meaning, Formula string
	Scope                  string // of the fact; "rules" for one that a rules file defines
	Source                 string // of the formula, or the place in the rules file
	Unit                   string // that it is written in; "money" is in the currency of the brief
	Truth                  bool   // it is 1 or 0
	Known                  bool
	SI                     float64
}

// Values lists every fact of the case: those of the table, then those that the rules define.
func (c *Case) Values() []Value {
	var all []Value
	add := func(id facts.ID, v Value) {
		v.SI, v.Known = c.Lens.Facts.Get(id)
		all = append(all, v)
	}
	for id, f := range facts.Table() {
		add(facts.ID(id), Value{
			Name: f.Name, Meaning: f.Meaning, Formula: f.Formula, Scope: f.Scope.String(), Source: f.Source, Unit: f.Unit, Truth: f.Truth,
		})
	}
	set := c.Shot.Shot.Rules
	for _, f := range set.Facts() {
		index, _ := set.Names().Lookup(f.Name)
		name := set.Names().Name(index)
		add(facts.ID(index), Value{
			Name: f.Name, Meaning: name.Meaning, Formula: f.Text(), Scope: "rules", Source: f.Span.String(), Unit: name.Unit,
		})
	}
	return all
}
