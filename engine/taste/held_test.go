package taste_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/engine/taste"
	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

// oneOf gives one of some values.
func oneOf[T any](r *rand.Rand, values ...T) T { return values[r.IntN(len(values))] }

// house is a file of rules with what the standard criteria do not have: a weight that is no whole
// number, a limit that bites everywhere, and a criterion without a score.
const house = `criterion "short" {
  weight 1.5
  when   moving
  score  0.01 + 0.99 * falling(focal_length, 18mm, 24mm)
  limit  0.5 + 0.5 * falling(focal_length, 0mm, 200mm)
}
criterion "no score" {
  weight 2
  veto   focal_length > 120mm
}
`

// drawBrief gives the text of a brief of a few shots on the demo catalogue, with rules or without.
func drawBrief(r *rand.Rand) string {
	var b strings.Builder
	own := oneOf(r, "", "", `  rules "house.rules"`)
	fmt.Fprintf(&b, "use demo\nscenario \"Drawn\" {\n  camera %q\n  rig \"Short sled\"\n  carry %d\n  change_price %g\n%s\n}\n",
		oneOf(r, "House body A", "House body B"), 1+r.IntN(3), oneOf(r, 0.0, 0.01, 0.01, 0.03), own)
	for i := range 1 + r.IntN(5) {
		near := 0.6 + 3.4*r.Float64()
		fmt.Fprintf(&b, "shot \"%d\" {\n  subject %s\n  frame %s\n  distance %.2fm..%.2fm\n  move %s\n  weight %d\n%s", i+1,
			oneOf(r, "person 1.7m", "people 1.5m x 1.8m", "object 0.5m x 0.4m", "place 3m x 2.5m"), oneOf(r, "medium", "full", "close..full", "medium..wide", "25%..200%", "30%..300%"),
			near, near+oneOf(r, 0, 0.2, 1.5), oneOf(r, "lead 1.1m/s", "orbit 0.8m/s", "side 1m/s", "push-in 0.4m/s", "hold"), 1+r.IntN(4),
			oneOf(r, "", "  light 20lx\n", "  light 110lx\n", "  light 470lx\n", "  light 2100lx\n", "  light 15000lx\n"))
		if r.IntN(3) == 0 {
			b.WriteString("  prefer background_blur > 1%\n  prefer focal_length < 30mm\n")
		}
		b.WriteString("}\n")
	}
	return b.String()
}

// judged reads a brief and judges it.
func judged(t enginetest.T, text string) *engine.Table {
	t.Helper()
	return judgedBy(t, text, "")
}

// judgedBy judges a brief by what further rules say too.
func judgedBy(t enginetest.T, text, further string) *engine.Table {
	t.Helper()
	if further != "" {
		text = strings.Replace(text, "\n}\n", "\n  rules \"further.rules\"\n}\n", 1)
	}
	s := enginetest.Read(t, text, brief.Files{Tree: fstest.MapFS{"house.rules": {Data: []byte(house)}, "further.rules": {Data: []byte(further)}}})
	return enginetest.Judge(t, s, engine.Options{})
}

func held(t enginetest.T, table *engine.Table) *taste.Held {
	t.Helper()
	h, err := taste.Hold(context.Background(), table, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// weighing gives a file of rules that sets weights.
func weighing(criteria []*rules.Criterion, weights []float64) string {
	var b strings.Builder
	for k, c := range criteria {
		fmt.Fprintf(&b, "weight %q %.17g\n", c.Name, weights[k])
	}
	return b.String()
}

// extended gives a set with what a file of rules says.
func extended(t enginetest.T, set *rules.Set, text string) *rules.Set {
	t.Helper()
	src, found := lang.NewSource("taste.rules", []byte(text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	set, found = set.Extend(src)
	if found.HasErrors() {
		t.Fatal(found)
	}
	return set
}

// What is held and weighed is what the rules with these weights say of the same set-up.
func TestHeldIsWeighedAsRulesAre(t *testing.T) {
	const bit = 1e-12
	r := rand.New(rand.NewPCG(17, 1))
	pairs, briefs, excluded := 0, 0, 0
	for range langtest.Cases(60) {
		table := judged(t, drawBrief(r))
		h := held(t, table)
		weights := h.Weights()
		for k := range weights {
			weights[k] = 0.001 + 5*r.ExpFloat64()
		}
		source := weighing(h.Criteria, weights)
		for i, shot := range table.Scenario.Shots {
			set := extended(t, shot.Rules, source)
			for j := range table.Lenses() {
				u := h.At(i, j)
				if u == nil {
					excluded++
					continue
				}
				pairs++
				if outcome := table.Outcome(i, j); math.Abs(outcome.Score-orZero(u.Judge(nil).Score)) > bit || outcome.Acceptable() != (h.Score(i, j, h.Weights()) > 0) {
					t.Fatalf("in force: %v, held %v", outcome, u.Judge(nil))
				}
				var record facts.Record
				table.Unweighed(i, j, &record)
				got, want := u.Judge(weights), set.Judge(&record)
				if got.Excluded != want.Excluded || math.Abs(got.Known-want.Known) > bit || math.Abs(orZero(got.Score)-orZero(want.Score)) > bit || math.IsNaN(got.Score) != math.IsNaN(want.Score) {
					t.Fatalf("shot %s, lens %d: got %+v, want %+v", shot.ID, j, got, want)
				}
				if len(u.Aspects) > len(weights) {
					briefs++
				}
			}
		}
	}
	if langtest.Enough(60) && (pairs < 500 || briefs < 100 || excluded < 100) {
		t.Errorf("%d pairs, of which %d with preferences; %d excluded", pairs, briefs, excluded)
	}
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
