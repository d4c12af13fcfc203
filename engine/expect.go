package engine

import (
	"context"
	"fmt"
	"slices"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// CheckExpectations chooses the kit and compares it with the "expect" statements of the
// scenario: each that does not hold is reported with what came instead. It fails as
// [Recommend] does, without expectations too.
func CheckExpectations(ctx context.Context, s *brief.Scenario) (lang.Diagnostics, error) {
	table, err := Judge(ctx, s, Options{})
	if err != nil {
		return nil, err
	}
	choice, err := table.Choose(s.Limits, Options{})
	if err != nil {
		return nil, err
	}
	return choice.Kit.Breaks(s), nil
}

// Breaks compares a kit with the "expect" statements of its scenario: each that does not hold is reported with
// what came instead.
func (k *Kit) Breaks(s *brief.Scenario) (broken lang.Diagnostics) {
	for _, expect := range s.Expects {
		if summary := brokenBy(&expect, k, s.Shots); summary != "" {
			broken.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.ExpectationBroken, Span: expect.Span, Summary: summary,
				Detail: "If the new answer is right, change the expectation; \"recommend\" gives the reasons.",
			})
		}
	}
	return broken
}

// SameLenses reports whether two lists name the same lenses, in whatever order.
func SameLenses(a, b []string) bool {
	return slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// brokenBy says how a kit breaks the expectation, or gives "".
func brokenBy(e *brief.Expectation, k *Kit, shots []*brief.Shot) string {
	if e.Kit != nil {
		if !SameLenses(e.Kit, k.Lenses) {
			if len(k.Lenses) == 0 {
				return "the kit is empty"
			}
			return "the kit is " + lang.QuotedAll(k.Lenses)
		}
		return ""
	}
	for i, use := range k.Uses {
		switch {
		case shots[i].ID != e.Shot:
		case use == "":
			return fmt.Sprintf("no lens of the kit does shot %q", e.Shot)
		case use != e.Lens:
			return fmt.Sprintf("shot %q is done with %q", e.Shot, use)
		}
	}
	return ""
}
