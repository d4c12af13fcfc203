package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// The facts of the test rules.
const (
	subjectNear facts.ID = iota
	closeFocus
	heldFocus
	nearLimit
	farLimit
	stopUsed
	faceStretch
	focusFixed
)

var ruleNames = expression.NewVocabulary([]expression.Name{
	{Name: "subject_near", Kind: expression.Number, Dim: lang.Length, Unit: "m"},
	{Name: "close_focus", Kind: expression.Number, Dim: lang.Length, Unit: "m"},
	{Name: "held_focus", Kind: expression.Number, Unit: "%"},
	{Name: "near_limit", Kind: expression.Number, Dim: lang.Length, Unit: "m"},
	{Name: "far_limit", Kind: expression.Number, Dim: lang.Length, Unit: "m"},
	{Name: "stop_used", Kind: expression.Number, Dim: lang.Aperture, Unit: "f/"},
	{Name: "face_stretch", Kind: expression.Number, Unit: "%"},
	{Name: "focus_fixed", Kind: expression.Truth},
})

const testRules = `
fact reach_margin = subject_near - close_focus because "room left before the lens stops focusing"
fact reach_share  = reach_margin / subject_near

criterion "depth of field" {
  about  "Whether what must be sharp is sharp."
  weight 3
  when   focus_fixed
  veto   held_focus < 40% because "only {held_focus} of the move is sharp at {stop_used}"
  veto   near_limit > subject_near
  score  rising(held_focus, 40%, 100%)
  reason "sharp from {near_limit} to {far_limit}"
}
criterion "reach" {
  veto   reach_margin < 0 because "{reach_margin} too near"
  score  rising(reach_share, 0%, 50%)
}
`

func source(t testing.TB, text string) *lang.Source {
	t.Helper()
	src, ds := lang.NewSource("test.rules", []byte(text))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return src
}

func load(t testing.TB, texts ...string) *Set {
	t.Helper()
	var sources []*lang.Source
	for _, text := range texts {
		sources = append(sources, source(t, text))
	}
	set, ds := Load(ruleNames, sources...)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return set
}

// goodRecord is a lens that does well: 70% of the move held, half the distance in hand.
func goodRecord() *facts.Record {
	var r facts.Record
	r.Set(subjectNear, 2)
	r.Set(closeFocus, 1.5)
	r.Set(heldFocus, 0.7)
	r.Set(nearLimit, 1.6)
	r.Set(farLimit, math.Inf(1))
	r.Set(stopUsed, 4)
	r.Set(faceStretch, 0.15)
	r.SetTruth(focusFixed, true)
	return &r
}

func TestJudge(t *testing.T) {
	set := load(t, testRules)
	both := combine([]float64{0.5, 0.5}, []float64{3, 1})
	tests := []struct {
		name     string
		change   func(*facts.Record)
		excluded bool
		score    float64
	}{
		{"good", func(*facts.Record) {}, false, both},
		{"first veto", func(r *facts.Record) { r.Set(heldFocus, 0.3) }, true, 0},
		{"second veto", func(r *facts.Record) { r.Set(nearLimit, 2.2) }, true, both},
		{"veto of a defined fact", func(r *facts.Record) { r.Set(closeFocus, 2.5) }, true, 0},
		{"criterion does not apply", func(r *facts.Record) { r.SetTruth(focusFixed, false); r.Set(heldFocus, 0.3) }, false, 0.5},
		{"unknown condition", func(r *facts.Record) { r.Set(focusFixed, math.NaN()) }, false, 0.5},
		{"unknown veto and score", func(r *facts.Record) { r.Set(heldFocus, math.NaN()) }, false, 0.5},
		{"unknown behind a defined fact", func(r *facts.Record) { r.Set(closeFocus, math.NaN()) }, false, 0.5},
		{"undecided", func(r *facts.Record) { r.Set(subjectNear, math.Inf(1)); r.Set(closeFocus, math.Inf(1)) }, false, 0.5},
		{"nothing known", func(r *facts.Record) { r.Set(heldFocus, math.NaN()); r.Set(closeFocus, math.NaN()) }, false, math.NaN()},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := goodRecord()
			test.change(r)
			got := set.Judge(r)
			if got.Excluded != test.excluded || !(math.Abs(got.Score-test.score) < 1e-12 || math.IsNaN(got.Score) && math.IsNaN(test.score)) {
				t.Errorf("got %+v, want excluded %v, score %v", got, test.excluded, test.score)
			}
			if explained := set.Explain(r).Judgement; !same(explained.Score, got.Score) || explained.Excluded != got.Excluded {
				t.Errorf("Explain gives %+v, Judge %+v", explained, got)
			}
		})
	}
}

