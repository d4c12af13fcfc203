package rules

import (
	"math"
	"testing"

	"glassbrief/engine/facts"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// However a set is parted, the factors multiply to the score that Judge gives, exclude where
// it does, and depend on nothing but what their class reads.
func TestPartsMultiplyToTheScore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := loadDrawn(t, drawRules(t))
		const half = 0.5 // for what excludes
		classes := rapid.IntRange(1, 4).Draw(t, "classes")
		of := map[facts.Set]int{}
		parts := set.Parts(classes, func(reads facts.Set) int {
			if _, seen := of[reads]; !seen {
				of[reads] = rapid.IntRange(0, classes-1).Draw(t, "class")
			}
			return of[reads]
		})
		var k Known
		for range 3 { // the memory of k is used again
			r := record(t, testNames)
			judged := set.Judge(r)
			raised := 0
			for _, f := range set.Explain(r).Criteria {
				raised += len(f.Raised)
			}
			parts.Look(r, &k)
			product, lenient, excluded := 1.0, 1.0, false
			for class := range classes {
				whole := parts.Factor(class, r, &k, 0, 0)
				enough := rapid.Float64Range(0, 1).Draw(t, "enough")
				if got := parts.Factor(class, r, &k, 0, enough); got != whole && (got > enough || got < whole) {
					t.Errorf("got a factor of %g where %g is enough, and it is %g", got, enough, whole)
				}
				product *= whole
				lenient *= parts.Factor(class, r, &k, half, 0)
				first := parts.Excluding(class, r, facts.Set{})
				excluded = excluded || first >= 0
				for i := range parts.Pieces(class) {
					if excludes := parts.Excludes(class, i, r); excludes && (first < 0 || i < first) || !excludes && i == first {
						t.Errorf("piece %d of class %d excludes: %v, and the first that does is %d", i, class, excludes, first)
					}
				}
			}
			if excluded != judged.Excluded {
				t.Errorf("a class excludes %v, Judge %v", excluded, judged.Excluded)
			}
			if judged.Excluded && product != 0 {
				t.Errorf("excluded, and the factors leave %g", product)
			}
			want := math.Pow(half, float64(raised))
			for _, trace := range set.Trace(r) {
				for _, line := range trace.Limits {
					if trace.Applies && line.Value > 0 && k.weight > 0 {
						want *= math.Pow(line.Value, k.weight*k.scale)
					} else if trace.Applies && line.Value > 0 {
						want *= line.Value
					}
				}
				for _, line := range trace.Scores {
					if trace.Applies && line.Known {
						want *= math.Pow(max(line.Value, half), trace.Weight*k.scale)
					}
				}
			}
			if !(math.Abs(lenient-want) <= 1e-12) {
				t.Errorf("with half for each of %d exclusions and for lower scores, %g is left, want %g", raised, lenient, want)
			}
			// The smallest score of which the product is no denormal number.
			least := math.Pow(1e-300, 1/(k.weight*k.scale))
			switch got := k.Score(product); {
			case judged.Excluded:
			case math.IsNaN(judged.Score):
				if k.weight != 0 {
					t.Errorf("no score is known, and a weight of %g", k.weight)
				}
			case judged.Score < least:
				if got > least*(1+1e-9) {
					t.Errorf("got %g, want %g or what is left of it below %g", got, judged.Score, least)
				}
			case !(math.Abs(got-judged.Score) <= 1e-12):
				t.Errorf("the factors give %v, Judge %v", got, judged.Score)
			}

			class := rapid.IntRange(0, classes-1).Draw(t, "of class")
			before := parts.Factor(class, r, &k, 0, 0)
			outside := parts.Reads(class)
			for i := range testNames.Len() {
				if id := facts.ID(i); !outside.Has(id) {
					r.Set(id, rapid.Float64Range(0, 1).Draw(t, "changed"))
				}
			}
			if after := parts.Factor(class, r, &k, 0, 0); !same(before, after) {
				t.Errorf("what the class does not read changed its factor from %v to %v", before, after)
			}
		}
	})
}

// The product of a heavy set does not underflow: its exponents are scaled down.
func TestPartsOfManyCriteria(t *testing.T) {
	text := ""
	for i := range 40 {
		text += "criterion \"c" + string(rune('a'+i%26)) + string(rune('a'+i/26)) + "\" {\n  weight 9\n  limit 0.9\n  score 0.05\n}\n"
	}
	set, r := load(t, text), goodRecord()
	parts := set.Parts(2, func(facts.Set) int { return 1 })
	var k Known
	parts.Look(r, &k)
	got, want := k.Score(parts.Factor(0, r, &k, 0, 0)*parts.Factor(1, r, &k, 0, 0)), 0.05*math.Pow(0.9, 40)
	if judged := set.Judge(r).Score; math.Abs(judged-want) > 1e-12 || math.Abs(got-want) > 1e-12 {
		t.Errorf("the parts give %g, Judge %g, want %g", got, judged, want)
	}
}

// Assuming that all is known gives what looking at such a record does.
func TestPartsAssumed(t *testing.T) {
	set, r := load(t, testRules, limitRules), goodRecord()
	parts := set.Parts(3, func(reads facts.Set) int {
		if reads.Has(heldFocus) {
			return 2
		}
		return 0
	})
	if !parts.Limits(2) || parts.Limits(1) {
		t.Error("the limit is not in the class of what it reads")
	}
	if !parts.Conditional.Has(focusFixed) || parts.Conditional.Has(heldFocus) {
		t.Errorf("the conditions read %v", parts.Conditional)
	}
	var looked, assumed Known
	parts.Look(r, &looked)
	parts.Assume(&assumed)
	for class := range 3 {
		if a, b := parts.Factor(class, r, &looked, 0, 0), parts.Factor(class, r, &assumed, 0, 0); a != b {
			t.Errorf("class %d: %g of what is looked at, %g of what is assumed", class, a, b)
		}
	}
	if n := testing.AllocsPerRun(100, func() { sink = parts.Factor(2, r, &looked, 0, 0) }); n != 0 {
		t.Errorf("a factor allocates %v times, want 0", n)
	}
}

// What reads a fact of a rules file reads what that fact is made from, through others too.
func TestPartsReadBehindFacts(t *testing.T) {
	set := load(t, testRules)
	var behind []bool
	set.Parts(1, func(reads facts.Set) int {
		behind = append(behind, reads.Has(closeFocus))
		return 0
	})
	if diff := cmp.Diff([]bool{false, false, false, true, true}, behind); diff != "" {
		t.Errorf("what reads close_focus, vetoes and scores in the order of the file, differs (-want +got):\n%s", diff)
	}
}
