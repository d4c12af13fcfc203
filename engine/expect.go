package engine

import (
	"context"
	"fmt"
	"slices"

	"glassbrief/lang"
)

// CheckExpectations compares the recommendation with the "expect" statements of the
// scenario, and reports each that does not hold with what came instead.
func CheckExpectations(ctx context.Context, s *Scenario) (lang.Diagnostics, error) {
	if len(s.Expects) == 0 {
		return nil, nil
	}
	answer, err := Recommend(ctx, s, Options{})
	if err != nil {
		return nil, err
	}
	var broken lang.Diagnostics
	for _, expect := range s.Expects {
		if summary := answer.breaks(expect); summary != "" {
			broken.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.ExpectationBroken, Span: expect.Span, Summary: summary,
				Detail: "If the new answer is right, change the expectation; \"recommend\" gives the reasons.",
			})
		}
	}
	return broken, nil
}

// breaks says how the answer breaks an expectation, or gives "".
func (r *Recommendation) breaks(e Expectation) string {
	if e.Kit != nil {
		want, got := slices.Sorted(slices.Values(e.Kit)), slices.Sorted(slices.Values(r.Kit.Lenses))
		if !slices.Equal(want, got) {
			return fmt.Sprintf("the kit is %s", listed(r.Kit.Lenses))
		}
		return ""
	}
	for i := range r.Shots {
		shot := &r.Shots[i]
		switch {
		case shot.Shot.ID != e.Shot:
		case shot.Use == nil:
			return fmt.Sprintf("no lens of the kit does shot %q", e.Shot)
		case shot.Use.Lens != e.Lens:
			return fmt.Sprintf("shot %q is done with %q", e.Shot, shot.Use.Lens)
		}
	}
	return ""
}

func listed(lenses []string) string {
	if len(lenses) == 0 {
		return "empty"
	}
	text := ""
	for i, lens := range lenses {
		switch {
		case i == 0:
		case i == len(lenses)-1:
			text += " and "
		default:
			text += ", "
		}
		text += fmt.Sprintf("%q", lens)
	}
	return text
}
