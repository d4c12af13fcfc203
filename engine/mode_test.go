package engine_test

import (
	"slices"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// A shot in a sensor mode of its own is judged, explained, tried and drawn as it is where the
// whole scenario is in that mode, and the others as where none is.
func TestSensorModeOfAShotIsItsOwn(t *testing.T) {
	const scenario, shot, mode = "  camera \"Body\"\n", "shot \"0A\" {\n", "  mode \"Crop\"\n"
	rapid.Check(t, func(t *rapid.T) {
		b := drawBrief(t)
		read := func(line string) *engine.Recommendation {
			text := b.scenario()
			if line != "" {
				text = strings.Replace(text, line, line+mode, 1)
			}
			return enginetest.Recommend(t, enginetest.ReadWith(t, text, b.catalogue()), engine.Options{})
		}
		whole, one, none := read(scenario), read(shot), read("")
		rows := func(r *engine.Recommendation, ofFirst bool) []string {
			return slices.DeleteFunc(outlook(r), func(line string) bool {
				return strings.HasPrefix(line, "kit") || strings.HasPrefix(line, "0A ") != ofFirst
			})
		}
		if diff := cmp.Diff(rows(whole, true), rows(one, true)); diff != "" {
			t.Errorf("the shot is not as in a scenario of its mode (-want +got):\n%s", diff)
		}
		if diff := cmp.Diff(rows(none, false), rows(one, false)); diff != "" {
			t.Errorf("the mode of one shot changes others (-want +got):\n%s", diff)
		}
		first := &one.Shots[0]
		for _, j := range first.Ranking {
			lens, _ := one.Scenario.Catalogue.Lenses.Lookup(j.Lens)
			if tried := engine.NewBench(one.Scenario, one.Camera).Stage(first.Shot).Try(lens); tried.Score != j.Score || tried.Standing != j.Standing {
				t.Errorf("%s is %s with %v by itself, and %s with %v beside the others", j.Lens, tried.Standing, tried.Score, j.Standing, j.Score)
			}
		}
		if got, want := one.Picture(first.Shot, &first.Ranking[0]), whole.Picture(whole.Shots[0].Shot, whole.Shots[0].Find(first.Ranking[0].Lens)); got.Sensor != want.Sensor || got.Delivered != want.Delivered {
			t.Errorf("got a picture of %v on %v, want %v on %v", got.Delivered, got.Sensor, want.Delivered, want.Sensor)
		}
	})
}
