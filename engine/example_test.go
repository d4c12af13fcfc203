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
			fmt.Printf("%s: %s at f/%.1f, focus at %.2f m\n", shot.Shot.ID, use.Lens, use.Fact(facts.Stop), use.Fact(facts.FocusMark))
		}
	}
	// Output:
	// [Wide 18 Normal 35]
	// 1A: Normal 35 at f/1.8, focus at 12.00 m
	// 2B: Wide 18 at f/2.0, focus at 3.43 m
	// 3A: Wide 18 at f/2.0, focus at 3.24 m
	// 4A: Wide 18 at f/2.5, focus at 2.03 m
	// 5C: Wide 18 at f/2.0, focus at 2.39 m
	// 6A: Wide 18 at f/2.0, focus at 2.95 m
	// 7A: Wide 18 at f/11.0, focus at 1.11 m
	// 8A: Normal 35 at f/7.1, focus at 0.50 m
	// 9A: Normal 35 at f/1.8, focus at 2.99 m
}
