package engine

import (
	_ "embed"

	"glassbrief/lang"
)

//go:embed standard.rules
var standardRules []byte

// StandardRules gives the source of the standard criteria.
func StandardRules() *lang.Source {
	src, ds := lang.NewSource("standard.rules", standardRules)
	if ds.HasErrors() {
		panic(ds) // the embedded file is not what was tested
	}
	return src
}
