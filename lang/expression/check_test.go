package expression

import (
	"fmt"
	"reflect"
	"strings"
	"sync"
	"testing"

	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// findings writes diagnostics as "code: text of the span", with the likeliest correction.
func findings(ds lang.Diagnostics) []string {
	var all []string
	for _, d := range ds {
		line := fmt.Sprintf("%s: %s", d.Code, d.Span.Text())
		if d.Instead != "" {
			line += " -> " + d.Instead
		}
		all = append(all, line)
	}
	return all
}

func TestCheckFaults(t *testing.T) {
	tests := []struct {
		name string
		text string
		want Want
		ds   []string
	}{
		{"mass against length", "near_limit < 2kg", WantTruth, []string{"wrong-dimension: near_limit < 2kg"}},
		{"share against length", "near_limit > 40%", WantTruth, []string{"wrong-dimension: near_limit > 40%"}},
		{"stops added to metres", "near_limit + 2 stops", WantNumber, []string{"wrong-dimension: near_limit + 2 stops"}},
		{"stops are not f-numbers", "stop_used - short_stops", WantNumber, []string{"wrong-dimension: stop_used - short_stops"}},
		{"two faults, the first poisons its sum only", "(near_limit + 2kg) * 2 < 3 and rig_mass > 2m", WantTruth,
			[]string{"wrong-dimension: near_limit + 2kg", "wrong-dimension: rig_mass > 2m"}},
		{"bare number against a length", "near_limit < 2", WantTruth, []string{"missing-unit: 2 -> 2m"}},
		{"bare number before a fact", "35 < focal_length", WantTruth, []string{"missing-unit: 35 -> 35mm"}},
		{"bare number against a T-number", "stop_used > 2.8", WantTruth, []string{"missing-unit: 2.8 -> T2.8"}},
		{"bare number against stops", "short_stops > 1", WantTruth, []string{"missing-unit: 1 -> 1 stops"}},
		{"bare sum", "near_limit < (1 + 1)", WantTruth, []string{"missing-unit: 1 + 1"}},
		{"every bare bound", "rising(near_limit, 1, 2)", WantScore, []string{"missing-unit: 1 -> 1m", "missing-unit: 2 -> 2m"}},
		{"branches differ", "focus_fixed ? 1m : 2kg", WantNumber, []string{"wrong-dimension: 1m : 2kg"}},
		{"branches of two kinds", "focus_fixed ? 1m : true", WantNumber, []string{"wrong-result: focus_fixed ? 1m : true"}},
		{"score with a dimension", "near_limit", WantScore, []string{"wrong-dimension: near_limit"}},
		{"score that is a truth", "near_limit < 2m", WantScore, []string{"wrong-result: near_limit < 2m"}},
		{"truth wanted", "held_focus", WantTruth, []string{"wrong-result: held_focus"}},
		{"number in and", "focus_fixed and held_focus", WantTruth, []string{"wrong-result: held_focus"}},
		{"truth in arithmetic", "focus_fixed * 2", WantNumber, []string{"wrong-result: focus_fixed"}},
		{"not binds before comparison", "not near_limit < 2m", WantTruth, []string{"wrong-result: near_limit"}},
		{"sign of a truth", "-focus_fixed", WantNumber, []string{"wrong-result: focus_fixed"}},
		{"condition that is a number", "held_focus ? 1 : 2", WantNumber, []string{"wrong-result: held_focus"}},
		{"numbers are not equal", "near_limit == 2m", WantTruth, []string{"not-allowed: near_limit == 2m"}},
		{"every unknown name", "nera_limit < far_limt and foo > 2", WantTruth,
			[]string{"unknown-name: nera_limit -> near_limit", "unknown-name: far_limt -> far_limit", "unknown-name: foo"}},
		{"unknown function and unknown name", "risng(near_limt, 1m, 2m)", WantScore,
			[]string{"unknown-name: risng -> rising", "unknown-name: near_limt -> near_limit"}},
		{"a unit is no name", "near_limit < m", WantTruth, []string{"unknown-name: m"}},
		{"unknown unit and wrong dimension", "near_limit < 2mmm or rig_mass < 2m", WantTruth,
			[]string{"unknown-unit: mmm -> mm", "wrong-dimension: rig_mass < 2m"}},
		{"exponent", "count < 1e3", WantTruth, []string{"bad-number: e3"}},
		{"hexadecimal", "count < 0x1F", WantTruth, []string{"bad-number: 0x1F"}},
		{"underscore in a number", "count < 1_000", WantTruth, []string{"bad-number: 1_000"}},
		{"number run into a name", "count < 2x", WantTruth, []string{"bad-number: 2x"}},
		{"too large", "count < 9" + strings.Repeat("0", 320), WantTruth, []string{"bad-number: 9" + strings.Repeat("0", 320)}},
		{"too large in lux", "EV9999 > 1lx", WantTruth, []string{"bad-number: EV9999"}},
		{"division by zero", "held_focus / (2 - 2)", WantScore, []string{"out-of-range: 2 - 2"}},
		{"fraction by zero", "1/0s", WantNumber, []string{"bad-number: /0"}},
		{"bounds backwards", "rising(held_focus, 90%, 40%)", WantScore, []string{"bad-interval: 90%, 40%"}},
		{"peak backwards", "peak(held_focus, 10%, 90%, 40%)", WantScore, []string{"bad-interval: 90%, 40%"}},
		{"too few values", "rising(held_focus, 40%)", WantScore, []string{"bad-expression: rising(held_focus, 40%)"}},
		{"too many values", "abs(held_focus, 40%)", WantScore, []string{"bad-expression: abs(held_focus, 40%)"}},
		{"no values", "max()", WantScore, []string{"bad-expression: max"}},
		{"function without values", "min > 2", WantTruth, []string{"bad-expression: min"}},
		{"fact with values", "near_limit(2) > 2m", WantTruth, []string{"bad-expression: near_limit"}},
		{"known of a number", "known(2m)", WantTruth, []string{"bad-expression: 2m"}},
		{"known of a sum", "known(near_limit + far_limit)", WantTruth, []string{"bad-expression: near_limit + far_limit"}},
		{"or_else of two kinds", "or_else(near_limit, true)", WantNumber, []string{"wrong-result: true"}},
		{"or_else of two dimensions", "or_else(near_limit, 2kg)", WantNumber, []string{"wrong-dimension: near_limit, 2kg"}},
		{"empty", "  ", WantTruth, []string{"missing-value:   "}},
		{"stops early", "near_limit <", WantTruth, []string{"bad-expression: "}},
		{"two values in a row", "near_limit held_focus", WantTruth, []string{"bad-expression: held_focus"}},
		{"open bracket", "(near_limit < (2m)", WantTruth, []string{"bad-expression: ("}},
		{"closed bracket", "near_limit) < 2m", WantTruth, []string{"bad-expression: )"}},
		{"single equals", "focus_fixed = true", WantTruth, []string{"not-allowed: ="}},
		{"typographic sign", "near_limit ≤ 2m", WantTruth, []string{"not-allowed: ≤ -> <="}},
		{"swapped sign", "near_limit => 2m", WantTruth, []string{"not-allowed: => -> >="}},
		{"stray character", "near_limit @ 2m", WantTruth, []string{"invalid-character: @"}},
		{"remainder", "count % 2 > 1", WantTruth, []string{"not-allowed: %"}},
		{"remainder of a group", "(count) % count > 1", WantTruth, []string{"not-allowed: %"}},
		{"texts", `near_limit contains "m"`, WantTruth, []string{"not-allowed: contains", `not-allowed: "m"`}},
		{"place behind a letter of two bytes", "near_limit < 2µm and far_limit < 2kg", WantTruth, []string{"wrong-dimension: far_limit < 2kg"}},
		{"brackets belong to the span", "(near_limit + far_limit) * rig_mass < (2m)", WantTruth,
			[]string{"wrong-dimension: (near_limit + far_limit) * rig_mass < (2m)"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			checked, ds := Check(spanOf(t, test.text), testNames(), test.want)
			if checked != nil {
				t.Errorf("Check(%q) gave an expression in spite of its faults", test.text)
			}
			if diff := cmp.Diff(findings(ds), test.ds); diff != "" {
				t.Errorf("Check(%q), got - want +:\n%s", test.text, diff)
			}
		})
	}
}

func TestCheckGood(t *testing.T) {
	tests := []struct {
		name  string
		text  string
		want  Want
		tree  string // as expr writes it: literals in SI units
		dim   lang.Dimension
		unit  string
		reads []int
	}{
		{"comparison", "near_limit < 2m", WantTruth, "near_limit < 2", lang.Plain, "", []int{0}},
		{"zero needs no unit", "near_limit > 0", WantTruth, "near_limit > 0", lang.Plain, "", []int{0}},
		{"feet and inches", "near_limit < 5ft 10in", WantTruth, "near_limit < 1.778", lang.Plain, "", []int{0}},
		{"percent, spaced or not", "held_focus < 12% or held_focus > 30 %", WantTruth, "held_focus < 0.12 or held_focus > 0.3", lang.Plain, "", []int{3}},
		{"stops", "short_stops > 1 1/2 stops", WantTruth, "short_stops > 1.5", lang.Plain, "", []int{8}},
		{"a fraction with a unit is one value", "shutter < 1/50s", WantTruth, "shutter < 0.02", lang.Plain, "", []int{6}},
		{"a fraction without is a division", "8/4/2", WantNumber, "8 / 4 / 2", lang.Plain, "", nil},
		{"a fact behind the stroke", "near_limit / 2m/shutter", WantNumber, "near_limit / 2 / shutter", lang.Rate, "Hz", []int{0, 6}},
		{"f-number", "stop_used < f/4 and T5.6 > stop_used", WantTruth, "stop_used < 4 and 5.6 > stop_used", lang.Plain, "", []int{7}},
		{"exposure value", "EV7", WantNumber, "320", lang.Illuminance, "lx", nil},
		{"whole numbers are floats", "count * 2", WantScore, "count * 2", lang.Plain, "", []int{9}},
		{"chain", "1m < near_limit <= 2m", WantTruth, "1 < near_limit && near_limit <= 2", lang.Plain, "", []int{0}},
		{"quotient of alikes is a score", "near_limit / far_limit", WantScore, "near_limit / far_limit", lang.Plain, "", []int{0, 1}},
		{"quotient keeps its dimension", "near_limit / shutter", WantNumber, "near_limit / shutter", lang.Speed, "m/s", []int{0, 6}},
		{"unit of a sum", "focal_length + 5mm", WantNumber, "focal_length + 0.005", lang.Length, "mm", []int{2}},
		{"unit of a share", "1 - held_focus", WantNumber, "1 - held_focus", lang.Plain, "%", []int{3}},
		{"truths may be equal", "focus_fixed == (near_limit < 2m)", WantTruth, "focus_fixed == (near_limit < 2)", lang.Plain, "", []int{0, 4}},
		{"known does not read", "known(near_limit)", WantTruth, "known(near_limit)", lang.Plain, "", nil},
		{"known answers for its fact", "not known(near_limit) or near_limit < far_limit", WantTruth,
			"not known(near_limit) or near_limit < far_limit", lang.Plain, "", []int{1}},
		{"or_else does not read", "or_else(near_limit, 3m)", WantNumber, "or_else(near_limit, 3)", lang.Length, "m", nil},
		{"or_else of truths", "or_else(focus_fixed, false)", WantTruth, "or_else(focus_fixed, false)", lang.Plain, "", nil},
		{"or_else reads its fallback", "or_else(near_limit, near_limit)", WantNumber, "or_else(near_limit, near_limit)", lang.Length, "m", []int{0}},
		{"stops between", "stops_between(near_limit, far_limit)", WantNumber, "stops_between(near_limit, far_limit)", lang.Stops, "stops", []int{0, 1}},
		{"several lines with comments", "near_limit < 2m and // why\n  far_limit > 3m", WantTruth,
			"near_limit < 2 and far_limit > 3", lang.Plain, "", []int{0, 1}},
		{"a fact named as a function of expr", "count > 2", WantTruth, "count > 2", lang.Plain, "", []int{9}},
		{"max with zero", "max(near_limit - 2m, 0)", WantNumber, "max(near_limit - 2, 0)", lang.Length, "m", []int{0}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, ds := Check(spanOf(t, test.text), testNames(), test.want)
			if len(ds) > 0 {
				t.Fatalf("Check(%q): %v", test.text, ds)
			}
			if tree := got.Node.String(); tree != test.tree {
				t.Errorf("Check(%q) gave the tree %s, want %s", test.text, tree, test.tree)
			}
			if got.Dim != test.dim || got.Unit != test.unit {
				t.Errorf("Check(%q) gave %s in %q, want %s in %q", test.text, got.Dim, got.Unit, test.dim, test.unit)
			}
			if diff := cmp.Diff(got.Reads, test.reads); diff != "" {
				t.Errorf("reads of %q, got - want +:\n%s", test.text, diff)
			}
		})
	}
}

