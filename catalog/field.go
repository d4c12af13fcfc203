package catalog

import (
	"fmt"
	"math"
	"reflect"
	"slices"

	"glassbrief/lang"
)

// A Field is one field of an item, for a view that shows all of it.
type Field struct {
	Keyword string // as a file writes it
	// Value is a lang.Text, Word, Quantity, Interval, Ratio, List or Flag, or one of this
	// package's Holding, Availability, Thread, Route, Mode or Correction.
	Value any
	// Absent says what a missing field means, as the tag "absent" of the types gives it.
	// Without the tag, Settled is false and a missing field is unknown.
	Absent  string
	Settled bool
}

// A shower is a value of one of this package's own types.
type shower interface{ Show(p lang.Printer) string }

// Fields lists the fields of an item, a *Lens, *Camera, *Rig, *Mount, *Adapter or
// *Filter, in the order of their declaration, known or not. A field that a file may
// repeat comes once for each value.
func Fields[T Lens | Camera | Rig | Mount | Adapter | Filter](item *T) []Field {
	v := reflect.ValueOf(item).Elem()
	keywords, names := lang.Keywords(v.Type())
	var fields []Field
	for i, keyword := range keywords {
		member, _ := v.Type().FieldByName(names[i])
		field := Field{Keyword: keyword}
		field.Absent, field.Settled = member.Tag.Lookup("absent")
		value := v.FieldByIndex(member.Index)
		if value.Kind() != reflect.Slice {
			field.Value = value.Interface()
			fields = append(fields, field)
			continue
		}
		for j := range value.Len() {
			field.Value = value.Index(j).Interface()
			fields = append(fields, field)
		}
	}
	return fields
}

// Known reports whether the field was given, or has a meaning when it is missing.
func (f Field) Known() bool { return f.Settled || f.given() }

func (f Field) given() bool {
	switch v := f.Value.(type) {
	case lang.Text:
		return v.Value != ""
	case lang.Word:
		return v.Value != ""
	case lang.Flag:
		return v.Set
	case interface{ Known() bool }:
		return v.Known()
	}
	panic(fmt.Sprintf("catalog: a field cannot be a %T", f.Value))
}

// Show writes the value for people, in the units of the file or of the printer's system.
// For a missing field it writes what that means, or "unknown".
func (f Field) Show(p lang.Printer) string {
	switch {
	case f.given():
	case f.Settled:
		return f.Absent
	default:
		return "unknown"
	}
	switch v := f.Value.(type) {
	case lang.Text:
		return v.Value
	case lang.Word:
		return v.Value
	case lang.Flag:
		return "yes"
	case lang.Quantity:
		return p.Given(v)
	case lang.Interval:
		return showInterval(v, p)
	case lang.Ratio:
		return p.Quantity(v.Value, "")
	case lang.List:
		return p.List(v)
	case shower:
		return v.Show(p)
	}
	panic(fmt.Sprintf("catalog: a field cannot be a %T", f.Value))
}

// rough reports whether the figure was given as one that is known only roughly.
func (f Field) rough() bool {
	switch v := f.Value.(type) {
	case lang.Quantity:
		return v.Rough
	case lang.Interval:
		return v.Low.Rough || v.High.Rough
	case Holding:
		return slices.ContainsFunc(v.prices(), func(q lang.Quantity) bool { return q.Rough })
	case Thread:
		return v.Diameter.Rough
	}
	return false
}

// Rough lists the keywords of an item whose figures are known only roughly.
func Rough[T Lens | Camera | Rig | Mount | Adapter | Filter](item *T) []string {
	var keywords []string
	for _, f := range Fields(item) {
		if f.rough() {
			keywords = append(keywords, f.Keyword)
		}
	}
	return keywords
}

func showInterval(i lang.Interval, p lang.Printer) string {
	switch {
	case !i.High.Known():
		return "from " + p.Given(i.Low)
	case !i.Low.Known():
		return "to " + p.Given(i.High)
	case i.Low.Value == i.High.Value:
		return p.Given(i.Low)
	}
	return p.Given(i.Low) + " to " + p.Quantity(i.High.Value, i.High.Unit)
}

// Origin gives the place where the field was read, which matters when a catalogue is made
// of several files; it is zero for a missing field.
func (f Field) Origin() lang.Span { return placeOf(reflect.ValueOf(f.Value)) }

// placeOf gives the Span of a value, or that of the first of its parts that has one.
func placeOf(value reflect.Value) lang.Span {
	for i := range value.NumField() {
		part := value.Field(i)
		if part.Type() == reflect.TypeFor[lang.Span]() {
			return part.Interface().(lang.Span)
		}
		if part.Kind() == reflect.Struct {
			if span := placeOf(part); span.Known() {
				return span
			}
		}
	}
	return lang.Span{}
}

// sameNumber allows for rounding in the conversion of units: 1.2kg is 1200g.
func sameNumber(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(a) }

// sameValue reports whether two values of fields say the same, wherever and in whatever
// unit they are written.
func sameValue(a, b reflect.Value) bool {
	if a.Type() != b.Type() {
		return false
	}
	switch a.Kind() {
	case reflect.Float64:
		return sameNumber(a.Float(), b.Float())
	case reflect.Struct:
		for i := range a.NumField() {
			part := a.Type().Field(i)
			said := part.Type != reflect.TypeFor[lang.Span]() && part.Name != "Unit"
			if said && !sameValue(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice, reflect.Array:
		same := a.Len() == b.Len()
		for i := 0; same && i < a.Len(); i++ {
			same = sameValue(a.Index(i), b.Index(i))
		}
		return same
	}
	return a.Equal(b)
}