// outline writes what an explanation says, one line a criterion.
func outline(e Explanation, p lang.Printer) []string {
	var lines []string
	for _, f := range e.Criteria {
		line := fmt.Sprintf("%s: applies %v, score %.3f, unknown %v", f.Name, f.Applies, f.Score, f.Unknown)
		for _, veto := range f.Raised {
			line += fmt.Sprintf("; %s: %s", veto.Code, veto.In(p))
		}
		for _, said := range f.Said {
			line += "; " + said.In(p)
		}
		lines = append(lines, line)
	}
	return lines
}

func TestExplain(t *testing.T) {
	set := load(t, testRules)
	tests := []struct {
		name    string
		change  func(*facts.Record)
		printer lang.Printer
		want    []string
	}{
		{"good", func(*facts.Record) {}, lang.Printer{}, []string{
			"depth of field: applies true, score 0.500, unknown []; sharp from 1.60 m to infinity",
			"reach: applies true, score 0.500, unknown []",
		}},
		{"both vetoes, one without a reason", func(r *facts.Record) { r.Set(heldFocus, 0.3); r.Set(nearLimit, 2.1) }, lang.Printer{}, []string{
			"depth of field: applies true, score 0.000, unknown []; depth-of-field: only 30% of the move is sharp at f/4" +
				"; depth-of-field-2: near_limit > subject_near, and subject_near is 2.00 m, and near_limit is 2.10 m; sharp from 2.10 m to infinity",
			"reach: applies true, score 0.500, unknown []",
		}},
		{"imperial", func(r *facts.Record) { r.Set(closeFocus, 2.3048) }, lang.Printer{System: lang.Imperial}, []string{
			"depth of field: applies true, score 0.500, unknown []; sharp from 5ft 3in to infinity",
			"reach: applies true, score 0.000, unknown []; reach: -1ft too near",
		}},
		{"unknown", func(r *facts.Record) { r.Set(heldFocus, math.NaN()); r.Set(closeFocus, math.NaN()) }, lang.Printer{}, []string{
			"depth of field: applies true, score NaN, unknown [held_focus]; sharp from 1.60 m to infinity",
			"reach: applies true, score NaN, unknown [close_focus]",
		}},
		{"unknown whether it applies", func(r *facts.Record) { r.Set(focusFixed, math.NaN()) }, lang.Printer{}, []string{
			"depth of field: applies false, score NaN, unknown [focus_fixed]",
			"reach: applies true, score 0.500, unknown []",
		}},
		{"undecided", func(r *facts.Record) { r.Set(subjectNear, math.Inf(1)); r.Set(closeFocus, math.Inf(1)) }, lang.Printer{}, []string{
			"depth of field: applies true, score 0.500, unknown []; sharp from 1.60 m to infinity",
			"reach: applies true, score NaN, unknown [subject_near - close_focus]",
		}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := goodRecord()
			test.change(r)
			if diff := cmp.Diff(outline(set.Explain(r), test.printer), test.want); diff != "" {
				t.Errorf("got - want +:\n%s", diff)
			}
		})
	}
}