func TestCheckPlacesInsideAFile(t *testing.T) {
	const lead = "criterion \"größe\" {\n  veto "
	source := spanOf(t, lead+"near_limit < 2kg\n}").Source
	_, ds := Check(lang.Span{Source: source, Start: len(lead), End: len(lead) + len("near_limit < 2kg")}, testNames(), WantTruth)
	if len(ds) != 1 || ds[0].Span.String() != "test.rules:2:8" || ds[0].Span.Text() != "near_limit < 2kg" {
		t.Errorf("got %v, want one finding at test.rules:2:8", ds)
	}
	const want = `"near_limit" is a length and "2kg" is a mass: they cannot be compared`
	if ds[0].Summary != want {
		t.Errorf("got summary %s, want %s", ds[0].Summary, want)
	}
}

func TestCheckLimits(t *testing.T) {
	long := "count" + strings.Repeat("+count", lang.MaxExpressionBytes/6)
	tests := []struct {
		name string
		text string
		want lang.Code // "" when it is good
	}{
		{"as long as may be", long[:len(long)-6], ""},
		{"too long", long, lang.ExpressionTooLong},
		{"as deep as may be", strings.Repeat("(", lang.MaxExpressionNesting) + "count" + strings.Repeat(")", lang.MaxExpressionNesting), ""},
		{"too many brackets", strings.Repeat("(", lang.MaxExpressionNesting+1) + "count" + strings.Repeat(")", lang.MaxExpressionNesting+1), lang.TooDeep},
		{"too many signs", strings.Repeat("-", lang.MaxExpressionNesting+1) + "count", lang.TooDeep},
		{"too many nots", strings.Repeat("not ", lang.MaxExpressionNesting+1) + "focus_fixed", lang.TooDeep},
		{"a million open brackets", strings.Repeat("(", 1_000_000), lang.ExpressionTooLong},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			// NewSource would refuse the long line first; an expression stands on its own here.
			source := &lang.Source{Name: "test.rules", Text: test.text}
			_, ds := Check(lang.Span{Source: source, End: len(test.text)}, testNames(), WantNumber)
			var got lang.Code
			if len(ds) > 0 {
				got = ds[0].Code
			}
			if got != test.want || len(ds) > 1 && test.want != "" {
				t.Errorf("got %d findings, first %q, want one %q", len(ds), got, test.want)
			}
		})
	}
}

