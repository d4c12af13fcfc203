package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"glassbrief/catalog"
	"glassbrief/lang"
)

// A row collects what one row of a sheet says of an item.
type row struct {
	reading *Reading
	kind    *kind
	number  int  // from 0
	alone   bool // it is a single answer, not a row of a sheet
	name    []string
	maker   []string
	notes   []catalog.Line
	lines   map[string]catalog.Line // by keyword
	modes   []catalog.Line
	at      lang.Span // of the name
	wrong   bool
	// dashed is true for stops written as "3.5-5.6", which may be the widest stops at the
	// two ends of a zoom.
	dashed bool
}

// put adds a line that a cell gives. One that says something else than another cell of the row
// is a fault; where names the cell.
func (r *row) put(keyword, where string, line catalog.Line) {
	earlier, taken := r.lines[keyword]
	if !taken {
		r.lines[keyword] = line
		return
	}
	if earlier.Value == line.Value {
		return
	}
	r.wrong = true
	d := fault(lang.Contradiction, line.At, fmt.Sprintf("%s, %q, is %q, and another cell of the row says %q", where, r.kind.byKeyword(keyword).title, line.Value, earlier.Value),
		"Correct one of the two.")
	d.Related = []lang.Related{{Span: earlier.At, Note: "the other cell is here"}}
	r.reading.found.Add(d)
}

// row reads one row. A row with the same name as the last one adds a mode to its camera,
// and then the last row is given again.
func (r *Reading) row(h *header, number int, last *row) *row {
	x := &row{reading: r, kind: h.kind, number: number, lines: map[string]catalog.Line{}}
	for i, heading := range h.headings {
		if heading.column != nil {
			x.read(heading, address(number, heading.at), &r.Columns[i])
		}
	}
	x.addMode()
	if last != nil && x.kind.keyword == "camera" && x.fullName() == last.fullName() && x.adds(last) {
		last.modes = append(last.modes, x.modes...)
		last.wrong = last.wrong || x.wrong
		return last
	}
	r.close(last)
	return x
}

// read reads and counts one cell; where names it in findings.
func (r *row) read(h heading, where string, use *ColumnReading) {
	c, at := r.reading.sheet.at(r.number, h.at)
	unit := cmp.Or(h.unit, h.column.unit)
	if h.column.dim == lang.Money {
		unit = cmp.Or(h.unit, r.reading.options.Currency)
	}
	v := &value{cell: c, column: h.column, unit: unit, rough: h.rough, row: r, at: at, where: where}
	if c.fault != "" {
		v.fail(lang.NotText, "Correct the cell in the spreadsheet.", "%s", c.fault)
		r.wrong = true
		return
	}
	if isUnknown(c.text) {
		return
	}
	text := h.column.read(v)
	r.wrong = r.wrong || v.wrong
	if v.remark != "" {
		r.note(v, v.remark)
	}
	if v.rough && text != "" && h.column.isFigure() { // the language has no word for it in this statement
		r.note(v, lang.About+" "+text)
	}
	if h.column.keyword == "aperture" && !strings.Contains(c.text, "..") {
		r.dashed = true
	}
	if v.wrong {
		return
	}
	if use.Filled++; use.Filled == 1 {
		use.Example = oneLine(c.text)
	}
	if text == "" {
		return
	}
	line := catalog.Line{Keyword: h.column.keyword, Value: text, At: at}
	if text == yes {
		line.Value = ""
	}
	switch h.column.keyword {
	case nameColumn:
		r.name = append(r.name, v.plainText())
		if !r.at.Known() {
			r.at = at
		}
	case makerColumn:
		r.maker = append(r.maker, v.plainText())
	case "about":
		r.notes = append(r.notes, line)
	case "correction":
		line.Value, line.Block = "", blockLines(text, at)
		r.put(line.Keyword, where, line)
	default:
		r.put(line.Keyword, where, line)
	}
}

// note keeps what a cell says beside its figure.
func (r *row) note(v *value, text string) {
	r.notes = append(r.notes, catalog.Line{Value: lang.Quote(strings.ToLower(v.column.title) + ": " + text), At: v.at})
}

