package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// An Explanation is a judgement with what led to it.
type Explanation struct {
	Judgement
	Criteria []Finding // in the order of the files
}

// A Finding is what one criterion says about a record.
type Finding struct {
	*Criterion
	// Applies says whether the criterion's condition holds. When it is not known the
	// criterion does not apply either, and Unknown says why.
	Applies bool
	// Score is the desirability from 0 to 1, NaN when there is none or it is unknown.
	// Several scores are joined as a geometric mean.
	Score float64
	// Unknown names the facts whose lack kept part of the criterion from being judged,
	// and quotes expressions that have no value although their facts are known.
	Unknown []string
	// Raised holds the vetoes, and the limits at 0, that exclude the lens.
	Raised []Raised
	// Bites holds the limits between 0 and 1, which lower the whole score.
	Bites []Raised
	// Said holds the criterion's reasons.
	Said []Reason

	record *facts.Record
}

// Lacking says what keeps the score below 1, nil where nothing does or the rules have no
// words for it.
func (f *Finding) Lacking() *Reason {
	if f.Score < 1 {
		return f.lacking(f.record)
	}
	return nil
}

// Limiting gives the limits that lower the whole score, in the order of the file, those that
// exclude included.
func (f *Finding) Limiting() []Raised {
	var all []Raised
	for i := range f.Limits {
		for _, list := range [][]Raised{f.Raised, f.Bites} {
			if k := slices.IndexFunc(list, func(r Raised) bool { return r.Code == f.Limits[i].Code }); k >= 0 {
				all = append(all, list[k])
			}
		}
	}
	return all
}

// Leaves gives what the limits that are known leave of the whole score, 1 for all of it.
func (f *Finding) Leaves() float64 {
	left := 1.0
	for _, limit := range f.Limiting() {
		left *= limit.Factor
	}
	return left
}

// Raised is a veto or a limit that excludes a lens or lowers its score.
type Raised struct {
	Code string
	Reason
	Factor float64 // on the score; 0 when it excludes
}

// A Reason is what a criterion says of a record, as the author of the rules worded it.
type Reason struct {
	write  func(r *facts.Record, printer lang.Printer) string
	record *facts.Record
}

// In writes the reason with the values of the record put in, in the printer's units.
func (r Reason) In(printer lang.Printer) string { return r.write(r.record, printer) }

// Explain judges as [Set.Judge] does and says why. Reasons and what is lacking read the record
// when they are asked for, so it must not change before.
func (s *Set) Explain(r *facts.Record) Explanation {
	e := Explanation{Judgement: s.Judge(r)}
	for _, c := range s.criteria {
		e.Criteria = append(e.Criteria, s.find(c, r))
	}
	return e
}

func (s *Set) find(c *Criterion, r *facts.Record) Finding {
	f := Finding{Criterion: c, Score: math.NaN(), record: r}
	if f.Applies = c.applies(r); !f.Applies {
		if !c.When.known(r) {
			f.Unknown = s.unknown(f.Unknown, c.When.Checked, r)
		}
		return f
	}
	for i := range c.Vetoes {
		veto := &c.Vetoes[i]
		switch {
		case !veto.known(r):
			f.Unknown = s.unknown(f.Unknown, veto.Checked, r)
		case veto.raised(r):
			f.Raised = append(f.Raised, Raised{Code: veto.Code, Reason: because(veto.Reason, veto.Checked, veto.lead(), r)})
		}
	}
	for i := range c.Limits {
		limit := &c.Limits[i]
		factor := limit.desirability(r)
		if math.IsNaN(factor) {
			f.Unknown = s.unknown(f.Unknown, limit.Checked, r)
		}
		if factor < 1 {
			raised := Raised{limit.Code, because(limit.Reason, limit.Checked, "", r), factor}
			if factor == 0 {
				f.Raised = append(f.Raised, raised)
			} else {
				f.Bites = append(f.Bites, raised)
			}
		}
	}
	all := newMean()
	for i := range c.Scores {
		score := c.Scores[i].desirability(r)
		if math.IsNaN(score) {
			f.Unknown = s.unknown(f.Unknown, c.Scores[i].Checked, r)
		}
		all.add(score, c.Weight)
	}
	f.Score = all.value()
	for i := range c.Reasons {
		f.Said = append(f.Said, Reason{c.Reasons[i].render, r})
	}
	return f
}

// lacking gives the first lack that a record has.
func (c *Criterion) lacking(r *facts.Record) *Reason {
	for i := range c.Lacks {
		lack := &c.Lacks[i]
		condition := lack.condition()
		if !condition.known(r) || condition.holds(r) == lack.wish {
			continue
		}
		lead := ""
		if lack.wish {
			lead = "the brief prefers "
		}
		reason := because(lack.Reason, condition.Checked, lead, r)
		return &reason
	}
	return nil
}

// unknown adds to names what keeps an expression from having a value: the facts that it
// reads, or those that a fact of the files is made from. When all are known, the
// expression itself is at fault, and is quoted.
func (s *Set) unknown(names []string, checked *expression.Checked, r *facts.Record) []string {
	missing := false
	for _, index := range checked.Reads {
		if _, known := r.Get(facts.ID(index)); known {
			continue
		}
		missing = true
		if i := slices.IndexFunc(s.facts, func(f Fact) bool { return int(f.id) == index }); i >= 0 {
			names = s.unknown(names, s.facts[i].Checked, r)
		} else {
			names = appendNew(names, s.names.Name(index).Name)
		}
	}
	if !missing {
		names = appendNew(names, checked.Text())
	}
	return names
}

func appendNew(names []string, name string) []string {
	if slices.Contains(names, name) {
		return names
	}
	return append(names, name)
}

// because gives the reason of a veto, limit or lack: its own, or else its expression with the
// values of the facts in it, behind a lead.
func because(reason *Text, e *expression.Checked, lead string, r *facts.Record) Reason {
	if reason != nil {
		return Reason{reason.render, r}
	}
	return Reason{func(r *facts.Record, printer lang.Printer) string {
		parts := []string{lead + e.Text()}
		for _, index := range e.Reads {
			name := e.Names.Name(index)
			parts = append(parts, fmt.Sprintf("%s is %s", name.Name, show(name, r, index, printer)))
		}
		return strings.Join(parts, ", and ")
	}, r}
}
