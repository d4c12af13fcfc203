package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

const limitRules = `
criterion "focus" {
  weight 3
  veto   focus_fixed and near_limit > 5m
  limit  rising(held_focus, 20%, 60%) because "only {held_focus} of the move is sharp"
  limit  falling(face_stretch, 0%, 50%)
  score  0.25
}
criterion "distance" {
  when   focus_fixed
  limit  subject_near / 4m
}
`

// A limit counts as a share of 1, multiplies the score whatever the weights, excludes at 0,
// and is left out where it is not known or does not apply.
func TestLimits(t *testing.T) {
	set := load(t, limitRules)
	const focus, stretch, distance = 0.5, 0.6, 0.5 // what the limits leave of the record below
	for _, test := range []struct {
		name     string
		change   func(*facts.Record)
		excluded bool
		score    float64
		known    float64
		raised   []string
		bites    []string
	}{
		{"all bite", func(*facts.Record) {}, false, 0.25 * focus * stretch * distance, 1, nil, []string{
			"focus-2 0.5: only 40% of the move is sharp", "focus-3 0.6: falling(face_stretch, 0%, 50%), and face_stretch is 20%",
			"distance 0.5: subject_near / 4m, and subject_near is 2.00 m"}},
		{"above 1 counts as 1", func(r *facts.Record) { r.Set(subjectNear, 40) }, false, 0.25 * focus * stretch, 1, nil, []string{
			"focus-2 0.5: only 40% of the move is sharp", "focus-3 0.6: falling(face_stretch, 0%, 50%), and face_stretch is 20%"}},
		{"below 0 counts as 0", func(r *facts.Record) { r.Set(subjectNear, -1); r.Set(faceStretch, 0) }, true, 0, 1,
			[]string{"distance 0: subject_near / 4m, and subject_near is -1.00 m"}, []string{"focus-2 0.5: only 40% of the move is sharp"}},
		{"0 excludes", func(r *facts.Record) { r.Set(heldFocus, 0.2); r.Set(subjectNear, 4); r.Set(faceStretch, 0) }, true, 0, 1,
			[]string{"focus-2 0: only 20% of the move is sharp"}, nil},
		{"a hair above 0 does not", func(r *facts.Record) { r.Set(heldFocus, 0.2004); r.Set(subjectNear, 4); r.Set(faceStretch, 0) }, false, 0.25 * 0.001, 1,
			nil, []string{"focus-2 0.001: only 20% of the move is sharp"}},
		{"unknown", func(r *facts.Record) { r.Set(heldFocus, math.NaN()); r.Set(faceStretch, 0) }, false, 0.25 * distance, 0.25, nil, []string{
			"distance 0.5: subject_near / 4m, and subject_near is 2.00 m"}},
		{"does not apply", func(r *facts.Record) { r.SetTruth(focusFixed, false); r.Set(subjectNear, 0); r.Set(faceStretch, 0) }, false, 0.25 * focus, 1,
			nil, []string{"focus-2 0.5: only 40% of the move is sharp"}},
		{"not known whether it applies", func(r *facts.Record) { r.Set(focusFixed, math.NaN()); r.Set(faceStretch, 0) }, false, 0.25 * focus, 0,
			nil, []string{"focus-2 0.5: only 40% of the move is sharp"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			r := goodRecord()
			r.Set(heldFocus, 0.4)
			r.Set(faceStretch, 0.2)
			test.change(r)
			got := set.Judge(r)
			if got.Excluded != test.excluded || math.Abs(got.Score-test.score) > 1e-12 || got.Known != test.known {
				t.Errorf("got %+v, want excluded %v, score %g, known %g", got, test.excluded, test.score, test.known)
			}
			if excludes := set.Excludes(r); excludes != test.excluded {
				t.Errorf("Excludes gives %v", excludes)
			}
			var raised, bites []string
			for _, f := range set.Explain(r).Criteria {
				for _, one := range f.Raised {
					raised = append(raised, fmt.Sprintf("%s %.3g: %s", one.Code, one.Factor, one.In(lang.Printer{})))
				}
				for _, one := range f.Bites {
					bites = append(bites, fmt.Sprintf("%s %.3g: %s", one.Code, one.Factor, one.In(lang.Printer{})))
				}
			}
			if diff := cmp.Diff(test.raised, raised); diff != "" {
				t.Errorf("what excludes differs (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(test.bites, bites); diff != "" {
				t.Errorf("what bites differs (-want +got):\n%s", diff)
			}
		})
	}
}

func TestTraceOfLimits(t *testing.T) {
	r := goodRecord()
	r.Set(heldFocus, 0.4)
	r.Set(faceStretch, math.NaN())
	traces := load(t, limitRules).Trace(r)
	want := []Line{
		{Code: "focus-2", Text: "rising(held_focus, 20%, 60%)", Values: says("rising(40%, 20%, 60%)"), Known: true, Value: 0.5},
		{Code: "focus-3", Text: "falling(face_stretch, 0%, 50%)", Values: says("falling(unknown, 0%, 50%)"), Value: math.NaN()},
	}
	near := cmp.Comparer(func(a, b float64) bool { return same(a, b) || math.Abs(a-b) < 1e-12 })
	if diff := cmp.Diff(want, traces[0].Limits, sameWords[0], near); diff != "" {
		t.Errorf("the limits differ (-want +got):\n%s", diff)
	}
}

// checked writes an expression that passes the checker, which refuses a few of what a writer
// draws, such as to divide by 0.
func (w *writer) checked(write func() string, want expression.Want, otherwise string) string {
	text := write()
	if _, ds := check(text, testNames, want); ds.HasErrors() {
		return otherwise
	}
	return text
}

// drawRules writes criteria of every shape over testNames, with facts of their own.
func drawRules(t *rapid.T) string {
	w := &writer{t: t}
	var b strings.Builder
	shares := []string{"la / 4m", "lb / 4m", "lc / 4m", "pa", "pb / 4", "pc / 4"} // often between 0 and 1
	unit := []string{"m", ""}[w.pick("dimension", 2)]
	for i := range w.pick("facts", 3) {
		value := w.checked(func() string { return w.number(unit) }, expression.WantNumber, "4"+unit)
		if i > 0 && w.pick("of another", 2) == 0 {
			value = "own0 * 2"
		}
		fmt.Fprintf(&b, "fact own%d = %s\n", i, value)
		shares = append(shares, fmt.Sprintf("own%d / 4%s", i, unit))
	}
	share := func() string {
		if w.pick("plain", 3) > 0 {
			return shares[w.pick("share", len(shares))]
		}
		return w.checked(func() string { return w.number("") }, expression.WantScore, "pa")
	}
	truth := func() string { return w.checked(w.truth, expression.WantTruth, "ta") }
	for i := range 1 + w.pick("criteria", 4) {
		fmt.Fprintf(&b, "criterion \"c%d\" {\n  weight %s\n", i, []string{"1", "2", "3.5", "7"}[w.pick("weight", 4)])
		if w.pick("when", 3) == 0 {
			fmt.Fprintf(&b, "  when %s\n", truth())
		}
		for range w.pick("vetoes", 3) {
			fmt.Fprintf(&b, "  veto %s\n", truth())
		}
		for range w.pick("limits", 3) {
			fmt.Fprintf(&b, "  limit %s\n", share())
		}
		fmt.Fprintf(&b, "  score %s\n}\n", share())
	}
	return b.String()
}

// loadDrawn loads criteria, with a shot that needs and prefers something.
func loadDrawn(t *rapid.T, text string) *Set {
	src, ds := lang.NewSource("drawn.rules", []byte(text))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	set, ds := Load(testNames, src)
	if ds.HasErrors() {
		t.Fatalf("%v of\n%s", ds, text)
	}
	brief, _ := lang.NewSource("brief", []byte("need ta\nprefer la > 2m\nprefer tb"))
	file, _ := lang.Parse(brief)
	var asked []lang.Expression
	for _, statement := range file.Statements {
		asked = append(asked, *statement.Expression)
	}
	set, ds = set.With(asked[:1], asked[1:])
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return set
}

// On random rules and records, what judges, explains and traces agree, and limits do no more
// than to multiply and to exclude.
func TestLimitProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawRules(t)
		set := loadDrawn(t, text)
		var rest []string
		for _, line := range strings.Split(text, "\n") {
			if !strings.HasPrefix(line, "  limit") {
				rest = append(rest, line)
			}
		}
		r := record(t, testNames)
		judged := set.Judge(r)
		e := set.Explain(r)
		if !same(e.Score, judged.Score) || e.Excluded != judged.Excluded || e.Known != judged.Known {
			t.Errorf("Explain gives %+v, Judge %+v", e.Judgement, judged)
		}
		if got := set.Excludes(r); got != judged.Excluded {
			t.Errorf("Excludes gives %v, Judge %v", got, judged.Excluded)
		}
		factor, raised, weight, known := 1.0, false, 0.0, 0.0
		for _, f := range e.Criteria {
			for _, one := range f.Bites {
				if !(one.Factor > 0 && one.Factor < 1) {
					t.Errorf("%s bites with %g", one.Code, one.Factor)
				}
				factor *= one.Factor
			}
			raised = raised || len(f.Raised) > 0
			if f.Applies {
				weight += f.Weight
				if len(f.Unknown) == 0 {
					known += f.Weight
				}
			}
		}
		if raised != judged.Excluded {
			t.Errorf("raised %v, Judge %+v", raised, judged)
		}
		if share := known / max(weight, 1e-9); weight > 0 && math.Abs(share-judged.Known) > 1e-12 {
			t.Errorf("known %g, Judge %g", share, judged.Known)
		}

		without := loadDrawn(t, strings.Join(rest, "\n")).Judge(r)
		atZero := false
		product, share := 1.0, 0.0
		for _, trace := range set.Trace(r) {
			if trace.Share > 0 {
				product *= math.Pow(trace.Score, trace.Share)
				share += trace.Share
			}
			for _, line := range trace.Limits {
				if line.Known != !math.IsNaN(line.Value) {
					t.Errorf("%q is known %v, with the value %g", line.Text, line.Known, line.Value)
				}
				if trace.Applies && line.Known {
					product *= line.Value
					atZero = atZero || line.Value == 0
				}
			}
		}
		switch {
		case share == 0 != math.IsNaN(judged.Score):
			t.Errorf("shares of %g, and the score %g", share, judged.Score)
		case share == 0:
		case math.Abs(product-judged.Score) > 1e-12:
			t.Errorf("the trace multiplies to %g, Judge gives %g", product, judged.Score)
		case atZero && judged.Score != 0:
			t.Errorf("a limit is 0, and the score %g", judged.Score)
		case !atZero && math.Abs(without.Score*factor-judged.Score) > 1e-12:
			t.Errorf("%g without limits that leave %g, and %g with them", without.Score, factor, judged.Score)
		}
		if judged.Excluded != (without.Excluded || atZero) {
			t.Errorf("excluded %v, without limits %v, with one at 0 %v", judged.Excluded, without.Excluded, atZero)
		}
		if slices.ContainsFunc(set.Criteria(), func(c *Criterion) bool { return len(c.Limits) > 0 && c.Limits[0].Code == "" }) {
			t.Error("a limit has no code")
		}
	})
}
