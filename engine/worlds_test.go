package engine_test

import (
	"maps"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/plausible"
)

// Spans try each figure alone, and all at once at what moves a number down or up.
func TestSpansOfWorlds(t *testing.T) {
	figure := func(keyword string, low, middle, high float64) brief.Assumption {
		return brief.Assumption{Keyword: keyword, Range: plausible.Range{Low: low, Middle: middle, High: high}}
	}
	s := &brief.Scenario{Assumed: []brief.Assumption{figure("light", 10, 20, 40), figure("mass", 1, 2, 3), figure("mass", 1, 2, 3), figure("length", 5, 6, 7)}}
	made := 0
	w := engine.NewWorlds(s, []int{0, 1, 2}, func(values brief.Values) brief.Values {
		made++
		at := brief.Values{}
		for i := range s.Assumed {
			at[i] = s.Assumed[i].Middle
		}
		maps.Copy(at, values)
		return at
	})
	of := func(at brief.Values) map[string]float64 {
		return map[string]float64{"sum": at[0] + at[1], "difference": at[0] - at[1], "steady": at[3], "both": max(at[1]+at[2], 4.5)}
	}
	want := map[string]engine.Span{"sum": {11, 43}, "difference": {7, 39}, "both": {4.5, 6}}
	if got := w.Spans(of); !maps.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	before := made
	if w.Spans(of); made != before {
		t.Errorf("%d worlds were made anew", made-before)
	}
	if other := w.Under(brief.Values{3: 7}); other[3] != 6 {
		t.Errorf("a figure that does not bear was set: %v", other)
	}
	if w := engine.NewWorlds(s, nil, func(brief.Values) int { return 0 }); w != nil || w.Spans(nil) != nil || w.All() != nil {
		t.Errorf("got worlds of nothing")
	}
}
