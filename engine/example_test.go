package engine_test

import (
	"context"
	"fmt"
	"io/fs"
	"log"
	"os"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// A scenario is read from its folder with all that it names, every lens is judged in every
// shot, and the kit is printed with what is dialled in for each shot.
func Example() {
	folder := os.DirFS("../scenarios")
	text, err := fs.ReadFile(folder, "night-ferry.scenario")
	if err != nil {
		log.Fatal(err)
	}
	src, found := lang.NewSource("night-ferry.scenario", text)
	if found.HasErrors() {
		log.Fatal(found)
	}
	scenario, found := brief.Load(src, brief.Files{Tree: folder})
	if found.HasErrors() {
		log.Fatal(found)
	}
	answer, err := engine.Recommend(context.Background(), scenario, engine.Options{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(answer.Kit.Lenses)
	for _, shot := range answer.Shots {
		if use := shot.Use; use != nil { // nil when no lens of the kit does the shot
			fmt.Printf("%s: %s at f/%.1f, focus at %.2f m, ISO %.0f", shot.Shot.ID, use.Lens,
				use.Fact(facts.Stop), use.Fact(facts.FocusMark), use.Fact(facts.ISO))
			for _, filter := range use.Filtering.All() {
				fmt.Printf(", %s", filter.Name.Value)
			}
			fmt.Println()
		}
	}
	// Output:
	// [Wide 18 Normal 35]
	// 1A: Normal 35 at f/1.8, focus at 12.00 m, ISO 4000
	// 2B: Wide 18 at f/5.0, focus at 3.00 m, ISO 800, ND 6 stops, 77
	// 3A: Wide 18 at f/4.0, focus at 3.95 m, ISO 3200
	// 4A: Wide 18 at f/4.0, focus at 1.90 m, ISO 800
	// 5C: Wide 18 at f/4.0, focus at 2.40 m, ISO 800
	// 6A: Wide 18 at f/2.2, focus at 2.75 m, ISO 6400
	// 7A: Wide 18 at f/13.0, focus at 1.00 m, ISO 6400
	// 8A: Normal 35 at f/6.3, focus at 0.50 m, ISO 1600
	// 9A: Normal 35 at f/1.8, focus at 2.98 m, ISO 4000
}
