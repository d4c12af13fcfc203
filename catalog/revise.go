package catalog

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"glassbrief/lang"
)

// A Change is one statement of an item that a draft gives otherwise.
type Change struct {
	Kind, Name    string
	Before, After Field     // Before is unknown when the item lacked the statement
	At            lang.Span // where the draft has it from
}

// A Revision is the text of a catalogue with the changes of drafts in it.
type Revision struct {
	Text    string
	Origins []lang.Span // of each line of the text that changed; zero for the others
	Changes []Change
	// New are the drafts of items that no catalogue has, and amendments of items that stand in
	// another file than the text.
	New []Draft
}

// Revise gives the text of one of the files of the catalogue with every statement changed that
// a draft gives otherwise, and those added that an item lacks. All else in the text stays as it
// is: comments, the order of statements and what the drafts do not name. An item that is
// described twice by the drafts is a fault.
func (c *Catalogue) Revise(src *lang.Source, drafts []Draft) (Revision, lang.Diagnostics) {
	syntax, found := lang.Parse(src)
	if found.HasErrors() {
		return Revision{}, found
	}
	var r Revision
	text := lang.Edits{Source: src}
	seen := map[itemKey]lang.Span{}
	for _, d := range drafts {
		key := itemKey{d.Kind, d.Name}
		if first, twice := seen[key]; twice {
			found.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.DuplicateName, Span: d.At,
				Summary: fmt.Sprintf("the %s %q stands twice in the list", d.Kind, d.Name), Detail: "Take one of the two out.",
				Related: []lang.Related{{Span: first, Note: "it stands here first"}},
			})
			continue
		}
		seen[key] = d.At
		before, exists := c.fields(key)
		if !exists {
			r.New = append(r.New, d)
			continue
		}
		changed, changes := differing(d, before)
		r.Changes = append(r.Changes, changes...)
		blocks, keywords := blocksOf(syntax, key), Keywords(d.Kind)
		var rest []Line
		for _, line := range changed {
			if !text.Set(blocks, keywords, line, func(s *lang.Statement) bool {
				return line.Keyword != "mode" || len(s.Values) == 0 || isLabelled(line, s.Values[0].Span.Text())
			}) {
				rest = append(rest, line)
			}
		}
		if rest != nil {
			r.New = append(r.New, Draft{Kind: d.Kind, Name: d.Name, Amends: true, Lines: rest, At: d.At})
		}
	}
	r.Text, r.Origins = text.Text()
	return r, found
}

// Unmet gives a fault for each change that does not hold in the catalogue, because another file
// amends the same statement.
func (c *Catalogue) Unmet(changes []Change) lang.Diagnostics {
	var found lang.Diagnostics
	for _, change := range changes {
		fields, _ := c.fields(itemKey{change.Kind, change.Name})
		if slices.ContainsFunc(fields, change.After.same) {
			continue
		}
		d := lang.Diagnostic{
			Severity: lang.Error, Code: lang.Contradiction, Span: change.At,
			Summary: fmt.Sprintf("the %s of the %s %q is amended by another file", change.After.Keyword, change.Kind, change.Name),
			Detail:  "Change it there, or take the amendment out.",
		}
		if at := change.Before.Origin(); at.Known() {
			d.Related = []lang.Related{{Span: at, Note: "it is amended here"}}
		}
		found.Add(d)
	}
	return found
}

// Has reports whether the catalogue has an item of the kind, as "lens", with the name.
func (c *Catalogue) Has(kind, name string) bool {
	_, ok := c.fields(itemKey{kind, name})
	return ok
}

// fields gives the fields of an item; ok is false when the catalogue does not have it.
func (c *Catalogue) fields(key itemKey) (fields []Field, ok bool) {
	switch key.kind {
	case "lens":
		return fieldsOn(&c.Lenses, key.name)
	case "camera":
		return fieldsOn(&c.Cameras, key.name)
	case "rig":
		return fieldsOn(&c.Rigs, key.name)
	case "mount":
		return fieldsOn(&c.Mounts, key.name)
	case "adapter":
		return fieldsOn(&c.Adapters, key.name)
	case "filter":
		return fieldsOn(&c.Filters, key.name)
	}
	return nil, false
}