func TestLoadFaults(t *testing.T) {
	const fine = "criterion \"x\" { veto focus_fixed }\n"
	tests := []struct {
		name, text string
		want       []string
	}{
		{"a limit is enough", `criterion "a" { limit held_focus }`, nil},
		{"a limit that is a truth", `criterion "a" { limit focus_fixed because "{focus_fixed}" }`, []string{"wrong-result: focus_fixed", "wrong-result: focus_fixed"}},
		{"a limit that is a length", `criterion "a" { limit near_limit
 limit held_focs because "{held_focs}" }`, []string{"wrong-dimension: near_limit", "unknown-name: held_focs -> held_focus", "unknown-name: held_focs -> held_focus"}},
		{"neither veto nor score", `criterion "a" { weight 2 }`, []string{"missing-field: criterion"}},
		{"weight", `criterion "a" { weight 0
 veto focus_fixed }`, []string{"out-of-range: 0"}},
		{"weight with a unit", `criterion "a" { weight 2kg
 veto focus_fixed }`, []string{"wrong-dimension: 2kg"}},
		{"same name", fine + `criterion "X" { veto focus_fixed }`, []string{`duplicate-name: "X"`}},
		{"no name", `criterion "-" { veto focus_fixed }`, []string{`missing-value: "-"`}},
		{"the name of the brief", `criterion "brief" { veto focus_fixed }`, []string{`duplicate-name: "brief"`}},
		{"unknown keyword", `criterion "a" { vetos focus_fixed
 score held_focus }`, []string{"unknown-keyword: vetos -> veto"}},
		{"every expression", `criterion "a" {
  when   held_focus
  veto   near_limit < 2kg because "at {stop_usd}"
  veto   focus_fixd because "{focus_fixed}"
  score  near_limit
  reason "{far_limt}"
}`, []string{"wrong-result: held_focus", "wrong-dimension: near_limit < 2kg", "unknown-name: stop_usd -> stop_used",
			"unknown-name: focus_fixd -> focus_fixed", "wrong-result: focus_fixed", "wrong-dimension: near_limit",
			"unknown-name: far_limt -> far_limit"}},
		{"name of a fact", "fact reach-margin = near_limit\n" + fine, []string{"unexpected-text: reach-margin -> reach_margin"}},
		{"name taken by a fact of the program", "fact near_limit = far_limit\n" + fine, []string{"duplicate-name: near_limit"}},
		{"name taken by a fact of the file", "fact aa = near_limit\nfact aa = far_limit\n" + fine, []string{"duplicate-name: aa"}},
		{"fact used before it is defined", "fact aa = bb\nfact bb = near_limit\n" + fine, []string{"unknown-name: bb"}},
		{"a faulty fact is reported once", "fact aa = near_limit + 2kg\nfact bb = aa * 2\n" + `criterion "a" { veto aa < 2m or bb > 3kg
 score bb }`, []string{"wrong-dimension: near_limit + 2kg"}},
		{"a fact that is a truth", "fact aa = near_limit < 2m\n" + fine, []string{"wrong-result: near_limit < 2m"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, ds := Load(ruleNames, source(t, test.text))
			var got []string
			for _, d := range ds {
				line := fmt.Sprintf("%s: %s", d.Code, d.Span.Text())
				if d.Instead != "" {
					line += " -> " + d.Instead
				}
				got = append(got, line)
			}
			if diff := cmp.Diff(got, test.want); diff != "" {
				t.Errorf("got - want +:\n%s", diff)
			}
		})
	}
}

func TestLoadTooManyFacts(t *testing.T) {
	var b strings.Builder
	room := facts.Capacity - ruleNames.Len()
	for i := range room + 1 {
		fmt.Fprintf(&b, "fact extra%d = near_limit\n", i)
	}
	_, ds := Load(ruleNames, source(t, b.String()))
	if len(ds) != 1 || ds[0].Code != lang.OutOfRange || ds[0].Span.Text() != fmt.Sprintf("extra%d", room) {
		t.Errorf("got %v, want the last fact refused", ds)
	}
	if want := fmt.Sprintf("The files can define %d facts in all.", room); ds[0].Detail != want {
		t.Errorf("got %q, want %q", ds[0].Detail, want)
	}
}

func TestLaterFilesReplaceAndExtend(t *testing.T) {
	set := load(t, testRules, `
fact spare = reach_margin * 2
criterion "Reach" { score rising(spare, 0m, 4m) }
criterion "face" { weight 2
  score falling(face_stretch, 10%, 20%) }`)
	var got []string
	for _, c := range set.Criteria() {
		got = append(got, c.Name)
	}
	if want := []string{"depth of field", "Reach", "face"}; !slices.Equal(got, want) {
		t.Errorf("got criteria %q, want %q", got, want)
	}
	score := set.Judge(goodRecord()).Score
	if want := combine([]float64{0.5, 0.5, 0.25}, []float64{3, 2, 1}); math.Abs(score-want) > 1e-12 {
		t.Errorf("got score %v, want %v", score, want)
	}
	if _, defined := ruleNames.Lookup("spare"); defined {
		t.Error("loading rules changed the vocabulary it was given")
	}
	fact := set.Facts()[0]
	if name := set.Names().Name(ruleNames.Len()); name.Unit != "m" || name.Meaning != "room left before the lens stops focusing" || fact.Name != name.Name {
		t.Errorf("got %+v for the fact %q, want its unit and meaning", name, fact.Name)
	}
}

func asked(t *testing.T, text string) lang.Expression {
	t.Helper()
	file, ds := lang.Parse(source(t, "need "+text))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	return *file.Statements[0].Expression
}