// blockLines splits the statements of a block at semicolons outside of quotes.
func blockLines(text string, at lang.Span) []catalog.Line {
	var lines []catalog.Line
	quoted, start := false, 0
	for i := 0; i <= len(text); i++ {
		switch {
		case i == len(text) || text[i] == ';' && !quoted:
			keyword, value, _ := strings.Cut(strings.TrimSpace(text[start:i]), " ")
			lines = append(lines, catalog.Line{Keyword: keyword, Value: value, At: at})
			start = i + 1
		case text[i] == '"':
			quoted = !quoted
		case text[i] == '\\':
			i++
		}
	}
	return lines
}

func (r *row) fullName() string {
	return catalog.FullName(strings.Join(r.maker, " "), strings.Join(r.name, " "))
}

// addMode joins mode, size and note of a camera in one statement.
func (r *row) addMode() {
	if r.kind.keyword != "camera" {
		return
	}
	size, ok := r.take(sizeColumn)
	width, wide := r.take(widthColumn)
	height, high := r.take(heightColumn)
	if !ok && wide && high {
		for _, side := range []*catalog.Line{&width, &height} {
			figure, rough := strings.CutPrefix(side.Value, lang.About+" ")
			if side.Value = figure; rough { // a size takes no such word
				r.notes = append(r.notes, catalog.Line{Value: lang.Quote("sensor: " + lang.About + " " + figure), At: side.At})
			}
		}
		size, ok = catalog.Line{Value: width.Value + " x " + height.Value, At: width.At}, true
	}
	name, named := r.take("mode")
	pixels, counted := r.take(pixelsColumn)
	note, noted := r.take(noteColumn)
	switch {
	case ok:
		if !named {
			name.Value = lang.Quote("Whole sensor")
		}
		mode := catalog.Line{Keyword: "mode", Value: name.Value + " " + size.Value, At: size.At}
		if counted {
			mode.Value += " " + pixels.Value
		}
		if noted {
			mode.Value += " " + note.Value
		}
		r.modes = append(r.modes, mode)
	case named || counted || noted || wide || high:
		r.fail(lang.MissingValue, cmp.Or(name.At, pixels.At, note.At, width.At, height.At), "has a mode without the size of its sensor", "Write width and height.")
	}
}

func (r *row) take(keyword string) (catalog.Line, bool) {
	line, ok := r.lines[keyword]
	delete(r.lines, keyword)
	return line, ok
}

// adds reports whether a further row of a camera only adds a mode: all else that it says
// stands in the first row too.
func (r *row) adds(first *row) bool {
	for keyword, line := range r.lines {
		if line.Value != first.lines[keyword].Value {
			return false
		}
	}
	return true
}

func (r *row) fail(code lang.Code, at lang.Span, what, remedy string) {
	if !at.Known() {
		at = r.reading.sheet.rowPlace(r.number)
	}
	r.wrong = true
	subject := fmt.Sprintf("row %d", r.number+1)
	if r.alone {
		subject = "the " + r.kind.keyword
	}
	r.reading.found.Add(fault(code, at, subject+" "+what, remedy))
}

// close turns a finished row into a draft.
func (r *Reading) close(x *row) {
	if x == nil || x.wrong {
		return
	}
	x.takeDefaults()
	x.settleHolding()
	x.settleAperture()
	if x.wrong || r.missing(x) {
		return
	}
	d := catalog.Draft{Kind: x.kind.keyword, Name: x.fullName(), At: x.at}
	var texts []string
	for _, note := range x.notes {
		text, _ := lang.Unquote(note.Value)
		if !slices.Contains(texts, text) {
			texts = append(texts, text)
		}
	}
	if action, ok := x.take(actionColumn); ok {
		d.Title, _ = lang.Unquote(action.Value)
	}
	if len(texts) > 0 && d.Kind != ShotKind {
		remarksAlone := !slices.ContainsFunc(x.notes, func(note catalog.Line) bool { return note.Keyword == "about" })
		d.Lines = append(d.Lines, catalog.Line{
			Keyword: "about", Value: lang.Quote(strings.Join(texts, catalog.NoteJoint)), At: x.notes[0].At, Adds: remarksAlone,
		})
	}
	for _, c := range x.kind.columns {
		if line, ok := x.lines[c.keyword]; ok {
			d.Lines = append(d.Lines, line)
		}
		if c.keyword == "mode" {
			d.Lines = append(d.Lines, x.modes...)
		}
	}
	for _, text := range texts {
		if d.Kind == ShotKind { // a shot has no line for remarks
			d.Lines = append(d.Lines, catalog.Line{Comment: text})
		}
	}
	if !x.wrong {
		r.Drafts = append(r.Drafts, d)
	}
}

