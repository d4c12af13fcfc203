package floor

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/facts"

	"pgregory.net/rapid"
)

// filtered solves the filters of a lens of a shot in bright light.
func filtered(t testing.TB, r *engine.Recommendation, name string) (Filters, *catalog.Lens, *engine.Judgement) {
	t.Helper()
	lens, _ := r.Scenario.Catalogue.Lenses.Lookup(name)
	j := r.Shots[0].Find(name)
	return filtersFor(r.Scenario, lens, j), lens, j
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
			if n := f.tooBright(lens, j); f.Left > 0 && n.Shutter == 0 && f.Left <= mostShut {
				rt.Errorf("%s: %g stops are left, and no shutter takes them", lens.Name.Value, f.Left)
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
		lens              string
		lux               float64
		on, shutter, stop bool
	}{
		{"Wide 14", 600, false, true, true},
		{"Wide 14", 81920, false, false, false},
		{"Zoom 10-18", 81920, false, false, false},
		{"Wide 18", 1e6, true, true, true},
	} {
		f, lens, j := filtered(t, recommend(t, bright(c.lux)), c.lens)
		n := f.tooBright(lens, j)
		if !(n.Left > leftOver) || n.On != c.on || (n.Shutter > 0) != c.shutter || (n.Stop > 0) != c.stop {
			t.Errorf("%s in %g lx: got %+v, want a filter on %t, a shutter %t and a stop %t", c.lens, c.lux, n, c.on, c.shutter, c.stop)
		}
		// The shutter that is named takes just what is left.
		if c.shutter && math.Abs(math.Log2(j.Fact(facts.ShutterTime)/n.Shutter)-n.Left) > 1e-9 {
			t.Errorf("%s: a shutter of %g s does not take %g stops", c.lens, n.Shutter, n.Left)
		}
	}
}
