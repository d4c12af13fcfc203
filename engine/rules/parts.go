package rules

import (
	"fmt"
	"math"
	"slices"

	"glassbrief/engine/facts"
	"glassbrief/lang/expression"
)

// Parts are the vetoes, limits and scores of a set by the class of what they read, so that
// a search over set-ups judges anew only what a step of it changes. The product of the
// factors of all classes orders the records of one shot and lens as [Set.Judge] does.
type Parts struct {
	set    *Set
	pieces [][]piece // by class
	// Conditional holds the facts that the conditions of the criteria read.
	Conditional facts.Set
	reads       []facts.Set // by class
	conditions  []facts.Set // by class: what the conditions of its pieces read
	scale       float64     // of the exponents: a product of many small scores would underflow
}

// A piece is one veto, limit or score.
type piece struct {
	criterion int
	reads     facts.Set // with those of the condition of the criterion
	veto      *Veto
	limit     *Limit
	score     *Score
}

// Parts parts the set into classes, of which class gives one for each piece by the facts
// that the piece looks at, those behind the facts of rules files included.
func (s *Set) Parts(classes int, class func(reads facts.Set) int) *Parts {
	p := &Parts{set: s, pieces: make([][]piece, classes), reads: make([]facts.Set, classes), conditions: make([]facts.Set, classes)}
	var condition facts.Set
	put := func(reads facts.Set, one piece) {
		k := class(reads)
		p.conditions[k] = p.conditions[k].Or(condition)
		one.reads = reads.Or(condition)
		p.pieces[k] = append(p.pieces[k], one)
		p.reads[k] = p.reads[k].Or(reads)
	}
	weight := 0.0
	for i, c := range s.criteria {
		weight += c.Weight * float64(len(c.Scores))
		condition = facts.Set{}
		if c.When != nil {
			condition = s.looksAt(c.When.Checked)
			p.Conditional = p.Conditional.Or(condition)
		}
		for j := range c.Vetoes {
			put(s.looksAt(c.Vetoes[j].Checked), piece{criterion: i, veto: &c.Vetoes[j]})
		}
		for j := range c.Limits {
			put(s.looksAt(c.Limits[j].Checked), piece{criterion: i, limit: &c.Limits[j]})
		}
		for j := range c.Scores {
			put(s.looksAt(c.Scores[j].Checked), piece{criterion: i, score: &c.Scores[j]})
		}
	}
	p.scale = min(1, mostWeight/weight)
	return p
}

// Limits reports whether a class holds a limit.
func (p *Parts) Limits(class int) bool {
	return slices.ContainsFunc(p.pieces[class], func(one piece) bool { return one.limit != nil })
}

// Excluding gives the place of the first piece of a class that excludes on its own and reads none
// of some facts, and -1 when none does, for less than judging costs.
func (p *Parts) Excluding(class int, r *facts.Record, besides facts.Set) int {
	if len(p.set.facts) > 0 {
		p.set.define(r)
	}
	for i := range p.pieces[class] {
		if one := &p.pieces[class][i]; !one.reads.Meets(&besides) && p.excludes(one, r) {
			return i
		}
	}
	return -1
}

// Excludes reports whether one piece of a class excludes. The record need hold no more than the
// facts that the piece reads.
func (p *Parts) Excludes(class, piece int, r *facts.Record) bool {
	if len(p.set.facts) > 0 {
		p.set.define(r)
	}
	return p.excludes(&p.pieces[class][piece], r)
}

func (p *Parts) excludes(one *piece, r *facts.Record) bool {
	switch {
	case one.veto != nil && one.veto.raised(r), one.limit != nil && one.limit.desirability(r) == 0:
		return p.set.criteria[one.criterion].applies(r)
	}
	return false
}

// Pieces gives the facts that the pieces of a class look at, piece by piece, with those of the
// conditions of their criteria.
func (p *Parts) Pieces(class int) []facts.Set {
	reads := make([]facts.Set, len(p.pieces[class]))
	for i := range reads {
		reads[i] = p.pieces[class][i].reads
	}
	return reads
}

// Mark marks what a class is: sets that share its pieces, as those of the shots of a scenario
// do but for what each shot asks for, share the mark.
func (p *Parts) Mark(class int) string {
	mark := fmt.Sprint(p.scale)
	for i := range p.pieces[class] {
		one := &p.pieces[class][i]
		mark += fmt.Sprintf(" %p %p %p", one.veto, one.limit, one.score)
	}
	return mark
}

// Alike reports whether a class holds the same pieces as it does of the parts of another set.
func (p *Parts) Alike(class int, other *Parts) bool {
	return slices.EqualFunc(p.pieces[class], other.pieces[class], func(a, b piece) bool {
		return a.veto == b.veto && a.limit == b.limit && a.score == b.score
	})
}

