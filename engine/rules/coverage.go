package rules

import (
	"fmt"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A Coverage tells what of some criteria the cases have touched: each veto by excluding, each
// limit by biting, each score by having a value, each condition both ways, and both sides of
// each "condition ? value : value".
type Coverage struct {
	set    *Set
	points []Point
}

// A Point is one thing that a case can touch.
type Point struct {
	Kind    string // "veto", "limit", "score", "when", "branch" or "fact"
	Of      string // the criterion, or the fact of a rules file
	Text    string // what is touched, in words
	Span    lang.Span
	Touched bool

	hit func(*facts.Record) bool
}

// Coverage gives the points of what a source defines, none of them touched.
func (s *Set) Coverage(source *lang.Source) *Coverage {
	c := &Coverage{set: s}
	for i := range s.facts {
		fact := &s.facts[i]
		if fact.Span.Source == source {
			c.fact(fact)
		}
	}
	for _, criterion := range s.criteria {
		if criterion.Span.Source == source {
			c.criterion(criterion)
		}
	}
	return c
}

// Points gives the points in the order of the files.
func (c *Coverage) Points() []Point { return c.points }

func (c *Coverage) touch(r *facts.Record) {
	for i := range c.points {
		c.points[i].Touched = c.points[i].Touched || c.points[i].hit(r)
	}
}

func (c *Coverage) add(kind, of, text string, span lang.Span, hit func(*facts.Record) bool) {
	c.points = append(c.points, Point{Kind: kind, Of: of, Text: text, Span: span, hit: hit})
}

func (c *Coverage) fact(f *Fact) {
	known := func(r *facts.Record) bool { return !f.reads.Meets(&r.Unknown) }
	c.add("fact", f.Name, "its value", f.Span, func(r *facts.Record) bool {
		_, known := r.Get(f.id)
		return known
	})
	c.branches(f.Name, f.Checked, known)
}

func (c *Coverage) criterion(of *Criterion) {
	if of.When != nil {
		c.add("when", of.Name, "that it applies", of.When.Span, of.applies)
		c.add("when", of.Name, "that it does not apply", of.When.Span, func(r *facts.Record) bool { return of.When.known(r) && !of.When.holds(r) })
		c.branches(of.Name, of.When.Checked, of.When.known)
	}
	for i := range of.Vetoes {
		veto := &of.Vetoes[i]
		c.add("veto", of.Name, fmt.Sprintf("that %q excludes", veto.Code), veto.Span, func(r *facts.Record) bool { return of.applies(r) && veto.raised(r) })
		c.branches(of.Name, veto.Checked, func(r *facts.Record) bool { return of.applies(r) && veto.known(r) })
	}
	for i := range of.Limits {
		limit := &of.Limits[i]
		bites := func(r *facts.Record) bool { return of.applies(r) && limit.desirability(r) < 1 }
		c.add("limit", of.Name, fmt.Sprintf("that %q bites", limit.Code), limit.Span, bites)
		c.branches(of.Name, limit.Checked, func(r *facts.Record) bool {
			value := limit.at(r)
			return of.applies(r) && value == value // not NaN
		})
	}
	for i := range of.Scores {
		score := &of.Scores[i]
		known := func(r *facts.Record) bool {
			value := score.at(r)
			return of.applies(r) && value == value // not NaN
		}
		c.add("score", of.Name, "its score", score.Span, known)
		c.branches(of.Name, score.Checked, known)
	}
}

// branches adds both sides of each choice in an expression. A side is touched when the
// choices around it come to it and its own condition does.
func (c *Coverage) branches(of string, checked *expression.Checked, known func(*facts.Record) bool) {
	type side struct {
		span lang.Span
		hit  func(*facts.Record) bool
	}
	var sides []side
	for _, choice := range checked.Choices {
		holds := builder{checked.Names}.truth(choice.Condition)
		sides = append(sides, side{choice.Yes, holds}, side{choice.No, func(r *facts.Record) bool { return !holds(r) }})
	}
	for _, s := range sides {
		var path []func(*facts.Record) bool
		for _, around := range sides {
			if around.span.Start <= s.span.Start && s.span.End <= around.span.End {
				path = append(path, around.hit) // itself, and the sides that it lies in
			}
		}
		c.add("branch", of, fmt.Sprintf("the side %q", s.span.Text()), s.span, func(r *facts.Record) bool {
			if !known(r) {
				return false
			}
			for _, hit := range path {
				if !hit(r) {
					return false
				}
			}
			return true
		})
	}
}
