package catalog

import (
	_ "embed"

	"glassbrief/lang"
)

//go:embed demo.catalog
var demo []byte

// Demo gives the text of the built-in demo catalogue: the equipment of an invented small
// outfit, with figures as such equipment has them.
func Demo() *lang.Source {
	src, ds := lang.NewSource("demo.catalog", demo)
	if ds != nil { // the text is part of the program
		panic(ds)
	}
	return src
}
