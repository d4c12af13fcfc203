package rules

import (
	"glassbrief/engine/facts"
	"glassbrief/lang/expression"
)

// Reads gives the facts that judging by the set looks at, those it only asks about
// included. What only reasons show is not among them.
func (s *Set) Reads() facts.Set {
	var set facts.Set
	read := func(checked *expression.Checked) { addMentions(&set, checked) }
	for i := range s.facts {
		read(s.facts[i].Checked)
	}
	for _, c := range s.criteria {
		if c.When != nil {
			read(c.When.Checked)
		}
		for i := range c.Vetoes {
			read(c.Vetoes[i].Checked)
		}
		for i := range c.Limits {
			read(c.Limits[i].Checked)
		}
		for i := range c.Scores {
			read(c.Scores[i].Checked)
		}
	}
	return set
}

func addMentions(set *facts.Set, checked *expression.Checked) {
	for _, index := range checked.Mentions {
		set.Add(facts.ID(index))
	}
}
