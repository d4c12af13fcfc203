package catalog

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"glassbrief/lang"
)

// Catalogues are layered: the house's own on top, a hire house's list below it, a friend's
// at the bottom. When two layers have an item of the same name, the upper one is used, and
// differences are reported with both places. A file can also change single lines of an
// item of another file:
//
//	amend lens "Wide 18" {
//	  mass      640g
//	}
//
// Since the change is made to the syntax, every value keeps the place it was written at.

const amendKeyword = "amend"

// amendment puts the statement into the language reference. Load applies and removes all
// such statements before it decodes.
type amendment struct{}

// DecodeArgs is never called.
func (*amendment) DecodeArgs(*lang.Args) {}

// amendable lists the kinds of item.
var amendable = []string{"lens", "camera", "rig", "mount", "adapter", "filter"}

// itemKey identifies an item.
type itemKey struct{ kind, name string }

// keyOf makes the key of an item of a kind; ok is false unless the values are one name.
func keyOf(kind string, values []lang.Value) (key itemKey, ok bool) {
	if len(values) != 1 || values[0].Form != lang.Single || values[0].Parts[0].Kind != lang.TextPart {
		return itemKey{}, false
	}
	return itemKey{kind, values[0].Parts[0].Text}, true
}

// amended gives the item that an "amend" statement names; ok is false for any other statement.
func amended(s *lang.Statement) (key itemKey, ok bool) {
	if s.Keyword.Value != amendKeyword || len(s.Values) < 2 || s.Values[0].Form != lang.Single || s.Values[0].Parts[0].Kind != lang.WordPart {
		return itemKey{}, false
	}
	return keyOf(s.Values[0].Parts[0].Text, s.Values[1:])
}

// amend applies every "amend" of the files to its item, and removes the statement.
func amend(files []*lang.File, found *lang.Diagnostics) {
	var changes []*lang.Statement
	for _, file := range files {
		kept := file.Statements[:0:0]
		for _, s := range file.Statements {
			if s.Keyword.Value == amendKeyword {
				changes = append(changes, s)
			} else {
				kept = append(kept, s)
			}
		}
		file.Statements = kept
	}
	if len(changes) == 0 {
		return
	}
	a := &amender{items: map[itemKey]*lang.Statement{}, changed: map[change]changer{}, found: found}
	for _, file := range files {
		for _, s := range file.Statements {
			if key, ok := keyOf(s.Keyword.Value, s.Values); ok && a.items[key] == nil {
				a.items[key] = s
				a.names = append(a.names, key)
			}
		}
	}
	for _, s := range changes {
		a.amend(s)
	}
}

type amender struct {
	items   map[itemKey]*lang.Statement
	names   []itemKey
	changed map[change]changer
	found   *lang.Diagnostics
}

// A change names a line of an item; a changer is the block that changed it, and the new line.
type (
	change struct {
		itemKey
		keyword string
	}
	changer struct{ block, line *lang.Statement }
)

func (a *amender) amend(s *lang.Statement) {
	key, ok := amended(s)
	if !ok || s.Block == nil {
		a.found.Add(lang.Diagnostic{
			Severity: lang.Error, Code: lang.MissingValue, Span: s.Span,
			Summary: `"amend" lacks what it is to change`,
			Detail:  `Write the kind and the name of the item, and the lines between braces, as: amend lens "Wide 18" { mass 640g }.`,
		})
		return
	}
	item := a.items[key]
	if item == nil {
		a.unknown(key, s)
		return
	}
	var lines []*lang.Statement
	for _, line := range s.Block.Statements {
		c := change{key, line.Keyword.Value}
		if earlier, taken := a.changed[c]; taken && earlier.block != s {
			a.found.Add(lang.Diagnostic{
				Severity: lang.Warning, Code: lang.Contradiction, Span: line.Span,
				Summary: fmt.Sprintf("%q of %s %q is amended twice; the first one holds", line.Keyword.Value, key.kind, key.name),
				Detail:  "Keep one of the two.",
				Related: []lang.Related{{Span: earlier.line.Span, Note: "this one holds"}},
			})
			continue
		}
		a.changed[c] = changer{s, line}
		lines = append(lines, line)
	}
	if item.Block == nil {
		item.Block = &lang.Block{Span: item.Span}
	}
	item.Block.Statements = overlay(item.Block.Statements, lines)
}

