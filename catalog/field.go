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
	// package's Holding, Thread, Route, Mode or Correction.
	Value any
	// Absent is what it means that a file does not give the field, and Settled that it
	// means anything but unknown: the tag "absent" of the types says so.
	Absent  string
	Settled bool
}

// A shower is a value of this package's own that a field can have.
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

// Known reports whether the field was given, or means something where it is not.
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

// Show writes the value for people, in the units in which the file gives it or those of
// the printer's system: what its absence means when it is not given, and "unknown" when
// that means nothing.
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
		return p.Quantity(v.Value, v.Unit)
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

func showInterval(i lang.Interval, p lang.Printer) string {
	switch {
	case !i.High.Known():
		return "from " + p.Quantity(i.Low.Value, i.Low.Unit)
	case !i.Low.Known():
		return "to " + p.Quantity(i.High.Value, i.High.Unit)
	case i.Low.Value == i.High.Value:
		return p.Quantity(i.Low.Value, i.Low.Unit)
	}
	return p.Quantity(i.Low.Value, i.Low.Unit) + " to " + p.Quantity(i.High.Value, i.High.Unit)
}

// Origin gives the place where a file gives the field, for a catalogue made of several
// files; it is zero when none does, or when the value keeps no place.
func (f Field) Origin() lang.Span {
	switch v := f.Value.(type) {
	case lang.Text:
		return v.Span
	case lang.Word:
		return v.Span
	case lang.Flag:
		return v.Span
	case lang.Quantity:
		return v.Span
	case lang.Interval:
		return v.Span
	case lang.Ratio:
		return v.Span
	case lang.List:
		return v.Span
	case Holding:
		return v.Span
	case Thread:
		return v.Diameter.Span
	case Route:
		return v.Lens.Span
	case Mode:
		return v.Name.Span
	case Correction:
		return v.Span
	}
	return lang.Span{}
}

// sameValue reports whether two values of fields say the same, wherever and in whatever
// unit they are written.
func sameValue(a, b any) bool {
	switch x := a.(type) {
	case lang.Text:
		y, ok := b.(lang.Text)
		return ok && x.Value == y.Value
	case lang.Word:
		return x.Value == b.(lang.Word).Value
	case lang.Flag:
		return x.Set == b.(lang.Flag).Set
	case lang.Quantity:
		return sameQuantity(x, b.(lang.Quantity))
	case lang.Interval:
		y := b.(lang.Interval)
		return sameQuantity(x.Low, y.Low) && sameQuantity(x.High, y.High)
	case lang.Ratio:
		return x.Value == b.(lang.Ratio).Value
	case lang.List:
		return slices.EqualFunc(x.Items, b.(lang.List).Items, sameQuantity)
	case Holding:
		y := b.(Holding)
		return x.Kind == y.Kind && sameQuantity(x.DayRate, y.DayRate)
	case Thread:
		y := b.(Thread)
		return x.None == y.None && sameQuantity(x.Diameter, y.Diameter)
	case Route:
		y := b.(Route)
		return x.Lens.Value == y.Lens.Value && x.Camera.Value == y.Camera.Value
	case Correction:
		return slices.Equal(x.Lines(), b.(Correction).Lines())
	case Mode:
		y, ok := b.(Mode)
		return ok && x.Name.Value == y.Name.Value && sameQuantity(x.Size.Width, y.Size.Width) && sameQuantity(x.Size.Height, y.Size.Height)
	}
	panic(fmt.Sprintf("catalog: a field cannot be a %T", a))
}

// sameQuantity allows for the rounding of another unit: 1.2kg is 1200g.
func sameQuantity(a, b lang.Quantity) bool {
	return a.Known() == b.Known() && math.Abs(a.Value-b.Value) <= 1e-12*math.Abs(a.Value)
}
