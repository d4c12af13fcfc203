package catalog

import (
	"slices"

	"glassbrief/lang"
)

// A Kept is the catalogue that was loaded last, for who loads the same again and again while other files
// change. The zero value is ready for use, and nil keeps nothing. It is for one goroutine.
type Kept struct {
	of        []sourceText
	catalogue *Catalogue
	found     lang.Diagnostics
}

type sourceText struct{ name, text string }

// Load is [Load]. Sources of the same names and texts as the last give the same catalogue, whose places
// lie in the sources that it was loaded from.
func (k *Kept) Load(sources ...*lang.Source) (*Catalogue, lang.Diagnostics) {
	if k == nil {
		return Load(sources...)
	}
	of := make([]sourceText, len(sources))
	for i, src := range sources {
		of[i] = sourceText{src.Name, src.Text}
	}
	if k.catalogue == nil || !slices.Equal(of, k.of) {
		k.of = of
		k.catalogue, k.found = Load(sources...)
	}
	return k.catalogue, k.found
}