// overlay replaces the statements that have the same keyword as new ones, and appends those.
func overlay(statements, over []*lang.Statement) []*lang.Statement {
	replaced := map[string]bool{}
	for _, s := range over {
		replaced[s.Keyword.Value] = true
	}
	merged := make([]*lang.Statement, 0, len(statements)+len(over))
	for _, s := range statements {
		if !replaced[s.Keyword.Value] {
			merged = append(merged, s)
		}
	}
	return append(merged, over...)
}

func (a *amender) unknown(key itemKey, s *lang.Statement) {
	d := lang.Diagnostic{
		Severity: lang.Error, Code: lang.UnknownName, Span: s.Values[1].Span,
		Summary: fmt.Sprintf("there is no %s %q to amend", key.kind, key.name),
		Detail:  "Name the catalogue that holds it too, or write the whole item here.",
	}
	var names, kinds []string
	for _, item := range a.names {
		if item.kind == key.kind {
			names = append(names, item.name)
		}
		if item.name == key.name {
			kinds = append(kinds, item.kind)
		}
	}
	switch {
	case len(kinds) > 0:
		d.Span, d.Instead = s.Values[0].Span, kinds[0]
	case lang.Nearest(key.kind, amendable) != key.kind:
		d.Span, d.Instead = s.Values[0].Span, lang.Nearest(key.kind, amendable)
		d.Detail = fmt.Sprintf("It takes %s.", lang.Quoted(amendable))
	default:
		d.Instead = lang.Nearest(key.name, names)
	}
	a.found.Add(d)
}

// shownDifferences is how many differing lines a conflict shows with their places.
const shownDifferences = 4

// conflict reports an item that two catalogues describe differently. The earlier one is
// used.
func conflict[T Lens | Camera | Rig | Mount | Adapter | Filter](kind string, name, earlier lang.Text, item, holds *T, found *lang.Diagnostics) {
	var p lang.Printer
	var keywords []string
	related := []lang.Related{{Span: earlier.Span, Note: "this one holds"}}
	for _, pair := range differences(holds, item) {
		keywords = append(keywords, pair[0].Keyword)
		if len(keywords) > shownDifferences {
			continue
		}
		for i, side := range pair {
			at := side.Origin()
			if !at.Known() {
				at = [2]lang.Text{earlier, name}[i].Span
			}
			related = append(related, lang.Related{Span: at, Note: fmt.Sprintf("%q is %s here", side.Keyword, side.Show(p))})
		}
	}
	if keywords == nil {
		return
	}
	found.Add(lang.Diagnostic{
		Severity: lang.Warning, Code: lang.DuplicateName, Span: name.Span,
		Summary: fmt.Sprintf("the %s %q is in two catalogues, and they differ in %s", kind, name.Value, strings.ReplaceAll(lang.Quoted(keywords), " or ", " and ")),
		Detail:  fmt.Sprintf("That of %q holds, since it is named first. Give one of the two another name if they are two things, or amend single lines of one.", earlier.Span.Source.Name),
		Related: related,
	})
}

// differences pairs the fields in which two items differ.
func differences[T Lens | Camera | Rig | Mount | Adapter | Filter](a, b *T) [][2]Field {
	left, right := byKeyword(Fields(a)), byKeyword(Fields(b))
	keywords, _ := lang.Keywords(reflect.TypeFor[T]())
	var pairs [][2]Field
	for _, keyword := range keywords {
		if keyword == "about" { // a remark is no figure
			continue
		}
		for i := range max(len(left[keyword]), len(right[keyword])) {
			pair := [2]Field{{Keyword: keyword, Value: lang.Text{}}, {Keyword: keyword, Value: lang.Text{}}}
			for side, fields := range [2][]Field{left[keyword], right[keyword]} {
				if i < len(fields) {
					pair[side] = fields[i]
				}
			}
			if !sameValue(reflect.ValueOf(pair[0].Value), reflect.ValueOf(pair[1].Value)) {
				pairs = append(pairs, pair)
			}
		}
	}
	return pairs
}

