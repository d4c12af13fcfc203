package catalog

import "glassbrief/lang"

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
}

// Load reads catalogue files and merges them. Names are unique over all of them, and an
// item may name a mount of another file. The place where an item comes from is its Span.
//
// With errors, the catalogue holds what could be read; an item with a faulty line lacks
// that line. Warnings point at what is possible and improbable, such as a lens of 40 kg.
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
	for _, src := range sources {
		syntax, ds := lang.Parse(src)
		var f file
		found = append(append(found, ds...), lang.Decode(syntax, &f)...)
		c.Lenses.fill(f.Lenses, func(l *Lens) lang.Text { return l.Name }, &found)
		c.Cameras.fill(f.Cameras, func(x *Camera) lang.Text { return x.Name }, &found)
		c.Rigs.fill(f.Rigs, func(r *Rig) lang.Text { return r.Name }, &found)
		c.Mounts.fill(f.Mounts, func(m *Mount) lang.Text { return m.Name }, &found)
		c.Adapters.fill(f.Adapters, func(a *Adapter) lang.Text { return a.Name }, &found)
		c.Filters.fill(f.Filters, func(x *Filter) lang.Text { return x.Name }, &found)
	}
	c.check(&found)
	return c, found.Sorted()
}
