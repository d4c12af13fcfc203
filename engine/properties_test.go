package engine_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// same reports how two answers differ.
func same(t *rapid.T, what string, got, want *engine.Recommendation) {
	t.Helper()
	if diff := cmp.Diff(outlook(want), outlook(got)); diff != "" {
		t.Errorf("%s changes the answer (-before +after):\n%s", what, diff)
	}
	if sure(want) && !slices.Equal(sorted(got.Kit.Lenses), sorted(want.Kit.Lenses)) {
		t.Errorf("%s changes the kit from %v to %v", what, want.Kit.Lenses, got.Kit.Lenses)
	}
}

var oneRunner = engine.Options{Runners: 1}

func TestOrderOfTheCatalogueDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), oneRunner)
		b.lenses = rapid.Permutation(b.lenses).Draw(t, "order")
		same(t, "another order of the lenses", enginetest.Recommend(t, b.load(t), oneRunner), before)
	})
}

func TestOrderOfTheShotsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), oneRunner)
		b.shots = rapid.Permutation(b.shots).Draw(t, "order")
		same(t, "another order of the shots", enginetest.Recommend(t, b.load(t), oneRunner), before)
	})
}

func TestWorkersDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawBrief(t).load(t)
		one := enginetest.Recommend(t, s, engine.Options{Runners: 1, Workers: 1})
		two := enginetest.Recommend(t, s, engine.Options{Runners: 1, Workers: 2})
		same(t, "a second worker", two, one)
		for i := range one.Shots {
			for j := range one.Shots[i].Ranking {
				// Bit for bit; a NaN that marks the unknown is one too.
				if a, b := fmt.Sprint(one.Shots[i].Ranking[j].Facts), fmt.Sprint(two.Shots[i].Ranking[j].Facts); a != b {
					t.Fatalf("facts differ:\n%s\n%s", a, b)
				}
			}
		}
	})
}

// uncovered sums the weight of the shots that a kit does not cover.
func uncovered(r *engine.Recommendation) float64 {
	weight := 0.0
	for i := range r.Shots {
		if r.Kit.Uses[i] == "" {
			weight += r.Shots[i].Shot.Weight
		}
	}
	return weight
}

func TestAnotherLensNeverMakesTheKitWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), engine.Options{})
		b.lenses = append(b.lenses, drawLens(t, "Another"))
		after := enginetest.Recommend(t, b.load(t), engine.Options{})
		const rounding = 1e-6 // of scores to fixed point
		if a, b := uncovered(after), uncovered(before); a > b || a == b && after.Kit.Mean < before.Kit.Mean-rounding {
			t.Errorf("got uncovered weight %v, mean %v; without the lens %v, %v", a, after.Kit.Mean, b, before.Kit.Mean)
		}
	})
}

// scores gives what each lens is worth in the only shot; 0 when it may not be proposed.
func scores(r *engine.Recommendation) map[string]float64 {
	all := map[string]float64{}
	for _, j := range r.Shots[0].Ranking {
		all[j.Lens] = 0
		if j.Standing == engine.Judged {
			all[j.Lens] = j.Score
		}
	}
	return all
}

func TestTighterNeedNeverRaisesAScore(t *testing.T) {
	needs := []struct {
		text         string
		tight, loose int // of which the number lies between
	}{
		{"face_stretch < %d%%", 2, 30},
		{"bending < %d%%", 0, 12},
		{"iso < %d", 400, 12000},
		{"lens_mass < %dg", 200, 2000},
		{"framing_error < %d%%", 0, 80},
		{"focal_length < %dmm", 10, 120},
		{"near_limit < %dcm", 20, 300},
		{"rig_mass < %dg and wobble_share < 4%%", 1100, 3000},
	}
	rapid.Check(t, func(t *rapid.T) {
		b := drawBrief(t)
		need := rapid.SampledFrom(needs).Draw(t, "need")
		tight := rapid.IntRange(need.tight, need.loose).Draw(t, "tight")
		loose := rapid.IntRange(tight, need.loose).Draw(t, "loose")
		shot := b.shots[0]
		with := func(limit int) map[string]float64 {
			line := "  need " + fmt.Sprintf(need.text, limit) + "\n}"
			b.shots = []string{strings.Replace(shot, "}", line, 1)}
			return scores(enginetest.Recommend(t, b.load(t), engine.Options{}))
		}
		loosely, tightly := with(loose), with(tight)
		for lens, score := range tightly {
			if score > loosely[lens]+1e-9 {
				t.Errorf("%s scores %v with %s, and only %v with %d", lens, score, fmt.Sprintf(need.text, tight), loosely[lens], loose)
			}
		}
	})
}

