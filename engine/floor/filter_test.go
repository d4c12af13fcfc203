package floor

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// filtered solves the filters of a lens of a shot in bright light.
func filtered(t testing.TB, r *engine.Recommendation, name string) (Filters, *catalog.Lens, *engine.Judgement) {
	t.Helper()
	lens, _ := r.Scenario.Catalogue.Lenses.Lookup(name)
	j := r.Shots[0].Find(name)
	return filtersFor(r.Scenario, lens, j, lang.Printer{}), lens, j
}

func bright(lux float64) string {
	return fmt.Sprintf(briefText, shortSled, strings.Replace(usualShot, "320lx", fmt.Sprintf("%.0flx", lux), 1))
}

// Whatever the light, filters, iris, ISO and what is owned up to as too much make up what
// is too much; and each piece fits on the one before it.
func TestFiltersTakeWhatIsTooMuch(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := recommend(t, bright(rapid.Float64Range(50, 120e3).Draw(rt, "lux")))
		for i := range r.Shots[0].Ranking {
			f, lens, j := filtered(t, r, r.Shots[0].Ranking[i].Lens)
			if !(f.Needed > 0) {
				if f.Put != nil || f.Close != 0 || f.Left != 0 {
					rt.Errorf("%s: got %+v without need", lens.Name.Value, f)
				}
				continue
			}
			raised := math.Log2(f.ISO / j.Fact(facts.BaseISO))
			if got := f.Strength + f.Close + f.Left - raised; math.Abs(got-f.Needed) > 0.17 {
				rt.Errorf("%s: %g stops are taken, want %g: %+v", lens.Name.Value, got, f.Needed, f)
			}
			if f.ISO > j.Fact(facts.TopISO) || f.Close > mostClosed {
				rt.Errorf("%s: ISO %g and %g stops of iris go too far", lens.Name.Value, f.ISO, f.Close)
			}
			thread := lens.Thread.Diameter.OrNaN()
			for _, piece := range f.All() {
				if !(math.Abs(piece.Thread.Value-thread) < 1e-4) {
					rt.Errorf("%s: %q does not go on %g mm", lens.Name.Value, piece.Name.Value, thread*1e3)
				}
				thread = piece.Front.Or(piece.Thread.Value)
			}
			if (f.Left > 1.0/6) != (f.Problem != "") {
				rt.Errorf("%s: %g stops are left, and it says %q", lens.Name.Value, f.Left, f.Problem)
			}
		}
	})
}

func TestNamedFilters(t *testing.T) {
	for _, c := range []struct {
		name, lens string
		lux        float64
		want       string
	}{
		{"a third is the iris's", "Wide 18", 95, ""},
		{"one filter", "Normal 35", 800, "ND 2 stops, 67"},
		{"two on one another", "Wide 18", 40e3, "ND 4 stops, 77 + Turning ND, 77"},
		{"on a ring", "Zoom 16-35", 2000, "Ring 72 to 77 + Turning ND, 77"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, _, j := filtered(t, recommend(t, bright(c.lux)), c.lens)
			var names []string
			for _, piece := range f.All() {
				names = append(names, piece.Name.Value)
			}
			if got := strings.Join(names, " + "); got != c.want {
				t.Errorf("got %q for %g stops, want %q", got, j.Fact(facts.ND), c.want)
			}
		})
	}
}

func TestTooMuchLight(t *testing.T) {
	for _, c := range []struct {
		lens string
		lux  float64
		want string
	}{
		{"Wide 14", 600, "or shut the shutter to 1/"},
		{"Wide 14", 600, "or stop down to f/"},
		{"Wide 14", 81920, "it takes no screwed filter; bring ND for a matte box"},
		{"Zoom 10-18", 81920, "no ND filter of the catalogue fits its 62 mm thread"},
	} {
		f, _, _ := filtered(t, recommend(t, bright(c.lux)), c.lens)
		if !strings.Contains(f.Problem, "Too much light for") || !strings.Contains(f.Problem, c.want) {
			t.Errorf("%s: got %q, want %q", c.lens, f.Problem, c.want)
		}
	}
}
