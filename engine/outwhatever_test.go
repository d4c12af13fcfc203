package engine

import (
	"math"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/plausible"
	"glassbrief/lang/langtest"

	"pgregory.net/rapid"
)

// Other values of some figures of a lens leave all facts as they are but those that are said to
// follow from these figures; and each of the figures but the thread changes some.
func TestFiguresGiveTheirFacts(t *testing.T) {
	c, found := catalog.Load(catalog.Demo())
	if found.HasErrors() {
		t.Fatal(found)
	}
	camera, rig := c.Cameras.All()[0], c.Rigs.All()[0]
	s := &brief.Scenario{Catalogue: c, Around: plausible.NewContext(c), Rig: rig, Cameras: []*catalog.Camera{camera}}
	filters := newFilterSets(c, camera)
	changed := map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		lens := rapid.SampledFrom(c.Lenses.All()).Draw(t, "lens")
		other := *lens
		var given facts.Set
		var last string
		for i := range plausible.Lenses {
			row := &plausible.Lenses[i]
			r := row.Range(lens, s.Around)
			if !r.Known() || rapid.Bool().Draw(t, "as it is") {
				continue
			}
			row.Put(&other, r.At(rapid.Float64Range(-1, 1).Draw(t, row.Keyword)))
			of, ok := givenBy[row.Keyword]
			if !ok {
				t.Fatalf("nobody says what %s gives", row.Keyword)
			}
			given, last = given.Or(of), row.Keyword
		}
		moving := given.Or(facts.After(given.IDs()...))
		a, b := fit(s, lens, camera, filters), fit(s, &other, camera, filters)
		for _, id := range facts.OfScope(facts.OfLens).IDs() {
			x, y := a.record.Value[id], b.record.Value[id]
			switch same := x == y || math.IsNaN(x) && math.IsNaN(y); {
			case !same && !moving.Has(id):
				t.Errorf("%s, last %s: %s goes from %g to %g", lens.Name.Value, last, facts.Table()[id].Name, x, y)
			case !same:
				for keyword, of := range givenBy {
					changed[keyword] = changed[keyword] || of.Has(id)
				}
			}
		}
	})
	for keyword := range givenBy {
		if langtest.Enough(100) && !changed[keyword] && keyword != "thread" {
			t.Errorf("%s changed nothing", keyword)
		}
	}
}
