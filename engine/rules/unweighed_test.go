package rules_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// What is weighed afterwards is what the rules with these weights say, with scores of 0, unknown facts,
// criteria without a score and preferences of a shot.
func TestUnweighed(t *testing.T) {
	const bit = 1e-12
	source := func(t rapid.TB, text string) *lang.Source {
		src, found := lang.NewSource("own.rules", []byte(text))
		if found.HasErrors() {
			t.Fatal(found)
		}
		return src
	}
	extended := func(t rapid.TB, set *rules.Set, text string) *rules.Set {
		set, found := set.Extend(source(t, text))
		if found.HasErrors() {
			t.Fatal(found)
		}
		return set
	}
	own := extended(t, rules.Standard(), `criterion "short" {
  weight 0.7
  score  falling(focal_length, 20mm, 40mm)
  limit  0.5 + 0.5 * falling(focal_length, 20mm, 40mm)
}
criterion "heavy" {
  veto   lens_mass > 2kg
}
`)
	zeros, unknown := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		set := own
		if rapid.Bool().Draw(t, "prefers") {
			var file struct {
				Prefers []lang.Expression `lang:"prefer"`
			}
			parsed, _ := lang.Parse(source(t, "prefer focal_length < 30mm\nprefer lens_mass < 1kg\n"))
			lang.Decode(parsed, &file)
			set, _ = own.With(nil, file.Prefers)
		}
		var r facts.Record
		for id := range facts.Vocabulary().Len() {
			r.Set(facts.ID(id), rapid.SampledFrom([]float64{math.NaN(), 0, 1, 0.03, 0.3, 1.2, 5}).Draw(t, "fact"))
		}
		criteria := own.Criteria()
		weights := make([]float64, len(criteria))
		var text strings.Builder
		for k, c := range criteria {
			weights[k] = rapid.SampledFrom([]float64{0.0001, 0.3, 1, 2, 3.7, 1000}).Draw(t, "weight")
			fmt.Fprintf(&text, "weight %q %g\n", c.Name, weights[k])
		}
		weighed := extended(t, set, text.String())
		u, want := set.Unweighed(&r), weighed.Judge(&r)
		got := u.Judge(weights)
		switch {
		case got.Excluded != want.Excluded || math.Abs(got.Known-want.Known) > bit:
		case math.IsNaN(want.Score) != math.IsNaN(got.Score):
		case math.Abs(got.Score-want.Score) > bit: // false of NaN
		default:
			if want.Score == 0 {
				zeros++
			}
			if want.Known < 1 {
				unknown++
			}
			return
		}
		t.Fatalf("got %+v, want %+v", got, want)
	})
	if zeros == 0 || unknown == 0 {
		t.Errorf("%d scores of 0, %d not all known", zeros, unknown)
	}
}
