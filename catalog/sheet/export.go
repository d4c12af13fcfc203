package sheet

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// WriteCSV writes the items of one kind, "lens", "camera" or "filter", separated by commas.
// [ReadCSV] and [Understand] read it back without loss. No cell can run as a formula in a
// spreadsheet: only negative numbers begin with one of the signs that start a formula.
func WriteCSV(w io.Writer, c *catalog.Catalogue, keyword string) error {
	sheet, err := export(c, keyword)
	if err != nil {
		return err
	}
	out := csv.NewWriter(w)
	for _, row := range sheet {
		record := make([]string, len(row))
		for i, c := range row {
			record[i] = c.text
		}
		if err := out.Write(record); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// plainNumber matches texts that a workbook can hold as numbers.
var plainNumber = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^-?\d{1,12}(\.\d{1,12})?$`) })

// export gives the rows of a sheet, the titles first.
func export(c *catalog.Catalogue, keyword string) ([][]cell, error) {
	switch keyword {
	case "lens":
		return exportItems(keyword, c.Lenses.All(), func(l *catalog.Lens) string { return l.Name.Value }), nil
	case "camera":
		return exportItems(keyword, c.Cameras.All(), func(x *catalog.Camera) string { return x.Name.Value }), nil
	case "filter":
		return exportItems(keyword, c.Filters.All(), func(f *catalog.Filter) string { return f.Name.Value }), nil
	}
	return nil, fmt.Errorf("%q is no kind of item that a table can hold: it holds %s", keyword, lang.Quoted(KindNames()))
}

// A field is a value to export: a text, or figures with their units.
type field struct {
	text    string
	figures []figure // an interval has two, and one of them may be empty
	joint   string   // between figures; ".." unless given
}

type figure struct {
	number, unit string
	rough        bool
}

// exportItems makes a row for each item, and another for each further mode of a camera.
func exportItems[T catalog.Lens | catalog.Camera | catalog.Filter](keyword string, items []*T, name func(*T) string) [][]cell {
	k := kindOf(keyword)
	var rows []map[string]field
	for _, item := range items {
		row := map[string]field{nameColumn: {text: quotedIfNeeded(name(item))}}
		modes := 0
		first := row
		for _, f := range catalog.Fields(item) {
			if mode, ok := f.Value.(catalog.Mode); ok {
				if modes++; modes > 1 {
					rows = append(rows, row)
					row = map[string]field{nameColumn: first[nameColumn]}
				}
				row["mode"] = field{text: quotedIfNeeded(mode.Name.Value)}
				row[widthColumn] = quantityField(mode.Size.Width)
				row[heightColumn] = quantityField(mode.Size.Height)
				if mode.Pixels.Known() {
					row[pixelsColumn] = field{text: mode.Pixels.String()}
				}
				if mode.Note.Value != "" {
					row[noteColumn] = field{text: quotedIfNeeded(mode.Note.Value)}
				}
				continue
			}
			put(first, f)
		}
		rows = append(rows, row)
	}
	var used []*column
	for i := range k.columns {
		c := &k.columns[i]
		if c.required || slices.ContainsFunc(rows, func(row map[string]field) bool { return row[c.keyword].known() }) {
			used = append(used, c)
		}
	}
	sheet := make([][]cell, len(rows)+1)
	for _, c := range used {
		unit := commonUnit(rows, c)
		title := c.title
		if unit != "" {
			title += " (" + unit + ")"
		}
		sheet[0] = append(sheet[0], cell{text: title})
		for i, row := range rows {
			sheet[i+1] = append(sheet[i+1], row[c.keyword].write(unit))
		}
	}
	return sheet
}

// put enters a field of an item in its row.
func put(row map[string]field, f catalog.Field) {
	set := func(keyword string, value field) {
		if value.known() {
			row[keyword] = value
		}
	}
	switch v := f.Value.(type) {
	case lang.Text:
		if v.Value != "" {
			set(f.Keyword, field{text: quotedIfNeeded(v.Value)})
		}
	case lang.Word:
		set(f.Keyword, field{text: v.Value})
	case lang.Flag:
		if v.Set {
			set(f.Keyword, field{text: "yes"})
		}
	case lang.Quantity:
		set(f.Keyword, quantityField(v))
	case lang.Interval:
		if v.Known() {
			low, high := quantityField(v.Low), quantityField(v.High)
			set(f.Keyword, field{figures: []figure{low.figure(), high.figure()}})
			if v.Low.Span == v.High.Span {
				set(f.Keyword, low)
			}
		}
	case lang.List:
		list := field{joint: ", "}
		for _, q := range v.Items {
			list.figures = append(list.figures, quantityField(q).figure())
		}
		set(f.Keyword, list)
	case lang.Ratio:
		if v.Known() {
			set(f.Keyword, field{text: widen(exact(v.Value))})
		}
	case catalog.Holding:
		set(f.Keyword, field{text: v.Kind})
		set(rateColumn, quantityField(v.DayRate))
		set(termsColumn, field{text: v.Terms()})
	case catalog.Availability:
		set(f.Keyword, field{text: v.Span.Text()})
	case catalog.Thread:
		set(f.Keyword, quantityField(v.Diameter))
		if v.None {
			set(f.Keyword, field{text: "none"})
		}
	case catalog.Pupil:
		set(f.Keyword, endsField(v.Ends))
		if v.Thin {
			set(f.Keyword, field{text: catalog.ThinPupil})
		}
	case catalog.Breathing:
		set(f.Keyword, endsField(v.Ends))
	case catalog.Correction:
		if v.Known() {
			set(f.Keyword, field{text: strings.Join(v.Lines(), "; ")})
		}
	default:
		panic(fmt.Sprintf("sheet: a field cannot be a %T", f.Value))
	}
}

// endsField gives a figure at the two ends of a zoom.
func endsField(e catalog.Ends) field {
	f := quantityField(e.Wide)
	if e.Long.Known() {
		f = field{joint: endsJoint, figures: []figure{f.figure(), quantityField(e.Long).figure()}}
	}
	return f
}

func (f field) known() bool { return f.text != "" || f.figures != nil }

func (f field) figure() figure {
	if f.figures == nil {
		return figure{}
	}
	return f.figures[0]
}

func quotedIfNeeded(text string) string {
	if needsQuotes(text) {
		return lang.Quote(text)
	}
	return text
}

// quantityField gives a quantity as it was written, so that no change of unit loses digits.
// A quantity that a program made is given in SI units.
func quantityField(q lang.Quantity) field {
	if !q.Known() {
		return field{}
	}
	text := q.Span.Text()
	if text == "" {
		units := lang.UnitNames(q.Dim)
		for _, unit := range units {
			if row, ok := lang.FindUnit(unit); ok && row.Factor == 1 {
				return field{figures: []figure{{exact(q.Value), unit, q.Rough}}}
			}
		}
		return field{figures: []figure{{exact(q.Value), q.Unit, q.Rough}}}
	}
	number := strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(text, q.Unit), q.Unit))
	if !plainNumber().MatchString(number) {
		return field{figures: []figure{{text, mixed, q.Rough}}}
	}
	return field{figures: []figure{{number, q.Unit, q.Rough}}}
}

// mixed marks a figure with units inside its text, as 5ft 10in.
const mixed = "\x00mixed"

func exact(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

// commonUnit gives the unit that all figures of a column have, if it can stand in the
// title; else "".
func commonUnit(rows []map[string]field, c *column) string {
	unit, first := "", true
	for _, row := range rows {
		for _, f := range row[c.keyword].figures {
			switch {
			case f == (figure{}):
			case first:
				unit, first = f.unit, false
			case f.unit != unit:
				return ""
			}
		}
	}
	if known, ok := unitOf(unit, c); !ok || known != unit || unit == "f/" || unit == "T" {
		return ""
	}
	return unit
}

// write gives the cell. With a unit in the title the cell has none of its own.
func (f field) write(unit string) cell {
	if f.figures == nil {
		return cell{text: f.text}
	}
	var parts []string
	for _, figure := range f.figures {
		parts = append(parts, figure.write(unit))
	}
	text := strings.Join(parts, cmp.Or(f.joint, ".."))
	if slices.ContainsFunc(f.figures, func(figure figure) bool { return figure.rough }) {
		text = lang.About + " " + text
	}
	return cell{text: text, exact: plainNumber().MatchString(text)}
}

func (f figure) write(unit string) string {
	switch {
	case f == (figure{}):
		return ""
	case f.unit == mixed:
		return widen(f.number)
	case unit != "":
		return widen(f.number)
	}
	return joined(widen(f.number), f.unit)
}

// ambiguous matches numbers like 1.250, which means 1250 where the comma is the decimal
// mark.
var ambiguous = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(^|[^\d.])([1-9]\d{0,2}\.\d{3})($|[^\d.])`) })

// widen adds a digit to each ambiguous number of a text: 1.250 becomes 1.2500.
func widen(text string) string { return ambiguous().ReplaceAllString(text, "${1}${2}0${3}") }
