package catalog

import (
	"fmt"

	"glassbrief/lang"
)

// namesShown is the most names that a message lists.
const namesShown = 8

// A Shelf holds the items of one kind in the order in which they were read, and looks them
// up by name. Its zero value is empty.
type Shelf[T any] struct {
	kind   string // "lens"
	plural string // "lenses"
	items  []*T
	names  []string // of the items
	index  map[string]int
}

// All gives the items in order. The slice belongs to the shelf.
func (s *Shelf[T]) All() []*T { return s.items }

// Names gives the names of the items in order. The slice belongs to the shelf.
func (s *Shelf[T]) Names() []string { return s.names }

// Lookup finds an item by its exact name.
func (s *Shelf[T]) Lookup(name string) (*T, bool) {
	at, ok := s.index[name]
	if !ok {
		return nil, false
	}
	return s.items[at], true
}

// Resolve finds the item that a file names. Without one it gives a diagnostic that suggests
// the most similar name.
func (s *Shelf[T]) Resolve(name lang.Text) (*T, *lang.Diagnostic) {
	if item, ok := s.Lookup(name.Value); ok {
		return item, nil
	}
	d := &lang.Diagnostic{
		Severity: lang.Error, Code: lang.UnknownName, Span: name.Inner(),
		Summary: fmt.Sprintf("the catalogue has no %s %q", s.kind, name.Value),
		Instead: lang.Nearest(name.Value, s.names),
	}
	switch n := len(s.names); {
	case n == 0:
		d.Detail = fmt.Sprintf("It holds no %s at all; name a catalogue that does in a \"use\" line.", s.plural)
	case n > namesShown:
		d.Detail = fmt.Sprintf("It holds %d %s; list them to see their names.", n, s.plural)
	default:
		d.Detail = fmt.Sprintf("It has %s.", lang.Quoted(s.names))
	}
	return nil, d
}

// fill puts the items of one file on the shelf. An item whose name is taken is left out. It
// is reported, unless it comes from another file and says the same.
func fill[T Lens | Camera | Rig | Mount | Adapter | Filter](s *Shelf[T], items []T, name func(*T) lang.Text, found *lang.Diagnostics) {
	if s.index == nil {
		s.index = make(map[string]int, len(items))
	}
	for i := range items {
		item := &items[i]
		label := name(item)
		if at, taken := s.index[label.Value]; taken {
			holds := s.items[at]
			if earlier := name(holds); earlier.Span.Source == label.Span.Source {
				found.Add(duplicateName(s.kind, label, earlier))
			} else {
				conflict(s.kind, label, earlier, item, holds, found)
			}
			continue
		}
		s.index[label.Value] = len(s.items)
		s.items = append(s.items, item)
		s.names = append(s.names, label.Value)
	}
}

func duplicateName(kind string, name, earlier lang.Text) lang.Diagnostic {
	return lang.Diagnostic{
		Severity: lang.Error, Code: lang.DuplicateName, Span: name.Span,
		Summary: fmt.Sprintf("there is a %s %q already", kind, name.Value),
		Detail:  "Give one of the two another name.",
		Related: []lang.Related{{Span: earlier.Span, Note: "it is here"}},
	}
}
