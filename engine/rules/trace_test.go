package rules

import (
	"math"
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

// The shares and scores of a trace multiply to the score of the judgement, with what is
// unknown and what does not apply left out.
func TestTraceAddsUpToTheJudgement(t *testing.T) {
	set, ds := Load(ruleNames, source(t, testRules))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	for name, fill := range map[string]func(r *facts.Record){
		"all known":      func(*facts.Record) {},
		"one unknown":    func(r *facts.Record) { r.Set(heldFocus, math.NaN()) },
		"does not apply": func(r *facts.Record) { r.SetTruth(focusFixed, false) },
	} {
		t.Run(name, func(t *testing.T) {
			r := traceRecord()
			fill(r)
			product, share := 1.0, 0.0
			for _, trace := range set.Trace(r) {
				if trace.Share > 0 {
					product *= math.Pow(trace.Score, trace.Share)
					share += trace.Share
				}
			}
			if want := set.Judge(r).Score; math.Abs(product-want) > 1e-12 {
				t.Errorf("got a product of %g, want the score %g", product, want)
			}
			if math.Abs(share-1) > 1e-12 {
				t.Errorf("got shares of %g in all, want 1", share)
			}
		})
	}
}

func traceRecord() *facts.Record {
	r := &facts.Record{}
	for id, value := range map[facts.ID]float64{
		subjectNear: 1.5, closeFocus: 1.2, heldFocus: 0.7, nearLimit: 1.6, farLimit: 3, stopUsed: 4, faceStretch: 0.1,
	} {
		r.Set(id, value)
	}
	r.SetTruth(focusFixed, true)
	return r
}

// says is a reason of fixed words.
func says(words string) Reason {
	return Reason{write: func(*facts.Record, lang.Printer) string { return words }}
}

var sameWords = cmp.Options{
	cmp.Comparer(func(a, b Reason) bool { return a.In(lang.Printer{}) == b.In(lang.Printer{}) }),
	cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) < 1e-12 }),
}

func TestTracePutsTheValuesIn(t *testing.T) {
	set, ds := Load(ruleNames, source(t, testRules))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	r := traceRecord()
	r.Set(closeFocus, math.NaN())
	traces := set.Trace(r)
	if traces[0].Name != "depth of field" || traces[1].Name != "reach" {
		t.Fatalf("got %q and %q, want the criteria in the order of the file", traces[0].Name, traces[1].Name)
	}
	when := &Line{Text: "focus_fixed", Values: says("true"), Known: true, Holds: true}
	if diff := cmp.Diff(when, traces[0].When, sameWords); diff != "" {
		t.Errorf("the condition differs (-want +got):\n%s", diff)
	}
	vetoes := []Line{
		{Code: "depth-of-field", Text: "held_focus < 40%", Values: says("70% < 40%"), Known: true},
		{Code: "depth-of-field-2", Text: "near_limit > subject_near", Values: says("1.60 m > 1.50 m"), Known: true, Holds: true},
	}
	if diff := cmp.Diff(vetoes, traces[0].Vetoes, sameWords); diff != "" {
		t.Errorf("the vetoes differ (-want +got):\n%s", diff)
	}
	scores := []Line{{Text: "rising(held_focus, 40%, 100%)", Values: says("rising(70%, 40%, 100%)"), Known: true, Value: 0.5}}
	if diff := cmp.Diff(scores, traces[0].Scores, sameWords); diff != "" {
		t.Errorf("the scores differ (-want +got):\n%s", diff)
	}
	unknown := Line{Code: "reach", Text: "reach_margin < 0", Values: says("unknown < 0")}
	if diff := cmp.Diff(unknown, traces[1].Vetoes[0], sameWords); diff != "" {
		t.Errorf("an unknown veto differs (-want +got):\n%s", diff)
	}
	if traces[1].Share != 0 || !math.IsNaN(traces[1].Scores[0].Value) {
		t.Errorf("got a share of %g and a value of %g for an unknown score, want 0 and none", traces[1].Share, traces[1].Scores[0].Value)
	}
}