func TestCheckKeepsSilentAboutFaultyNames(t *testing.T) {
	names := testNames()
	names.Define(Name{Name: "reach", Faulty: true})
	for text, want := range map[string][]string{
		"reach < 2m":                  nil,
		"reach and focus_fixed":       nil,
		"reach + 2m < near_limit * 2": nil,
		"reach < 2m or rig_mass > 2m": {"wrong-dimension: rig_mass > 2m"},
	} {
		checked, ds := Check(spanOf(t, text), names, WantTruth)
		if checked != nil {
			t.Errorf("%q gave an expression", text)
		}
		if diff := cmp.Diff(findings(ds), want); diff != "" {
			t.Errorf("%q, got - want +:\n%s", text, diff)
		}
	}
}

// A fact alone is checked as every expression is: a blank behind it takes it the long way.
func TestCheckAFactAlone(t *testing.T) {
	names := testNames()
	for index := range names.Len() {
		name := names.Name(index).Name
		for _, want := range []Want{WantTruth, WantScore, WantNumber} {
			alone, ds := Check(spanOf(t, name), names, want)
			other, others := Check(spanOf(t, name+" "), names, want)
			if diff := cmp.Diff(findings(ds), findings(others)); diff != "" {
				t.Errorf("%s, got - want +:\n%s", name, diff)
			}
			if alone == nil || other == nil {
				if alone != other {
					t.Errorf("%s: got %v, want %v", name, alone, other)
				}
				continue
			}
			if alone.Node.String() != other.Node.String() || alone.Text() != other.Text() {
				t.Errorf("got %s, want %s", alone.Node, other.Node)
			}
			other.Span, other.Node = alone.Span, alone.Node
			if !reflect.DeepEqual(alone, other) {
				t.Errorf("%s: got %+v, want %+v", name, alone, other)
			}
		}
	}
}

func TestCheckedText(t *testing.T) {
	checked, ds := Check(spanOf(t, "near_limit < 2m and // why\n\tfar_limit  > 3m // so"), testNames(), WantTruth)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	if got, want := checked.Text(), "near_limit < 2m and far_limit > 3m"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Goroutines may check at once with one vocabulary, which the race detector watches.
func TestCheckConcurrently(t *testing.T) {
	names := testNames()
	span := spanOf(t, "rising(near_limit / 2, 1m, 3m) > 50% and or_else(focus_fixed, true)")
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			if _, ds := Check(span, names, WantTruth); len(ds) > 0 {
				t.Error(ds)
			}
		})
	}
	group.Wait()
}
