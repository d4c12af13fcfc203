package rules

import (
	_ "embed"
	"sync"

	"glassbrief/engine/facts"
	"glassbrief/lang"
)

//go:embed standard.rules
var standardText []byte

var (
	standardSource = sync.OnceValue(func() *lang.Source {
		src, ds := lang.NewSource("standard.rules", standardText)
		return mustHold(src, ds)
	})
	standardSet = sync.OnceValue(func() *Set {
		return mustHold((&Set{names: facts.Vocabulary()}).extend(loader{tested: true}, standardSource()))
	})
)

// mustHold gives what was made of the embedded file. Faults in it panic, since it was tested.
func mustHold[T any](made T, found lang.Diagnostics) T {
	if found.HasErrors() {
		panic(found)
	}
	return made
}

// StandardSource gives the source of the standard criteria.
func StandardSource() *lang.Source { return standardSource() }

// Standard gives the standard criteria. They depend on no scenario, and checking them takes
// as long as reading one with its catalogue, so start it while waiting for something else.
func Standard() *Set { return standardSet() }