// takeDefaults fills gaps of the row with the caller's defaults.
func (r *row) takeDefaults() {
	for _, c := range r.kind.columns {
		given, ok := r.reading.options.Defaults[c.keyword]
		if _, has := r.lines[c.keyword]; !ok || has {
			continue
		}
		v := &value{cell: cell{text: given, exact: true}, column: &c, unit: c.unit, row: r, at: r.at, where: "--set " + c.keyword}
		if text := c.read(v); text != "" && !v.wrong {
			r.put(c.keyword, v.where, catalog.Line{Keyword: c.keyword, Value: strings.TrimPrefix(text, yes)})
		}
		r.wrong = r.wrong || v.wrong
	}
}

// missing reports required columns that the row leaves empty.
func (r *Reading) missing(x *row) bool {
	known := r.options.Known != nil && r.options.Known(x.kind.keyword, x.fullName())
	for _, c := range x.kind.columns {
		if !c.required {
			continue
		}
		_, has := x.lines[c.keyword]
		if c.keyword == nameColumn {
			has = x.fullName() != ""
		}
		switch {
		case has || known && c.keyword != nameColumn:
		case slices.Contains(r.lacking, c.keyword) && (r.options.Known == nil || c.keyword == nameColumn):
			x.wrong = true // reported once, at the titles
		default:
			x.fail(lang.MissingValue, lang.Span{}, fmt.Sprintf("has no %s", strings.ToLower(c.title)),
				fmt.Sprintf("A %s needs one. Fill the cell in, or take the row out.", x.kind.keyword))
		}
	}
	if x.kind.keyword == "camera" && len(x.modes) == 0 && !known {
		x.fail(lang.MissingValue, x.at, "has no size of the sensor", "Write it as \"36 x 24 mm\".")
	}
	return x.wrong
}

// settleHolding joins the owner of a lens and the price of a day in one statement.
func (r *row) settleHolding() {
	rate, priced := r.take(rateColumn)
	if terms, ok := r.take(termsColumn); ok {
		if !priced {
			r.fail(lang.MissingValue, terms.At, "has terms of hire and no price of a day", "Write the price of a day, or take the terms out.")
		}
		rate.Value = strings.TrimSpace(rate.Value + " " + terms.Value)
	}
	have, known := r.lines["have"]
	switch {
	case !priced:
	case !known:
		r.lines["have"] = catalog.Line{Keyword: "have", Value: catalog.Hired + " " + rate.Value, At: rate.At}
	case have.Value == catalog.Hired:
		have.Value += " " + rate.Value
		r.lines["have"] = have
	default:
		r.fail(lang.Contradiction, rate.At, fmt.Sprintf("is %s and has a price", have.Value), "Take the price out, or write that it is for hire.")
	}
}

// smallestOfWide is the largest f-number that counts as a widest stop. Every lens stops
// down further, so "3.5-5.6" must be the widest stops at the two ends of a zoom.
const smallestOfWide = 11

// settleAperture keeps the widest stop at the long end of a zoom whose widest stop varies.
func (r *row) settleAperture() {
	line, ok := r.lines["aperture"]
	low, high, isRange := strings.Cut(line.Value, "..")
	focal, given := r.lines["focal"]
	if !ok || !isRange || !r.dashed || given && !strings.Contains(focal.Value, "..") {
		return
	}
	number, err := strconv.ParseFloat(strings.TrimPrefix(high, "f/"), 64)
	if err != nil || number > smallestOfWide {
		return
	}
	if !given {
		r.fail(lang.BadNumber, line.At, fmt.Sprintf("has stops that can be read in two ways: %q", line.Value),
			"They are the widest at both ends of a zoom, or the widest and the smallest of a prime. Add the column of focal lengths.")
		return
	}
	low, rough := strings.CutPrefix(low, lang.About+" ")
	if line.Value = high; rough {
		line.Value = lang.About + " " + high
	}
	r.lines["aperture"] = line
	r.notes = append(r.notes, catalog.Line{Value: lang.Quote("aperture: " + low + " at the short end"), At: line.At})
}
