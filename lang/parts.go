package lang

import "reflect"

// partLength is how many statements of a long file are held as syntax at once.
const partLength = 256

// DecodeParts is [Parse] and [Decode] for a long file whose statements all may be repeated: part after
// part is read into target, a pointer to a struct with nothing but slices, and take takes it from there.
// Target is empty before each. So the syntax of the file, which is several times as large as what it
// says, is never held whole. What is found is what the two find.
func DecodeParts(src *Source, target any, take func()) Diagnostics {
	if found := foreignText(src); found != nil {
		return found
	}
	v := reflect.ValueOf(target).Elem()
	d, plan := &decoder{}, planOf(v.Type())
	known := false // a statement outside of blocks, so that the file is not of another kind
	read := func(list []*Statement) {
		v.SetZero()
		d.statements(v, plan, list, Span{Source: src}, func() string { return "this file" })
		take()
	}
	p := newParser(src, true)
	defer p.release()
	seen := 0 // of the list, while none is known
	p.flush = func(list []*Statement) []*Statement {
		for ; !known && seen < len(list); seen++ {
			known = plan.find(list[seen].Keyword.Value) >= 0
		}
		if !known || len(list) < partLength {
			return list
		}
		read(list)
		return nil
	}
	rest := p.statements(nil)
	if p.refused {
		return p.found
	}
	p.found = append(p.found, p.checkEdition()...)
	if wrong := wrongKind(&File{Source: src, Statements: rest}, plan); wrong != nil && !known {
		return append(p.found, *wrong)
	}
	read(rest)
	return append(p.found, d.found...)
}