func TestWith(t *testing.T) {
	base := load(t, testRules)
	set, ds := base.With(
		[]lang.Expression{asked(t, `face_stretch < 12% because "her face fills the frame"`), asked(t, "near_limit < 1.5m")},
		[]lang.Expression{asked(t, `far_limit > 3m because "the door must be sharp"`), asked(t, "face_stretch < 12%")},
	)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	e := set.Explain(goodRecord())
	const want = "brief: applies true, score 0.894, unknown []; need-1: her face fills the frame" +
		"; need-2: it needs near_limit < 1.5m, and near_limit is 1.60 m; the door must be sharp"
	if got := outline(e, lang.Printer{})[2]; got != want || !e.Excluded {
		t.Errorf("got %s\nwant %s", got, want)
	}
	// Each preference counts by itself, with weight 1.
	if want := combine([]float64{0.5, 0.5, 1, 0.8}, []float64{3, 1, 1, 1}); math.Abs(e.Score-want) > 1e-12 {
		t.Errorf("got score %v, want %v", e.Score, want)
	}
	if n := len(base.Criteria()); n != 2 {
		t.Errorf("With changed the set it came from: %d criteria", n)
	}
	if same, _ := base.With(nil, nil); same != base {
		t.Error("a shot without needs and preferences got a set of its own")
	}
	_, ds = base.With([]lang.Expression{asked(t, "near_limit < 2kg")}, []lang.Expression{asked(t, "held_focus")})
	if len(ds) != 2 || ds[0].Code != lang.WrongDimension || ds[1].Code != lang.WrongResult {
		t.Errorf("got %v, want the faults of both", ds)
	}
}

func TestPreference(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	tests := []struct {
		text string
		near float64
		want float64
	}{
		{"near_limit < 2m", 1, 1},
		{"near_limit < 2m", 2.5, 0.8},
		{"near_limit < 2m", 2, 1}, // just missed
		{"near_limit > 2m", 1, 0.5},
		{"near_limit >= 2m", 2, 1},
		{"near_limit > 2m", 0.01, 0.1},
		{"near_limit > 2m", -1, 0.1},
		{"near_limit < -2m", -1, 0.5},
		{"near_limit < -2m", 1, 0.1},
		{"near_limit < 0m", 0.002, 0.8}, // within a hundredth of the unit 0 is as good as met
		{"near_limit < 0m", 0.5, 0.1},
		{"near_limit > 0m", -0.002, 0.8},
		{"near_limit > far_limit", inf, 1}, // both without bound
		{"near_limit < 2m", inf, 0.1},
		{"near_limit - near_limit < 2m", inf, nan},
		{"not (near_limit < 2m)", 1, 0.5},
		{"not (near_limit < 2m)", inf, 1},
		{"not (near_limit < 2m)", nan, nan},
		{"near_limit < 2m and near_limit > 1m", 2.5, 0.8},
		{"near_limit < 2m or not focus_fixed", 2.5, 0.8},
		{"near_limit < 2m or not focus_fixed", 5, 0.5},
		{"not (near_limit < 2m or near_limit > 5m)", 1, 0.5},
		{"1m < near_limit <= 2m", 2.5, 0.8},
		{"1m < near_limit <= 2m", 0.7, 0.7},
		{"between(near_limit, 1m, 2m)", 2.5, 0.8},
		{"not between(near_limit, 1m, 4m)", 2, 0.5},
		{"not focus_fixed", 2, 0.5},
		{"focus_fixed", 2, 1},
		{"near_limit < 2m and near_limit > 1m", 1.5, 1},
	}
	for _, test := range tests {
		checked, ds := check(test.text, ruleNames, expression.WantTruth)
		if ds.HasErrors() {
			t.Fatal(ds)
		}
		r := goodRecord()
		r.Set(nearLimit, test.near)
		if got := preference(checked)(r); !same(got, test.want) && !(math.Abs(got-test.want) < 1e-12) {
			t.Errorf("%q with near_limit %v: got %v, want %v", test.text, test.near, got, test.want)
		}
	}
}

