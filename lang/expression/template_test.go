package expression

import (
	"math"
	"testing"

	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

func TestTemplateRender(t *testing.T) {
	names := testNames()
	values := map[string]float64{"near_limit": 1.6, "far_limit": math.Inf(1), "focal_length": 0.035, "held_focus": 0.4, "stop_used": 2.8, "count": 3}
	tests := []struct {
		name, text, metric, imperial string
	}{
		{"no values", "sharp throughout", "sharp throughout", "sharp throughout"},
		{"a fact in its unit", "sharp from {near_limit}", "sharp from 1.60 m", "sharp from 5ft 3in"},
		{"infinity", "to {far_limit}", "to infinity", "to infinity"},
		{"shares, lenses, stops", "{held_focus} at {focal_length}, {stop_used}", "40% at 35 mm, T2.8", "40% at 35 mm, T2.8"},
		{"the unknown", "moves {shutter}", "moves unknown", "moves unknown"},
		{"an expression", "{near_limit + 40cm} left", "2.00 m left", "6ft 6 1/2in left"},
		{"braces and escapes", `{{{count}}} \"so\" \\`, `{3} "so" \`, `{3} "so" \`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			template, ds := CheckTemplate(spanOf(t, test.text), names)
			if len(ds) > 0 {
				t.Fatal(ds)
			}
			value := func(c *Checked) float64 {
				if c.Node.String() == "near_limit + 0.4" {
					return values["near_limit"] + 0.4
				}
				known, ok := values[c.Node.String()]
				if !ok {
					return math.NaN()
				}
				return known
			}
			if got := template.Render(lang.Printer{}, value); got != test.metric {
				t.Errorf("metric: got %q, want %q", got, test.metric)
			}
			if got := template.Render(lang.Printer{System: lang.Imperial}, value); got != test.imperial {
				t.Errorf("imperial: got %q, want %q", got, test.imperial)
			}
		})
	}
}

func TestTemplateFaults(t *testing.T) {
	tests := []struct {
		name, text string
		want       []string
	}{
		{"a truth", "is {focus_fixed}", []string{"wrong-result: focus_fixed"}},
		{"two faults", "{nera_limit} to {far_limit + 2kg}", []string{"unknown-name: nera_limit -> near_limit", "wrong-dimension: far_limit + 2kg"}},
		{"empty braces", "from {} on", []string{"missing-value: "}},
		{"open brace", "from {near_limit", []string{"bad-expression: {"}},
		{"closed brace", "from near_limit}", []string{"bad-expression: }"}},
		{"no unit", "{near_limit * far_limit * shutter}", []string{"wrong-dimension: near_limit * far_limit * shutter"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			template, ds := CheckTemplate(spanOf(t, test.text), testNames())
			if template != nil {
				t.Error("gave a template in spite of its faults")
			}
			if diff := cmp.Diff(findings(ds), test.want); diff != "" {
				t.Errorf("got - want +:\n%s", diff)
			}
		})
	}
}