// Reads gives the facts that the pieces of a class look at.
func (p *Parts) Reads(class int) facts.Set { return p.reads[class] }

// Conditions gives the facts that the conditions of the criteria of a class's pieces look at.
func (p *Parts) Conditions(class int) facts.Set { return p.conditions[class] }

// Known holds what of a set can be judged of one shot, lens and focal length, which no
// set-up changes.
type Known struct {
	of      *Parts
	applies []bool   // by criterion
	pieces  [][]bool // by class
	weight  float64  // of the scores that are known
	scale   float64
}

// mostWeight bounds the exponents of a product of scores: 0.05^100 is above 1e-131, and the
// classes multiply.
const mostWeight = 60

// Look finds out what is known of a record that holds all facts that the set looks at, and
// keeps it in k, whose memory is used again.
func (p *Parts) Look(r *facts.Record, k *Known) {
	p.begin(k)
	p.set.define(r)
	for i, c := range p.set.criteria {
		k.applies[i] = c.applies(r)
	}
	k.weight = 0
	for class, pieces := range p.pieces {
		for i := range pieces {
			one := &pieces[i]
			known := k.applies[one.criterion]
			switch {
			case !known:
			case one.veto != nil:
				known = one.veto.known(r)
			case one.limit != nil:
				known = !one.limit.reads.Meets(&r.Unknown)
			default:
				value := one.score.desirability(r)
				if known = value == value; known { // not NaN
					k.weight += p.set.criteria[one.criterion].Weight
				}
			}
			k.pieces[class][i] = known
		}
	}
}

func (p *Parts) begin(k *Known) {
	if k.of == p {
		return
	}
	k.of, k.applies, k.pieces, k.scale = p, make([]bool, len(p.set.criteria)), make([][]bool, len(p.pieces)), p.scale
	for class := range p.pieces {
		k.pieces[class] = make([]bool, len(p.pieces[class]))
	}
}

// Assume takes everything for known and all criteria to apply.
func (p *Parts) Assume(k *Known) {
	p.begin(k)
	k.weight = 0
	for class, pieces := range p.pieces {
		for i := range pieces {
			k.pieces[class][i] = true
			if pieces[i].score != nil {
				k.weight += p.set.criteria[pieces[i].criterion].Weight
			}
		}
	}
}

// Score turns a product of factors into the score that [Set.Judge] gives.
func (k *Known) Score(product float64) float64 {
	if k.weight == 0 {
		return product
	}
	return math.Pow(product, 1/(k.weight*k.scale))
}

// Factor gives what the pieces of a class leave of the product: each score to the power of
// its weight, each limit to that of all weights, 0 when a veto is raised. Excluding, and a
// score of 0, count as lenient, so that of set-ups that are all excluded the least bad is found.
// Pieces only take away: once no more than enough is left, Factor gives that and stops.
func (p *Parts) Factor(class int, r *facts.Record, k *Known, lenient, enough float64) float64 {
	if len(p.set.facts) > 0 {
		p.set.define(r)
	}
	product := 1.0
	for i := range p.pieces[class] {
		if !k.pieces[class][i] {
			continue
		}
		switch one := &p.pieces[class][i]; {
		case one.veto != nil:
			if one.veto.holds(r) != one.veto.need {
				product *= lenient
			}
		case one.limit != nil:
			switch value := one.limit.value(r); {
			case value >= 1:
			case value > 0 && k.weight > 0:
				product *= math.Pow(value, k.weight*k.scale)
			case value > 0:
				product *= value
			case value <= 0:
				product *= lenient
			}
		default:
			product *= power(max(clamp(one.score.value(r)), lenient), p.set.criteria[one.criterion].Weight*k.scale)
		}
		if product <= enough {
			break
		}
	}
	return product
}

func clamp(value float64) float64 { return min(1, max(0, value)) }

// power is math.Pow for exponents that are small whole numbers as a rule.
func power(value, exponent float64) float64 {
	times := int(exponent)
	if float64(times) != exponent || times > mostTimes {
		return math.Pow(value, exponent)
	}
	product := 1.0
	for range times {
		product *= value
	}
	return product
}

// looksAt gives the facts that an expression looks at, those behind the facts of rules
// files included.
func (s *Set) looksAt(e *expression.Checked) (set facts.Set) {
	addMentions(&set, e)
	for i := len(s.facts) - 1; i >= 0; i-- { // a fact reads those before it
		if set.Has(s.facts[i].id) {
			addMentions(&set, s.facts[i].Checked)
		}
	}
	return set
}
