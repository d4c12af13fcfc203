package sheet

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// Options are what the caller knows about a sheet. The zero value is ready for use.
type Options struct {
	Kind     string            // "lens", "camera", "filter" or [ShotKind]; "" to find out which of the first three
	Decimal  rune              // '.' or ','; 0 to find out
	Currency string            // ISO 4217 code of prices without one
	Columns  map[string]string // what a title means, as "Gewicht": "mass g"
	Defaults map[string]string // by keyword, for items without the cell, as "mount": "Deep bayonet"
	Mounts   []string          // known mounts, in the spelling to use
	Levels   []string          // of light that have a name, for a list of shots
	// Known reports whether there is an item of a kind and name already, of which a row need not
	// say all that a new one must have; nil for none.
	Known func(kind, name string) bool
}

// meaning gives the meaning that the caller gave to a title.
func (o Options) meaning(title string) (string, bool) {
	for given, meaning := range o.Columns {
		if phraseOf(given) == phraseOf(title) {
			return meaning, true
		}
	}
	return "", false
}

// A Reading is the result of reading a sheet.
type Reading struct {
	Sheet   string
	Kind    string // keyword of the items
	Row     int    // of the titles, from 1
	Columns []ColumnReading
	Drafts  []catalog.Draft
	Passed  []int // rows that hold only a heading or a remark, from 1

	options Options
	numbers numbering
	lacking []string // required columns that the sheet does not have
	sheet   *Sheet
	found   lang.Diagnostics
}

// A ColumnReading says how a column was read.
type ColumnReading struct {
	Title   string
	Keyword string // "" when it is not known
	Unit    string // of numbers without one
	Filled  int    // cells with a value
	Example string // the first of them
}

// Understand reads a sheet. Findings name rows and columns. If there are errors among them,
// do not use the result. An unknown column is a warning.
func Understand(s *Sheet, o Options) (*Reading, lang.Diagnostics) {
	given := o.Defaults
	o.Defaults = make(map[string]string, len(given))
	for keyword, text := range given {
		o.Defaults[underscored(keyword)] = text
	}
	h := s.findHeader(o)
	if h == nil {
		return nil, lang.Diagnostics{s.noHeader(o)}
	}
	r := &Reading{Sheet: s.Name, Kind: h.kind.keyword, Row: h.row + 1, options: o, sheet: s}
	r.checkHeadings(h)
	for _, x := range h.headings {
		c := ColumnReading{Title: x.title, Unit: x.unit}
		if x.column != nil {
			c.Keyword, c.Unit = x.column.keyword, cmp.Or(x.unit, x.column.unit)
		}
		r.Columns = append(r.Columns, c)
	}
	first := h.row + 1
	if h.units {
		first++
	}
	r.observe(h, first)
	var last *row
	for i := first; i < len(s.rows) && !r.found.Full(); i++ {
		filled := s.filled(i)
		switch {
		case len(filled) == 0:
			continue
		case len(filled) == 1 && len(h.headings) > 2:
			r.Passed = append(r.Passed, i+1)
			continue
		}
		last = r.row(h, i, last)
	}
	r.close(last)
	if r.Kind == ShotKind {
		shotIDs(r.Drafts)
	}
	if len(r.Drafts) == 0 && !r.found.HasErrors() {
		r.found.Add(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.MissingValue, Span: s.rowPlace(h.row),
			Summary: fmt.Sprintf("%q has titles and no rows below them", s.Name), Detail: "Fill it, or leave it out.",
		})
	}
	return r, r.found
}

