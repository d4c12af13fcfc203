package sheet

import (
	"errors"
	"fmt"
	"strings"

	"glassbrief/lang"
)

// A value is a cell that is being turned into the value of a statement.
type value struct {
	cell
	column *column
	unit   string // for a number without one: the title's, or the column's usual one
	// remark is text in brackets behind a figure; it goes to the notes.
	remark string
	rough  bool // the figure is known roughly, and nothing written so far says so
	row    *row
	at     lang.Span
	where  string // the name of the cell, as D3; "" outside of a sheet
	wrong  bool
}

// fail reports a fault of the cell. After the first, further ones are ignored.
func (v *value) fail(code lang.Code, remedy, format string, args ...any) {
	if v.wrong {
		return
	}
	v.wrong = true
	summary := fmt.Sprintf(format, args...)
	if v.where == "" { // no sheet
		summary = fmt.Sprintf("the %s %s", strings.ToLower(v.column.title), summary)
	} else {
		summary = fmt.Sprintf("%s, %q, %s", v.where, v.column.title, summary)
	}
	v.row.reading.found.Add(fault(code, v.at, summary, remedy))
}

// check reports the error that the language gave for a text made from the cell.
func (v *value) check(text string, err error) string {
	var ds lang.Diagnostics
	if errors.As(err, &ds) && len(ds) > 0 {
		v.fail(ds[0].Code, ds[0].Detail, "cannot be read: %s", ds[0].Summary)
		return ""
	}
	return text
}

// takeRemark gives the cell without a remark in brackets at its end, and without what says
// that it is rough.
func (v *value) takeRemark() string {
	text := normalise(v.text)
	if open := strings.IndexAny(text, "(["); open > 0 && strings.ContainsAny(text[len(text)-1:], ")]") {
		v.remark = strings.TrimSpace(text[open+1 : len(text)-1])
		text = strings.TrimSpace(text[:open])
	}
	return v.takeRough(text)
}

// takeRough takes from a text and from the remark what says that the figure is rough.
func (v *value) takeRough(text string) string {
	text, before := takeRough(text)
	remark, inRemark := saysRough(v.remark)
	v.remark, v.rough = remark, v.rough || before || inRemark
	return text
}