func TestTidyTextsGiveTheSameAnswer(t *testing.T) {
	tidy := func(t *rapid.T, text string) string {
		src, ds := lang.NewSource("untidy", []byte(text))
		if ds.HasErrors() {
			t.Fatal(ds)
		}
		return lang.Tidy(src)
	}
	rapid.Check(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), oneRunner)
		after := enginetest.Recommend(t, enginetest.ReadWith(t, tidy(t, b.scenario()), tidy(t, b.catalogue())), oneRunner)
		same(t, "tidying", after, before)
	})
}

// metricQuantity is one of the generated briefs; the rate is that of its imperial unit.
var metricQuantity = regexp.MustCompile(`(\d+(?:\.\d+)?)(mm|cm|kg|g|lx|m/s)\b`)

var imperialUnits = map[string]struct {
	unit   string
	metric float64 // of the metric unit in one of these, by definition
}{
	"mm": {"in", 25.4}, "cm": {"ft", 30.48}, "kg": {"lb", 0.45359237}, "g": {"oz", 453.59237 / 16},
	"lx": {"fc", 1 / (0.3048 * 0.3048)}, "m/s": {"ft/s", 0.3048},
}

func toImperial(text string) string {
	return metricQuantity.ReplaceAllStringFunc(text, func(quantity string) string {
		parts := metricQuantity.FindStringSubmatch(quantity)
		value, err := strconv.ParseFloat(parts[1], 64)
		if err != nil {
			panic(err) // the pattern takes digits only
		}
		to := imperialUnits[parts[2]]
		return strconv.FormatFloat(value/to.metric, 'f', 12, 64) + to.unit
	})
}

// hopeless reports whether a criterion scores next to nothing. From there the mean rises so
// steeply that the last digit of a length shows.
func hopeless(j *engine.Judgement) bool {
	return slices.ContainsFunc(j.Criteria, func(f rules.Finding) bool { return f.Score < 1e-6 })
}

func TestImperialTextsGiveTheSameAnswer(t *testing.T) {
	const rounding = 1e-6
	rapid.Check(t, func(t *rapid.T) {
		b := drawBrief(t)
		metric := enginetest.Recommend(t, b.load(t), oneRunner)
		imperial := enginetest.Recommend(t, enginetest.ReadWith(t, toImperial(b.scenario()), toImperial(b.catalogue())), oneRunner)
		steep := false
		for i := range metric.Shots {
			for _, want := range metric.Shots[i].Ranking {
				got := imperial.Shots[i].Find(want.Lens)
				if got.Standing != want.Standing {
					t.Errorf("shot %s, %s: got %s from imperial units, want %s", metric.Shots[i].Shot.ID, want.Lens, got.Standing, want.Standing)
				}
				if want.Standing != engine.Judged {
					continue
				}
				if hopeless(&want) || hopeless(got) {
					steep = true
				} else if math.Abs(got.Score-want.Score) > rounding {
					t.Errorf("shot %s, %s: got %v from imperial units, want %v", metric.Shots[i].Shot.ID, want.Lens, got.Score, want.Score)
				}
			}
		}
		if sure(metric) && !steep && !slices.Equal(sorted(imperial.Kit.Lenses), sorted(metric.Kit.Lenses)) {
			t.Errorf("got the kit %v from imperial units, want %v", imperial.Kit.Lenses, metric.Kit.Lenses)
		}
	})
}
