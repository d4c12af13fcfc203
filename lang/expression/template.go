package expression

import (
	"fmt"
	"strings"

	"glassbrief/lang"
)

// A Template is a text with expressions in braces, such as a reason:
// "sharp from {near_limit} to {far_limit}". "{{" and "}}" stand for single braces.
type Template struct {
	pieces []piece
}

// piece is a text, or an expression if there is one.
type piece struct {
	text  string
	value *Checked
}

// CheckTemplate reads the template at span, the text between the quotes; backslashes
// escape as in quoted texts. Every value must be a number that can be written: plain, or
// of a dimension that has a unit. With errors the template is nil.
func CheckTemplate(span lang.Span, names *Vocabulary) (*Template, lang.Diagnostics) {
	var (
		t    Template
		ds   lang.Diagnostics
		text = span.Text()
		lead strings.Builder
	)
	for at := 0; at < len(text); at++ {
		rest := text[at:]
		switch {
		case strings.HasPrefix(rest, "{{"), strings.HasPrefix(rest, "}}"), text[at] == '\\' && len(rest) > 1:
			at++
			lead.WriteByte(text[at])
		case text[at] == '}':
			ds.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.BadExpression, Span: span.Sub(at, at+1),
				Summary: "no brace is open here", Detail: "Write }} for a brace that is part of the text.",
			})
		case text[at] == '{':
			length := strings.IndexByte(rest, '}')
			if length < 0 {
				ds.Add(lang.Diagnostic{
					Severity: lang.Error, Code: lang.BadExpression, Span: span.Sub(at, at+1),
					Summary: "this brace is not closed", Detail: "Write } behind the fact, or {{ for a brace that is part of the text.",
				})
				return nil, ds
			}
			value, found := checkValue(span.Sub(at+1, at+length), names)
			ds = append(ds, found...)
			t.pieces = append(t.pieces, piece{text: lead.String()}, piece{value: value})
			lead.Reset()
			at += length
		default:
			lead.WriteByte(text[at])
		}
	}
	if len(ds) > 0 {
		return nil, ds
	}
	t.pieces = append(t.pieces, piece{text: lead.String()})
	return &t, nil
}

// checkValue checks one value of a template.
func checkValue(span lang.Span, names *Vocabulary) (*Checked, lang.Diagnostics) {
	value, ds := Check(span, names, WantNumber)
	if value != nil && value.Unit == "" && value.Dim != lang.Plain && value.Dim != lang.Money {
		return nil, lang.Diagnostics{{
			Severity: lang.Error, Code: lang.WrongDimension, Span: span,
			Summary: fmt.Sprintf("%q is %s, which no unit can write", short(span.Text()), value.Dim),
			Detail:  "Divide it by something, so that a quantity with a unit comes out.",
		}}
	}
	return value, ds
}

// Values gives the expressions of the template in the order of the text.
func (t *Template) Values() []*Checked {
	var values []*Checked
	for _, p := range t.pieces {
		if p.value != nil {
			values = append(values, p.value)
		}
	}
	return values
}

// Render writes the text with each value in its unit. value gives an expression's value
// in SI units, or NaN for the unknown, which is written as such. A range whose two ends
// are written the same, as in "{near} to {far}", is written once.
func (t *Template) Render(printer lang.Printer, value func(*Checked) float64) string {
	var b strings.Builder
	last, joint := "", ""
	for _, p := range t.pieces {
		if p.value == nil {
			b.WriteString(joint)
			joint = p.text
			continue
		}
		written := printer.Quantity(value(p.value), p.value.Unit)
		if joint == " to " && written == last {
			joint = ""
			continue
		}
		b.WriteString(joint + written)
		last, joint = written, ""
	}
	b.WriteString(joint)
	return b.String()
}
