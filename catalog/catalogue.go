// Package catalog holds equipment: lenses, cameras, rigs, mounts, adapters and filters,
// read from ".catalog" files, checked, looked up by name and fitted to each other.
//
// Each type is a block of the file; each field's comment is its entry in the language
// reference. Quantities are in SI units, as package lang holds them. What a file does
// not say is unknown, which is a state of its own: it is never taken as zero, and
// whoever needs the figure must ask whether it is known.
package catalog

import (
	_ "embed"
	"maps"
	"reflect"
	"slices"
	"strings"

	"glassbrief/lang"
)

// A Catalogue is the equipment of one or several files. It is not changed once loaded,
// so it may be read by any number of goroutines.
type Catalogue struct {
	Lenses   Shelf[Lens]
	Cameras  Shelf[Camera]
	Rigs     Shelf[Rig]
	Mounts   Shelf[Mount]
	Adapters Shelf[Adapter]
	Filters  Shelf[Filter]
}

// file is what one .catalog file says.
type file struct {
	// A lens.
	Lenses []Lens `lang:"lens"`
	// A camera body.
	Cameras []Camera `lang:"camera"`
	// A stabiliser.
	Rigs []Rig `lang:"rig"`
	// A mount that lenses and cameras have.
	Mounts []Mount `lang:"mount"`
	// An adapter from one mount to another.
	Adapters []Adapter `lang:"adapter"`
	// A filter.
	Filters []Filter `lang:"filter"`
	// Changes single lines of an item that this or another catalogue describes, as:
	// amend lens "Wide 18" { mass 640g }.
	Amends []amendment `lang:"amend,own"`
}

// Ready makes the reading of catalogues ready, which [Load] would do.
func Ready() { lang.Ready(reflect.TypeFor[file]()) }

// Shape says how statements may stand in a catalogue.
func Shape() lang.Shape {
	shape := lang.ShapeOf(reflect.TypeFor[file]())
	all := lang.Shape{} // what items of all kinds take
	for _, kind := range amendable {
		maps.Copy(all, shape[kind].Inner)
	}
	shape["camera"].Inner.Name("mode")
	shape[amendKeyword] = lang.Standing{Repeats: true, Named: true, Inner: all}
	for keyword, standing := range shape {
		standing.Free = true
		shape[keyword] = standing
	}
	return shape
}

// Load reads catalogue files and lays them over each other, the first on top. Names are
// unique within a file. When two files have an item of the same name, the first file wins,
// and each difference is a warning. An item may name a mount of another file, and an
// "amend" block changes single lines of an item of any file. An item's Span
// says where it was read, and [Field.Origin] where one of its lines was.
//
// After errors, the catalogue holds what could be read: an item with a faulty line lacks
// that line. Warnings are for what is possible but improbable, such as a lens of 40 kg.
func Load(sources ...*lang.Source) (*Catalogue, lang.Diagnostics) {
	c := &Catalogue{
		Lenses:   Shelf[Lens]{kind: "lens", plural: "lenses"},
		Cameras:  Shelf[Camera]{kind: "camera", plural: "cameras"},
		Rigs:     Shelf[Rig]{kind: "rig", plural: "rigs"},
		Mounts:   Shelf[Mount]{kind: "mount", plural: "mounts"},
		Adapters: Shelf[Adapter]{kind: "adapter", plural: "adapters"},
		Filters:  Shelf[Filter]{kind: "filter", plural: "filters"},
	}
	var found lang.Diagnostics
	var f file
	take := func() { c.take(&f, &found) }
	if !slices.ContainsFunc(sources, func(src *lang.Source) bool { return strings.Contains(src.Text, amendKeyword) }) {
		for _, src := range sources {
			found = append(found, lang.DecodeParts(src, &f, take)...)
		}
	} else { // an amendment changes the syntax of an item that may stand anywhere
		files := make([]*lang.File, len(sources))
		for i, src := range sources {
			syntax, ds := lang.Parse(src)
			files[i] = syntax
			found = append(found, ds...)
		}
		amend(files, &found)
		for _, syntax := range files {
			f = file{}
			found = append(found, lang.Decode(syntax, &f)...)
			take()
		}
	}
	c.check(&found)
	return c, found.Sorted()
}

// take puts what a file says, or a part of it, on the shelves.
func (c *Catalogue) take(f *file, found *lang.Diagnostics) {
	fill(&c.Lenses, f.Lenses, func(l *Lens) lang.Text { return l.Name }, found)
	fill(&c.Cameras, f.Cameras, func(x *Camera) lang.Text { return x.Name }, found)
	fill(&c.Rigs, f.Rigs, func(r *Rig) lang.Text { return r.Name }, found)
	fill(&c.Mounts, f.Mounts, func(m *Mount) lang.Text { return m.Name }, found)
	fill(&c.Adapters, f.Adapters, func(a *Adapter) lang.Text { return a.Name }, found)
	fill(&c.Filters, f.Filters, func(x *Filter) lang.Text { return x.Name }, found)
}

//go:embed demo.catalog
var demo []byte

// Demo gives the text of the built-in demo catalogue: the equipment of an invented small
// outfit, with plausible figures.
func Demo() *lang.Source {
	src, ds := lang.NewSource("demo.catalog", demo)
	if ds != nil { // the text is part of the program
		panic(ds)
	}
	return src
}