// However measures are compared and joined, a preference is met or scores at least 0.1, and
// has no step anywhere: not at the threshold, not at the floor, not at 0, and nowhere a slope
// of which a hair would be felt.
func TestPreferenceIsContinuous(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawWish(t, 3)
		checked, ds := check(text, ruleNames, expression.WantTruth)
		if ds.HasErrors() {
			t.Fatalf("%v in %s", ds, text)
		}
		score, holds := preference(checked), compileTruth(checked)
		r := goodRecord()
		at := func(x float64) float64 {
			r.Set(nearLimit, x)
			got := score(r)
			if !(got >= leastMissed && got <= 1) || holds(r) && got != 1 {
				t.Fatalf("%s scores %g at %g m, and holds: %v", text, got, x, holds(r))
			}
			return got
		}
		// The largest of many steps is halved down to a hair.
		low, high := -5.0, 5.0
		for i := range 2000 {
			x := -5 + 0.005*float64(i)
			if math.Abs(at(x+0.005)-at(x)) > math.Abs(at(high)-at(low)) || i == 0 {
				low, high = x, x+0.005
			}
		}
		for high-low > 1e-6 {
			middle := (low + high) / 2
			if math.Abs(at(middle)-at(low)) > math.Abs(at(high)-at(middle)) {
				high = middle
			} else {
				low = middle
			}
		}
		// The steepest that a preference may be is 1 over a hundredth of a metre.
		if step := math.Abs(at(high) - at(low)); step > 1.01e-4 {
			t.Errorf("%s: %g m farther it scores %g more", text, high-low, step)
		}
	})
}

// drawWish writes a condition on near_limit.
func drawWish(t *rapid.T, depth int) string {
	pick := func(n int) int { return rapid.IntRange(0, n-1).Draw(t, "shape") }
	bound := func() string { return fmt.Sprintf("%d%s", pick(7)-3, []string{"m", "mm", "cm"}[pick(3)]) }
	shape := pick(7)
	if depth == 0 {
		shape = pick(3)
	}
	switch shape {
	case 0, 1:
		return fmt.Sprintf("near_limit %s %s", []string{"<", "<=", ">", ">="}[pick(4)], bound())
	case 2:
		return fmt.Sprintf("between(near_limit, -1m, %dm)", pick(4))
	case 3:
		return fmt.Sprintf("not (%s)", drawWish(t, depth-1))
	case 4:
		return fmt.Sprintf("-1m < near_limit <= %dm", pick(4))
	case 5:
		return fmt.Sprintf("(%s and %s)", drawWish(t, depth-1), drawWish(t, depth-1))
	}
	return fmt.Sprintf("(%s or %s)", drawWish(t, depth-1), drawWish(t, depth-1))
}

func TestJudgeDoesNotAllocate(t *testing.T) {
	set, r := load(t, testRules), goodRecord()
	if n := testing.AllocsPerRun(100, func() { sink = set.Judge(r).Score }); n != 0 {
		t.Errorf("judging allocates %v times, want 0", n)
	}
}

func TestJudgeProperties(t *testing.T) {
	base := load(t, testRules)
	tight, ds := base.With([]lang.Expression{asked(t, "face_stretch < 5%")}, nil)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	loose, _ := base.With([]lang.Expression{asked(t, "face_stretch < 10%")}, nil)
	rapid.Check(t, func(t *rapid.T) {
		r := record(t, ruleNames)
		all, strict := loose.Judge(r), tight.Judge(r)
		if all.Excluded && !strict.Excluded {
			t.Error("a tighter need let through what a looser one excludes")
		}
		if !(all.Score >= 0 && all.Score <= 1) && !math.IsNaN(all.Score) {
			t.Errorf("the score %v is no share", all.Score)
		}
		if got := loose.Excludes(r); got != all.Excluded {
			t.Errorf("Excludes gives %v, Judge %v", got, all.Excluded)
		}
		e := loose.Explain(r)
		raised := slices.ContainsFunc(e.Criteria, func(f Finding) bool { return len(f.Raised) > 0 })
		if raised != all.Excluded || !same(e.Score, all.Score) {
			t.Errorf("Explain gives %+v and raised %v, Judge %+v", e.Judgement, raised, all)
		}
	})
}

func FuzzLoad(f *testing.F) {
	for _, text := range langtest.Blocks(f, fstest.MapFS{"test.rules": {Data: []byte(testRules)}}, ".rules") {
		f.Add(text)
	}
	f.Add(`criterion "a" { score focus_fixed == known(near_limit) ? 1 : or_else(held_focus, 1/2) }`)
	f.Fuzz(func(t *testing.T, text string) {
		src, ds := lang.NewSource("fuzz.rules", []byte(text))
		if ds.HasErrors() {
			return
		}
		set, ds := Load(ruleNames, src)
		for _, d := range ds {
			if d.Span.Source != src || d.Span.Start > d.Span.End || d.Span.End > len(src.Text) {
				t.Errorf("%q: the place %d to %d is not in the text", d.Summary, d.Span.Start, d.Span.End)
			}
		}
		if !ds.HasErrors() {
			set.Explain(goodRecord())
			set.Explain(&facts.Record{})
		}
	})
}