func fieldsOn[T Lens | Camera | Rig | Mount | Adapter | Filter](s *Shelf[T], name string) ([]Field, bool) {
	item, ok := s.Lookup(name)
	if !ok {
		return nil, false
	}
	return Fields(item), true
}

// same reports whether two fields say the same.
func (f Field) same(other Field) bool {
	return f.Keyword == other.Keyword && sameValue(reflect.ValueOf(f.Value), reflect.ValueOf(other.Value))
}

// differing gives the lines of a draft that say something else than the fields do, and what
// they change. A mode is compared with that of its name.
func differing(d Draft, before []Field) (lines []Line, changes []Change) {
	said := d.read()
	for _, line := range d.Lines {
		of := func(f Field) bool { return f.Keyword == line.Keyword && f.isFor(line) }
		after := Field{Keyword: line.Keyword, Value: lang.Text{Value: line.Value}}
		if i := slices.IndexFunc(said, of); i >= 0 && said[i].given() { // else loading the text says why not
			after = said[i]
		}
		was := Field{Keyword: line.Keyword, Value: lang.Text{}}
		if i := slices.IndexFunc(before, of); i >= 0 {
			was = before[i]
		}
		if line.Adds {
			line, after = added(line, was)
		}
		if was.given() && was.same(after) {
			continue
		}
		lines = append(lines, line)
		changes = append(changes, Change{Kind: d.Kind, Name: d.Name, Before: was, After: after, At: line.At})
	}
	return lines, changes
}

// added gives a line that holds the remarks of a field too, and what it says.
func added(line Line, was Field) (Line, Field) {
	old, _ := was.Value.(lang.Text)
	text, _ := lang.Unquote(line.Value)
	whole := old.Value
	for _, remark := range strings.Split(text, NoteJoint) {
		switch {
		case whole == "":
			whole = remark
		case !slices.Contains(strings.Split(whole, NoteJoint), remark):
			whole += NoteJoint + remark
		}
	}
	line.Value = lang.Quote(whole)
	return line, Field{Keyword: line.Keyword, Value: lang.Text{Value: whole}}
}

// read gives the fields that the draft has, as its text says them.
func (d Draft) read() []Field {
	text, _ := Compose([]Draft{d})
	src, ds := lang.NewSource("draft", []byte(text))
	if ds.HasErrors() {
		return nil
	}
	alone, _ := Load(src)
	fields, _ := alone.fields(itemKey{d.Kind, d.Name})
	return fields
}

// isFor reports whether a field of the keyword of a line is what the line says: of several modes
// of a camera it is the one of its name.
func (f Field) isFor(line Line) bool {
	mode, ok := f.Value.(Mode)
	return !ok || isLabelled(line, lang.Quote(mode.Name.Value))
}

func isLabelled(line Line, quoted string) bool { return strings.HasPrefix(line.Value, quoted) }

// blocksOf gives the blocks of a file that describe an item: first those that amend it, which
// hold, then its own.
func blocksOf(file *lang.File, key itemKey) []*lang.Block {
	var amending, own []*lang.Block
	for _, s := range file.Statements {
		if s.Block == nil {
			continue
		}
		if k, ok := keyOf(s.Keyword.Value, s.Values); ok && k == key {
			own = append(own, s.Block)
		}
		if k, ok := amended(s); ok && k == key {
			amending = append(amending, s.Block)
		}
	}
	return append(amending, own...)
}

// Keywords lists the keywords that a kind of item takes, in the order of the language; nil for
// any other kind.
func Keywords(kind string) []string {
	types := map[string]reflect.Type{
		"lens": reflect.TypeFor[Lens](), "camera": reflect.TypeFor[Camera](), "rig": reflect.TypeFor[Rig](),
		"mount": reflect.TypeFor[Mount](), "adapter": reflect.TypeFor[Adapter](), "filter": reflect.TypeFor[Filter](),
	}
	of, ok := types[kind]
	if !ok {
		return nil
	}
	keywords, _ := lang.Keywords(of)
	return keywords
}