func byKeyword(fields []Field) map[string][]Field {
	index := map[string][]Field{}
	for _, f := range fields {
		index[f.Keyword] = append(index[f.Keyword], f)
	}
	return index
}

// With gives the catalogue with one lens in the place of that of the same name.
func (c *Catalogue) With(lens *Lens) *Catalogue { return c.WithAll(Changed{Lenses: []*Lens{lens}}) }

// Changed holds items that take the place of those of the same names.
type Changed struct {
	Lenses   []*Lens
	Cameras  []*Camera
	Rigs     []*Rig
	Mounts   []*Mount
	Adapters []*Adapter
	Filters  []*Filter
}

// WithAll gives the catalogue with items in the place of those of the same names.
func (c *Catalogue) WithAll(items Changed) *Catalogue {
	changed := *c
	replace(&changed.Lenses, items.Lenses, func(l *Lens) string { return l.Name.Value })
	replace(&changed.Cameras, items.Cameras, func(c *Camera) string { return c.Name.Value })
	replace(&changed.Rigs, items.Rigs, func(r *Rig) string { return r.Name.Value })
	replace(&changed.Mounts, items.Mounts, func(m *Mount) string { return m.Name.Value })
	replace(&changed.Adapters, items.Adapters, func(a *Adapter) string { return a.Name.Value })
	replace(&changed.Filters, items.Filters, func(f *Filter) string { return f.Name.Value })
	return &changed
}

func replace[T any](s *Shelf[T], items []*T, name func(*T) string) {
	if len(items) > 0 {
		s.items = slices.Clone(s.items)
	}
	for _, item := range items {
		if at, ok := s.index[name(item)]; ok {
			s.items[at] = item
		}
	}
}

// WithFilter gives the catalogue with one filter more.
func (c *Catalogue) WithFilter(f *Filter) *Catalogue {
	changed := *c
	changed.Filters.items = append(slices.Clip(c.Filters.items), f)
	return &changed
}

// Amended gives a copy of an item with one line of its block changed, as "mass 640g" does
// in a file. It fails with [lang.Diagnostics] when the line cannot be read.
func Amended[T Lens | Camera | Rig | Mount | Adapter | Filter](item *T, line string) (*T, error) {
	var f file
	var kind string
	var read reflect.Value
	kinds, names := lang.Keywords(reflect.TypeFor[file]())
	for i, name := range names {
		if list := reflect.ValueOf(&f).Elem().FieldByName(name); list.Type() == reflect.TypeFor[[]T]() {
			kind, read = kinds[i], list
		}
	}
	src, ds := lang.NewSource("line", []byte(kind+" \"it\" {\n"+line+"\n}\n"))
	if ds.HasErrors() {
		return nil, ds
	}
	syntax, ds := lang.Parse(src)
	ds = append(ds, lang.Decode(syntax, &f)...)
	// The other lines that an item must have are those that it has.
	ds = slices.DeleteFunc(ds, func(d lang.Diagnostic) bool { return d.Code == lang.MissingField })
	if ds.HasErrors() {
		return nil, ds
	}
	changed := *item
	keywords, fields := lang.Keywords(reflect.TypeFor[T]())
	for _, statement := range syntax.Statements[0].Block.Statements {
		if i := slices.Index(keywords, statement.Keyword.Value); i >= 0 {
			reflect.ValueOf(&changed).Elem().FieldByName(fields[i]).Set(read.Index(0).FieldByName(fields[i]))
		}
	}
	return &changed, nil
}
