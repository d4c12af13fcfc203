package engine_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
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

// hundreds checks a property of 500 random briefs, or of as many times fewer or more as rapid checks
// fewer or more than its usual 100.
func hundreds(t *testing.T, holds func(*rapid.T)) {
	t.Helper()
	langtest.Draw(t, langtest.Cases(500))
	rapid.Check(t, holds)
}

var oneRunner = engine.Options{Runners: 1}

func TestOrderOfTheCatalogueDoesNotMatter(t *testing.T) {
	hundreds(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), oneRunner)
		b.lenses = rapid.Permutation(b.lenses).Draw(t, "order")
		same(t, "another order of the lenses", enginetest.Recommend(t, b.load(t), oneRunner), before)
	})
}

func TestOrderOfTheShotsDoesNotMatterWhereChangesAreFree(t *testing.T) {
	hundreds(t, func(t *rapid.T) {
		b := drawBrief(t)
		s := b.load(t)
		s.Prices.Change = 0
		before := enginetest.Recommend(t, s, oneRunner)
		b.shots = rapid.Permutation(b.shots).Draw(t, "order")
		s = b.load(t)
		s.Prices.Change = 0
		same(t, "another order of the shots", enginetest.Recommend(t, s, oneRunner), before)
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

// renamed gives names to lenses and shots anew: each gets that of another, and the camera one of its own.
func (b drawnBrief) renamed(t *rapid.T) (scenario, catalogue string, back map[string]string) {
	back = map[string]string{}
	var pairs []string
	change := func(blocks []string, what string) {
		var names []string
		for _, block := range blocks {
			names = append(names, strings.Split(block, `"`)[1])
		}
		for i, name := range rapid.Permutation(names).Draw(t, what) {
			back[name] = names[i]
			pairs = append(pairs, strconv.Quote(names[i]), strconv.Quote(name))
		}
	}
	change(b.lenses, "names of lenses")
	change(b.shots, "names of shots")
	anew := strings.NewReplacer(append(pairs, `"Body"`, `"Corpus"`)...)
	return anew.Replace(b.scenario()), anew.Replace(b.catalogue()), back
}

// unplaced writes an answer without the places, which ties take by their names.
func unplaced(r *engine.Recommendation, name func(string) string) []string {
	lines := []string{fmt.Sprintf("kit %.9f", r.Kit.Value)}
	for i := range r.Shots {
		for _, j := range r.Shots[i].Ranking {
			lines = append(lines, fmt.Sprintf("%s %s %s %.9f %v", name(r.Shots[i].Shot.ID), name(j.Lens), j.Standing, j.Score, vetoesOf(&j)))
		}
	}
	slices.Sort(lines)
	return lines
}

func TestOtherNamesChangeNamesOnly(t *testing.T) {
	hundreds(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), oneRunner)
		scenario, catalogue, back := b.renamed(t)
		after := enginetest.Recommend(t, enginetest.ReadWith(t, scenario, catalogue), oneRunner)
		asBefore := func(name string) string { return back[name] }
		if diff := cmp.Diff(unplaced(before, func(name string) string { return name }), unplaced(after, asBefore)); diff != "" {
			t.Errorf("other names change the answer (-before +after):\n%s", diff)
		}
		var kit []string
		for _, lens := range after.Kit.Lenses {
			kit = append(kit, back[lens])
		}
		if sure(before) && !slices.Equal(sorted(kit), sorted(before.Kit.Lenses)) {
			t.Errorf("other names change the kit from %v to %v", before.Kit.Lenses, kit)
		}
	})
}

func TestOrderOfStatementsDoesNotMatter(t *testing.T) {
	shuffled := func(t *rapid.T, blocks []string) []string {
		var all []string
		for _, block := range blocks {
			lines := strings.Split(strings.TrimSpace(block), "\n")
			inner := rapid.Permutation(lines[1:len(lines)-1]).Draw(t, "order")
			all = append(all, lines[0]+"\n"+strings.Join(inner, "\n")+"\n}\n")
		}
		return all
	}
	hundreds(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), oneRunner)
		b.lenses, b.shots = shuffled(t, b.lenses), shuffled(t, b.shots)
		same(t, "another order of the statements", enginetest.Recommend(t, b.load(t), oneRunner), before)
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
	hundreds(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), engine.Options{})
		b.lenses = append(b.lenses, drawLens(t, "Another"))
		after := enginetest.Recommend(t, b.load(t), engine.Options{})
		const rounding = 1e-6 // of scores to fixed point
		if a, b := uncovered(after), uncovered(before); a > b || a == b && after.Kit.Value < before.Kit.Value-rounding {
			t.Errorf("got uncovered weight %v, worth %v; without the lens %v, %v", a, after.Kit.Value, b, before.Kit.Value)
		}
	})
}

