package engine

import (
	_ "embed"
	"sync"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

//go:embed standard.rules
var standardText []byte

var (
	standardRules = sync.OnceValue(func() *lang.Source {
		src, ds := lang.NewSource("standard.rules", standardText)
		return mustHold(src, ds)
	})
	standardSet = sync.OnceValue(func() *rules.Set {
		set, ds := rules.Load(facts.Vocabulary(), standardRules())
		return mustHold(set, ds)
	})
)

// mustHold gives what was made of the embedded file, which is the one that was tested.
func mustHold[T any](made T, found lang.Diagnostics) T {
	if found.HasErrors() {
		panic(found)
	}
	return made
}

// StandardRules gives the source of the standard criteria.
func StandardRules() *lang.Source { return standardRules() }

// StandardSet gives the standard criteria. They depend on no scenario, and checking them
// takes as long as reading one with its catalogue: whoever has something to wait for before
// [Load] does well to ask for them beside it.
func StandardSet() *rules.Set { return standardSet() }
