package sheet

import (
	"glassbrief/catalog"
	"glassbrief/lang"
)

// Line reads one answer of a person as a cell of the column that the statement has, such as
// "1,2 kg" for "mass", and gives the statement; an f-number or a T-number becomes the one
// that it is. An answer that says nothing gives none. The findings have their place in the
// answer, under the name of where it was given.
func Line(kind, keyword, where, answer string, o Options) (line catalog.Line, ok bool, found lang.Diagnostics) {
	k := kindOf(kind)
	c := k.byKeyword(keyword)
	r := &Reading{options: o, sheet: newSheet(where, "", [][]cell{{{text: answer}}}), Columns: make([]ColumnReading, 1)}
	r.sheet.plainPoint = true // a person without a list is taken at their word
	r.numbers.observe(normalise(answer))
	x := &row{reading: r, kind: k, alone: true, lines: map[string]catalog.Line{}}
	x.read(heading{column: c}, "", &r.Columns[0])
	x.settleHolding()
	for _, name := range x.name {
		x.put(nameColumn, catalog.Line{Keyword: nameColumn, Value: lang.Quote(name)})
	}
	for _, note := range x.notes {
		x.put("about", note)
	}
	if line, ok = x.lines[keyword]; ok || len(x.lines) == 0 {
		return line, ok, r.found
	}
	for _, other := range []string{"aperture", "transmission"} {
		if line, ok = x.lines[other]; ok {
			return line, true, r.found
		}
	}
	return catalog.Line{}, false, r.found
}
