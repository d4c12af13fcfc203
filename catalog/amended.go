package catalog

import (
	"reflect"
	"slices"

	"glassbrief/lang"
)

// Amended gives a copy of the lens with one line of its block changed, as "mass 640g" does
// in a file. It fails with [lang.Diagnostics] when the line cannot be read.
func (l *Lens) Amended(line string) (*Lens, error) {
	src, ds := lang.NewSource("line", []byte("lens "+lang.Quote(l.Name.Value)+" {\n"+line+"\n}\n"))
	if ds.HasErrors() {
		return nil, ds
	}
	syntax, ds := lang.Parse(src)
	var f file
	ds = append(ds, lang.Decode(syntax, &f)...)
	// The other lines that a lens must have are those that it has.
	ds = slices.DeleteFunc(ds, func(d lang.Diagnostic) bool { return d.Code == lang.MissingField })
	if ds.HasErrors() {
		return nil, ds
	}
	changed := *l
	keywords, names := lang.Keywords(reflect.TypeFor[Lens]())
	for _, statement := range syntax.Statements[0].Block.Statements {
		if i := slices.Index(keywords, statement.Keyword.Value); i >= 0 {
			reflect.ValueOf(&changed).Elem().FieldByName(names[i]).Set(reflect.ValueOf(&f.Lenses[0]).Elem().FieldByName(names[i]))
		}
	}
	return &changed, nil
}
