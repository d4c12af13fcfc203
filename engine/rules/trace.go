package rules

import (
	"math"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A Trace shows how a criterion came to its finding.
type Trace struct {
	Finding
	When   *Line // nil when the criterion always applies
	Vetoes []Line
	Limits []Line
	Scores []Line
	// Share is the part of the weight of all scores that are known, 0 when this one is
	// not. The total score is the product of all scores, each to the power of its share,
	// and of all limits.
	Share float64
}

// A Line is one expression of a criterion.
type Line struct {
	Code   string  // of a veto or limit
	Text   string  // as the file has it
	Values Reason  // the text with the values of the facts in it
	Known  bool    // whether it has a value
	Holds  bool    // of a condition: whether it is met; of a veto or limit: whether it excludes the lens
	Value  float64 // of a score or limit: the desirability from 0 to 1, NaN when it is unknown
}

// Trace explains a record expression by expression, in the order of the files.
func (s *Set) Trace(r *facts.Record) []Trace {
	s.define(r)
	traces := make([]Trace, len(s.criteria))
	weight := 0.0
	for i, c := range s.criteria {
		t := Trace{Finding: s.find(c, r)}
		if c.When != nil {
			line := c.When.line(r)
			t.When = &line
		}
		for i := range c.Vetoes {
			veto := &c.Vetoes[i]
			line := veto.line(r)
			line.Code, line.Holds = veto.Code, veto.raised(r)
			t.Vetoes = append(t.Vetoes, line)
		}
		for i := range c.Limits {
			line := c.Limits[i].line(r)
			line.Code, line.Holds = c.Limits[i].Code, line.Value == 0
			t.Limits = append(t.Limits, line)
		}
		for i := range c.Scores {
			line := c.Scores[i].line(r)
			t.Scores = append(t.Scores, line)
			if t.Applies && line.Known {
				t.Share += c.Weight
			}
		}
		weight += t.Share
		traces[i] = t
	}
	for i := range traces {
		if weight > 0 {
			traces[i].Share /= weight
		}
	}
	return traces
}

func (c *Condition) line(r *facts.Record) Line {
	known := c.known(r)
	return Line{Text: c.Text(), Values: filled(c.Checked, r), Known: known, Holds: known && c.holds(r)}
}

func (s *Score) line(r *facts.Record) Line {
	value := s.desirability(r)
	return Line{Text: s.Text(), Values: filled(s.Checked, r), Known: !math.IsNaN(value), Value: value}
}

// filled says an expression with the values of a record.
func filled(checked *expression.Checked, r *facts.Record) Reason {
	return Reason{func(r *facts.Record, printer lang.Printer) string {
		return checked.Fill(func(index int) string { return show(checked.Names.Name(index), r, index, printer) })
	}, r}
}

// show writes the value of a fact in its own unit.
func show(name expression.Name, r *facts.Record, index int, printer lang.Printer) string {
	value, known := r.Get(facts.ID(index))
	switch {
	case !known:
		return "unknown"
	case name.Kind == expression.Truth && value == 1:
		return "true"
	case name.Kind == expression.Truth:
		return "false"
	}
	return printer.Quantity(value, name.Unit)
}
