package rules

import (
	"fmt"
	"slices"

	"glassbrief/lang"
	"glassbrief/lang/expression"
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
	brief := &Criterion{Name: BriefName, About: "What the shot itself asks for.", Weight: 1}
	for i, need := range needs {
		checked, reason := l.asked(need)
		if checked != nil {
			code := fmt.Sprintf("need-%d", i+1)
			brief.Vetoes = append(brief.Vetoes, Veto{Code: code, Reason: reason, Condition: *newCondition(checked), need: true})
		}
	}
	for _, prefer := range prefers {
		checked, reason := l.asked(prefer)
		if checked == nil {
			continue
		}
		brief.Lacks = append(brief.Lacks, Lack{condition: already(newCondition(checked)), wish: true})
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
