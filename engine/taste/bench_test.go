package taste_test

import (
	"os"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/taste"
	"glassbrief/lang/langtest"
)

// BenchmarkTastes compares all tastes of both kinds on the demo with what one run judges and chooses,
// without what it reads and shows. So many runs are timed together as take about as long.
func BenchmarkTastes(b *testing.B) {
	const runs = 50
	s := enginetest.ReadFile(b, os.DirFS("../../scenarios"), "night-ferry.scenario")
	run := func() (*engine.Table, *engine.Choice) {
		table := enginetest.Judge(b, s, engine.Options{})
		choice, err := table.Choose(s.Limits, engine.Options{Runners: 2})
		if err != nil {
			b.Fatal(err)
		}
		return table, choice
	}
	table, choice := run()
	r := langtest.NewRace(langtest.Processor,
		langtest.Way{Name: "run", Units: runs, Do: func() {
			for range runs {
				run()
			}
		}},
		langtest.Way{Name: "tastes", Do: func() {
			if _, err := taste.Draw(b.Context(), table, &choice.Kit, taste.Draws, engine.Options{}); err != nil {
				b.Fatal(err)
			}
		}},
	)
	langtest.Hold(b, r.Round, r.AtMost("tastes", "run", 100))
}
