package rules

import (
	"fmt"
	"math"
	"slices"

	"github.com/expr-lang/expr/ast"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A preference that is not met still scores: the least that a comparison does, however far it
// is missed, and what any other condition does.
const (
	leastMissed = 0.1
	missed      = 0.5
)

// With gives the set with what one shot asks for, as the criterion "brief". A need
// excludes the lenses that do not meet it, with the code "need-1" and so on. Each
// preference is a score of weight 1: see preference. With errors the set is that
// without the faulty parts, and is not to judge by.
func (s *Set) With(needs, prefers []lang.Expression) (*Set, lang.Diagnostics) {
	if len(needs)+len(prefers) == 0 {
		return s, nil
	}
	with := *s
	l := &loader{set: &with}
	brief := &Criterion{Name: briefName, About: "What the shot itself asks for.", Weight: 1}
	for i, need := range needs {
		checked, reason := l.asked(need)
		if checked != nil {
			code := fmt.Sprintf("need-%d", i+1)
			brief.Vetoes = append(brief.Vetoes, Veto{Code: code, Reason: reason, Condition: newCondition(checked), need: true})
		}
	}
	for _, prefer := range prefers {
		checked, reason := l.asked(prefer)
		if checked == nil {
			continue
		}
		brief.Scores = append(brief.Scores, Score{Checked: checked, reads: factsOf(checked), value: preference(checked)})
		if reason != nil {
			brief.Reasons = append(brief.Reasons, *reason)
		}
	}
	with.criteria = append(slices.Clone(s.criteria), brief)
	return &with, l.found.Sorted()
}

// asked checks a need or preference and its reason.
func (l *loader) asked(e lang.Expression) (*expression.Checked, *Text) {
	if !e.Known() {
		return nil, nil // already reported
	}
	return l.check(e.Span, expression.WantTruth), l.text(e.Because)
}

// preference makes a score of a condition: 1 when it holds. A comparison that does not
// hold scores how near it comes, as the lesser side divided by the greater, but at least
// 0.1; sides of which that makes no sense, such as negative ones, score 0.1. Any other
// condition that does not hold scores 0.5. A side that is NaN leaves it unknown.
func preference(checked *expression.Checked) number {
	holds := compileTruth(checked)
	n, isBinary := checked.Node.(*ast.BinaryNode)
	if !isBinary || !slices.Contains([]string{"<", "<=", ">", ">="}, n.Operator) {
		return func(r *facts.Record) float64 {
			if holds(r) {
				return 1
			}
			return missed
		}
	}
	b := builder{checked.Names}
	wantsLess, wantsMore := b.number(n.Left).load(), b.number(n.Right).load()
	if n.Operator[0] == '>' {
		wantsLess, wantsMore = wantsMore, wantsLess
	}
	return func(r *facts.Record) float64 {
		less, more := wantsLess(r), wantsMore(r)
		switch {
		case holds(r):
			return 1
		case math.IsNaN(less) || math.IsNaN(more):
			return math.NaN()
		case less > 0 && more > leastMissed*less:
			return more / less
		}
		return leastMissed
	}
}
