package rules

import (
	"math"

	"glassbrief/engine/facts"
)

// Unweighed is what a set says of one record before its criteria are weighed: it is judged by any
// weights without looking at the record again.
type Unweighed struct {
	Excluded bool
	Limit    float64  // the product of the limits that are known
	Aspects  []Aspect // by criterion, in the order of [Set.Criteria]
}

// An Aspect is what one criterion says of a record, whatever it weighs.
type Aspect struct {
	// Applies says whether the criterion is known to apply. Where it does not, it counts for nothing.
	Applies bool
	// Complete says whether its vetoes, limits and scores are all known.
	Complete bool
	// Scores is how many of its scores are known: none or one, of a brief as many as it prefers. Each
	// has the weight of the criterion.
	Scores int
	// Log is the sum of their natural logarithms: 0 for a full score, -Inf for a score of 0.
	Log    float64
	Weight float64 // of the criterion in the set
}

// Known gives how many scores count.
func (a *Aspect) Known() int {
	if !a.Applies {
		return 0
	}
	return a.Scores
}

// Unweighed judges a record by everything but the weights. It fills in the facts that the files
// define, and changes nothing else in the record.
func (s *Set) Unweighed(r *facts.Record) Unweighed {
	s.define(r)
	u := Unweighed{Limit: 1, Aspects: make([]Aspect, len(s.criteria))}
	for i, c := range s.criteria {
		a := &u.Aspects[i]
		a.Weight = c.Weight
		if a.Applies = c.applies(r); !a.Applies {
			continue
		}
		out, factor, complete := c.bars(r)
		u.Excluded, u.Limit, a.Complete = u.Excluded || out, u.Limit*factor, complete
		for j := range c.Scores {
			score := c.Scores[j].desirability(r)
			if math.IsNaN(score) {
				a.Complete = false
				continue
			}
			a.Scores++
			a.Log += log(score)
		}
	}
	return u
}

// Judge gives what [Set.Judge] gives with these weights, which are not below zero, in the order of the
// criteria. Criteria behind the last weight keep their own: of a shot these are its preferences.
func (u *Unweighed) Judge(weights []float64) Judgement {
	var logs, scored, known, all float64
	for i := range u.Aspects {
		a := &u.Aspects[i]
		weight := a.Weight
		if i < len(weights) {
			weight = weights[i]
		}
		if !a.Applies || weight == 0 {
			continue
		}
		all += weight
		if a.Complete {
			known += weight
		}
		scored += weight * float64(a.Scores)
		logs += weight * a.Log
	}
	score := math.NaN()
	if scored > 0 {
		score = math.Exp(logs/scored) * u.Limit
	}
	return judgementOf(u.Excluded, score, known, all)
}
