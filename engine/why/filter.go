package why

import (
	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// A FilterWant is the ND filter for want of which a lens gets too much light in a shot.
type FilterWant struct {
	Lens   string
	Thread float64 // of the lens, in metres
	Stops  float64 // of the filter with which it does the shot best
	// Least and Most are the weakest and the strongest that would do, of those in whole stops.
	Least, Most float64
	Over        float64 // stops too much without it
	score       float64 // with it
}

// strongest is the most stops that are looked for of a filter: ten are the strongest that is
// usual (common practice).
const strongest = 10

// FilterFor gives the filter with which one of some lenses would do a shot best; nil where
// none of them gets too much light, or no filter helps. Lenses and shot are places in a table.
func FilterFor(t *engine.Table, shot int, lenses ...int) *FilterWant {
	var best *FilterWant
	for _, place := range lenses {
		judged := t.Explain(shot, place)
		lens := t.Lenses()[place]
		if !judged.TooBright() || !lens.Thread.Diameter.Known() {
			continue
		}
		if want := filterOn(t, shot, lens); want != nil && (best == nil || want.score > best.score) {
			want.Over = judged.Fact(facts.Over)
			best = want
		}
	}
	return best
}

// filterOn tries filters of whole stops on a lens.
func filterOn(t *engine.Table, shot int, lens *catalog.Lens) *FilterWant {
	var want *FilterWant
	for stops := 1.0; stops <= strongest; stops++ {
		judged := t.Bench().WithFilter(ND(lens.Thread.Diameter, stops)).Stage(t.Scenario.Shots[shot]).Explain(lens)
		if judged.Standing != engine.Judged || judged.TooBright() {
			continue
		}
		if want == nil {
			want = &FilterWant{Lens: lens.Name.Value, Thread: lens.Thread.Diameter.Value, Least: stops}
		}
		want.Most = stops
		if judged.Score > want.score {
			want.Stops, want.score = stops, judged.Score
		}
	}
	return want
}

// ND makes up an ND filter of a thread.
func ND(thread lang.Quantity, stops float64) *catalog.Filter {
	strength := lang.NewQuantity(stops, lang.Stops)
	return &catalog.Filter{
		Name: lang.Text{Value: "ND"}, Kind: lang.Word{Value: catalog.FilterND}, Thread: thread,
		Strength: lang.Interval{Low: strength, High: strength},
	}
}
