package rules

import (
	"math"
	"testing"

	"glassbrief/lang"
)

// The first lack whose condition is known to hold is said, and nothing of a full score.
func TestLacking(t *testing.T) {
	set := load(t, `
criterion "focus" {
  score  rising(held_focus, 0%, 100%)
  lack   near_limit > 3m because "nothing is sharp nearer than {near_limit}"
  lack   held_focus < 80% because "{held_focus} of the move is sharp"
}
`)
	for _, test := range []struct {
		name       string
		held, near float64
		want       string
	}{
		{"the first", 0.5, 4, "nothing is sharp nearer than 4.00 m"},
		{"the next", 0.5, 2, "50% of the move is sharp"},
		{"the first unknown", 0.5, math.NaN(), "50% of the move is sharp"},
		{"neither", 0.9, 2, ""},
		{"a full score", 1, 4, ""},
		{"no score", math.NaN(), 4, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := goodRecord()
			r.Set(heldFocus, test.held)
			r.Set(nearLimit, test.near)
			got := ""
			if lacking := set.Explain(r).Criteria[0].Lacking(); lacking != nil {
				got = lacking.In(lang.Printer{})
			}
			if got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}

// What a brief prefers and does not get is quoted with what it gets.
func TestPreferenceLacking(t *testing.T) {
	set, ds := load(t, testRules).With(nil, []lang.Expression{asked(t, "far_limit > 3m"), asked(t, "face_stretch < 12%")})
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	const want = "the brief prefers face_stretch < 12%, and face_stretch is 15%"
	if lacking := set.Explain(goodRecord()).Criteria[2].Lacking(); lacking == nil || lacking.In(lang.Printer{}) != want {
		t.Errorf("got %v, want %q", lacking, want)
	}
}