// A second copy of a lens is no better than the first: a shot takes one lens.
func TestASecondCopyOfALensChangesNothing(t *testing.T) {
	hundreds(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), engine.Options{})
		of := rapid.SampledFrom(b.lenses).Draw(t, "lens")
		name := strings.Split(of, `"`)[1]
		b.lenses = append(b.lenses, strings.Replace(of, name, "Twin", 1))
		after := enginetest.Recommend(t, b.load(t), engine.Options{})
		const rounding = 1e-6 // of scores to fixed point
		if uncovered(after) != uncovered(before) || math.Abs(after.Kit.Value-before.Kit.Value) > rounding {
			t.Errorf("got uncovered weight %v, worth %v; with one copy of %s %v, %v", uncovered(after), after.Kit.Value, name, uncovered(before), before.Kit.Value)
		}
		for i := range before.Shots {
			for _, want := range before.Shots[i].Ranking {
				if got := after.Shots[i].Find(want.Lens); got.Standing != want.Standing || got.Score != want.Score {
					t.Errorf("%s: got %v, %v beside its copy, want %v, %v", want.Lens, got.Standing, got.Score, want.Standing, want.Score)
				}
			}
			one, twin := after.Shots[i].Find(name), after.Shots[i].Find("Twin")
			if one.Standing != twin.Standing || one.Score != twin.Score {
				t.Errorf("%s scores %v, and its copy %v", name, one.Score, twin.Score)
			}
		}
	})
}

func TestALargerBagNeverMakesTheKitWorse(t *testing.T) {
	hundreds(t, func(t *rapid.T) {
		b := drawBrief(t)
		before := enginetest.Recommend(t, b.load(t), engine.Options{})
		b.carry += rapid.IntRange(1, 3).Draw(t, "more")
		after := enginetest.Recommend(t, b.load(t), engine.Options{})
		const rounding = 1e-6 // of scores to fixed point
		if a, b := uncovered(after), uncovered(before); a > b || a == b && after.Kit.Value < before.Kit.Value-rounding {
			t.Errorf("got uncovered weight %v, worth %v; with fewer lenses %v, %v", a, after.Kit.Value, b, before.Kit.Value)
		}
	})
}

// From farther off, a lens of one focal length shows more and a face of it is stretched less. What its
// score does has no direction: it has a best distance.
func TestFartherOffALensShowsMoreAndStretchesLess(t *testing.T) {
	told := 0
	hundreds(t, func(t *rapid.T) {
		b := drawBrief(t)
		b.lenses = []string{block("lens", "Prime", append(drawAllFigures(t), fmt.Sprintf("focal %dmm", rapid.IntRange(9, 120).Draw(t, "focal")), `mount "Near"`))}
		cm := rapid.IntRange(60, 900).Draw(t, "distance")
		farther := cm + rapid.IntRange(1, 900).Draw(t, "farther")
		distance := regexp.MustCompile(`distance .*`)
		shot := b.shots[0]
		at := func(cm int) *engine.Judgement {
			b.shots = []string{distance.ReplaceAllString(shot, fmt.Sprintf("distance %dcm", cm))}
			r := enginetest.Recommend(t, b.load(t), engine.Options{})
			return &r.Shots[0].Ranking[0]
		}
		before, after := at(cm), at(farther)
		const rounding = 1e-9
		for _, c := range []struct {
			what string
			fact facts.ID
			sign float64 // of how it goes with distance
		}{{"field", facts.FieldNear, 1}, {"stretch of the face", facts.FaceStretch, -1}} {
			was, is := before.Facts.Value[c.fact], after.Facts.Value[c.fact]
			if (is-was)*c.sign < -rounding {
				t.Errorf("the %s is %v at %d cm, and %v at %d cm", c.what, was, cm, is, farther)
			}
			if (is-was)*c.sign > rounding { // which is false of what is unknown
				told++
			}
		}
	})
	if told == 0 {
		t.Error("nothing is known of any lens, so that this says nothing")
	}
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
	hundreds(t, func(t *rapid.T) {
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
	hundreds(t, func(t *rapid.T) {
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