// checkHeadings reports unknown, repeated and missing titles.
func (r *Reading) checkHeadings(h *header) {
	seen := map[string]lang.Span{}
	for i, x := range h.headings {
		_, at := r.sheet.at(h.row, x.at)
		switch {
		case x.column == nil:
			d := lang.Diagnostic{
				Severity: lang.Warning, Code: lang.UnknownWord, Span: at,
				Summary: fmt.Sprintf("%s, the column %q is not known and is left out", address(h.row, x.at), x.title),
				Detail:  "Say with --column what it means, as --column \"" + x.title + "=mass g\", if it should be read.",
				Instead: h.kind.nearest(x.title),
			}
			if meaning, given := r.options.meaning(x.title); given {
				d.Severity, d.Summary = lang.Error, fmt.Sprintf("%s, the column %q cannot be read as %q", address(h.row, x.at), x.title, meaning)
				d.Detail = fmt.Sprintf("It can be %s.", lang.Quoted(h.kind.keywords()))
				d.Instead = lang.Nearest(meaning, h.kind.keywords())
			}
			r.found.Add(d)
		case x.column.keyword == "about" || x.column.keyword == makerColumn || x.column.keyword == nameColumn:
			// Several of them are joined.
		default:
			if earlier, taken := seen[x.column.keyword]; taken {
				r.found.Add(lang.Diagnostic{
					Severity: lang.Error, Code: lang.DuplicateField, Span: at,
					Summary: fmt.Sprintf("%s, the column %q means the same as another one", address(h.row, x.at), x.title),
					Detail:  "Rename one of the two, or say with --column what it means.",
					Related: []lang.Related{{Span: earlier, Note: "the other one is here"}},
				})
				h.headings[i].column = nil
				continue
			}
			seen[x.column.keyword] = at
		}
	}
	for _, keyword := range slices.Sorted(maps.Keys(r.options.Defaults)) {
		if h.kind.byKeyword(keyword) == nil {
			d := fault(lang.UnknownWord, lang.Span{}, fmt.Sprintf("a %s has nothing that is called %q", h.kind.keyword, keyword),
				fmt.Sprintf("It has %s.", lang.Quoted(h.kind.keywords())))
			d.Instead = lang.Nearest(keyword, h.kind.keywords())
			r.found.Add(d)
		}
	}
	for i := range h.kind.columns {
		c := &h.kind.columns[i]
		named := slices.ContainsFunc(h.headings, func(x heading) bool { return x.column == c })
		if _, given := r.options.Defaults[c.keyword]; c.required && !named && !given {
			r.lacking = append(r.lacking, c.keyword)
			if r.options.Known != nil && c.keyword != nameColumn {
				continue // each row that is new says so
			}
			remedy := "Add it, or say with --column which of the columns it is."
			if c.keyword == "mount" {
				remedy = `Add it, or give all rows one with --set mount="Deep bayonet".`
			}
			r.found.Add(fault(lang.MissingField, r.sheet.rowPlace(h.row),
				fmt.Sprintf("no column of %q is the %s of a %s", r.sheet.Name, strings.ToLower(c.title), h.kind.keyword), remedy))
		}
	}
}

// observe looks for the decimal mark in all figures of the sheet.
func (r *Reading) observe(h *header, first int) {
	for _, x := range h.headings {
		if x.column == nil || !x.column.isFigure() {
			continue
		}
		for i := first; i < len(r.sheet.rows); i++ {
			if c, _ := r.sheet.at(i, x.at); !c.exact {
				r.numbers.observe(ungroup(normalise(c.text)))
			}
		}
	}
}

// isFigure reports whether a column holds numbers.
func (c *column) isFigure() bool {
	return c.dim != lang.Plain || c.unit != "" || slices.Contains([]string{"iso", "iso_range", "distortion", "squeeze", "magnification", "breathing"}, c.keyword)
}

// decimal gives the decimal mark of the sheet, or 0 if it is not known.
func (r *Reading) decimal() rune {
	switch {
	case r.options.Decimal != 0:
		return r.options.Decimal
	case r.numbers.point && r.numbers.comma:
		return 0
	case r.numbers.comma:
		return ','
	case r.numbers.point || r.sheet.plainPoint:
		return '.'
	}
	return 0
}

// Line reads a single answer, such as "1,2 kg" for "mass", as if it were a cell, and gives
// its statement: "aperture" for an f-number and "transmission" for a T-number, whichever was
// asked for, and "mode" for the size of a sensor. An answer like "unknown" gives none. where names the answer in findings.
func Line(kind, keyword, where, answer string, o Options) (line catalog.Line, ok bool, found lang.Diagnostics) {
	k := kindOf(kind)
	c := k.byKeyword(keyword)
	r := &Reading{options: o, sheet: newSheet(where, "", [][]cell{{{text: answer}}}), Columns: make([]ColumnReading, 1)}
	r.sheet.plainPoint = true // "1.250" is 1.25: there are no other cells to compare
	r.numbers.observe(normalise(answer))
	x := &row{reading: r, kind: k, alone: true, lines: map[string]catalog.Line{}}
	x.read(heading{column: c}, "", &r.Columns[0])
	x.settleHolding()
	x.addMode()
	for _, mode := range x.modes {
		return mode, true, r.found
	}
	for _, name := range x.name {
		x.put(nameColumn, "", catalog.Line{Keyword: nameColumn, Value: lang.Quote(name)})
	}
	for _, note := range x.notes {
		if note.Keyword == keyword { // a remark beside a figure has no place here
			x.put(keyword, "", note)
		}
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
