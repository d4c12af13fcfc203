package rules

import (
	"slices"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A Set is criteria ready to judge by. It is not changed once made, so that several
// goroutines may use it, each with records of its own.
type Set struct {
	names    *expression.Vocabulary
	facts    []Fact
	defined  map[string]lang.Span // facts, those with faults too
	criteria []*Criterion         // in the order of the files
	cases    []Case
}

// A Fact is one that a rules file defines.
type Fact struct {
	Name string
	Score
	id facts.ID
}

// Criteria gives the criteria in the order of the files.
func (s *Set) Criteria() []*Criterion { return slices.Clone(s.criteria) }

// Facts gives the facts that the files define, in their order.
func (s *Set) Facts() []Fact { return slices.Clone(s.facts) }

// Names gives the vocabulary with the facts that the files define.
func (s *Set) Names() *expression.Vocabulary { return s.names.Clone() }

// Weighing gives the set with other weights of its criteria, in their order. Criteria behind the last
// weight keep theirs.
func (s *Set) Weighing(weights []float64) *Set {
	weighed := *s
	weighed.criteria = slices.Clone(s.criteria)
	for i, weight := range weights {
		c := *s.criteria[i]
		c.Weight = weight
		weighed.criteria[i] = &c
	}
	return &weighed
}

// A Judgement says whether a lens is excluded from a shot and how good it is.
type Judgement struct {
	Excluded bool
	// Score is the weighted geometric mean of the criteria's scores times their limits,
	// whether or not the lens is excluded. It is NaN when no score is known.
	Score float64
	// Known is the share of the weight, of the criteria that apply, whose vetoes, limits and
	// scores are all known. The rest does not count in the score, so whoever shows the score shows
	// this too.
	Known float64
}

// Judge judges one record of facts. It fills in the facts that the files define, and
// changes nothing else in the record.
func (s *Set) Judge(r *facts.Record) Judgement {
	s.define(r)
	all := newMean()
	excluded, limit := false, 1.0
	var weight, known float64
	for _, c := range s.criteria {
		if !c.applies(r) {
			continue
		}
		weight += c.Weight
		out, factor, complete := c.bars(r)
		excluded, limit = excluded || out, limit*factor
		for i := range c.Scores {
			score := c.Scores[i].desirability(r)
			complete = complete && score == score // not NaN
			all.add(score, c.Weight)
		}
		if complete {
			known += c.Weight
		}
	}
	return judgementOf(excluded, all.value()*limit, known, weight)
}

// judgementOf joins what is known of the weight with the whole of it.
func judgementOf(excluded bool, score, known, weight float64) Judgement {
	j := Judgement{Excluded: excluded, Score: score, Known: 1}
	if weight > 0 {
		j.Known = known / weight
	}
	return j
}

// bars judges by the vetoes and limits of a criterion that applies: whether they exclude, the
// factor of the limits that are known, and whether all are.
func (c *Criterion) bars(r *facts.Record) (excluded bool, limit float64, complete bool) {
	limit, complete = 1, true
	for i := range c.Vetoes {
		veto := &c.Vetoes[i]
		known := veto.known(r)
		complete = complete && known
		excluded = excluded || known && veto.holds(r) != veto.need
	}
	for i := range c.Limits {
		factor := c.Limits[i].desirability(r)
		excluded = excluded || factor == 0
		if factor == factor { // not NaN
			limit *= factor
		} else {
			complete = false
		}
	}
	return excluded, limit, complete
}

// Excludes reports whether [Set.Judge] would exclude, for less than judging costs.
func (s *Set) Excludes(r *facts.Record) bool {
	s.define(r)
	for _, c := range s.criteria {
		if !c.applies(r) {
			continue
		}
		for i := range c.Vetoes {
			if c.Vetoes[i].raised(r) {
				return true
			}
		}
		for i := range c.Limits {
			if c.Limits[i].desirability(r) == 0 {
				return true
			}
		}
	}
	return false
}

// define computes the facts that the files define. What comes out as NaN is unknown.
func (s *Set) define(r *facts.Record) {
	for i := range s.facts {
		r.Set(s.facts[i].id, s.facts[i].at(r))
	}
}
