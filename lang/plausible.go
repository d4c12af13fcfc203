package lang

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Plausible is what a quantity can be, and what it usually is. A field states it in its tag;
// a type that reads its values itself may hold some of them to a narrower one with
// [Args.Hold].
type Plausible struct {
	usual, possible []bounds // at most one for each dimension
}

// bounds are the least and the greatest value of one dimension, as "20g..15kg" or "1:100..5".
type bounds struct {
	dim                     Dimension
	low, high               float64 // in SI units
	lowWritten, highWritten string
}

// NewPlausible makes a Plausible of two lists of intervals, each interval of another
// dimension, with "|" between them: "0m/s..20m/s|0deg/s..180deg/s". Bare numbers bound
// plain numbers, ratios, and money of any currency. Outside of what is possible a quantity
// is an error, and outside of what is usual a warning. It panics on what it cannot read,
// which is a mistake in the program.
func NewPlausible(usual, possible string) *Plausible {
	return &Plausible{usual: readBounds(usual), possible: readBounds(possible)}
}

func readBounds(text string) []bounds {
	var all []bounds
	if text == "" {
		return nil
	}
	for one := range strings.SplitSeq(text, "|") {
		low, high, _ := strings.Cut(one, "..")
		b := bounds{lowWritten: low, highWritten: high}
		var dim Dimension
		b.low, b.dim = readBound(low)
		if b.high, dim = readBound(high); dim != b.dim || b.low > b.high {
			panic(fmt.Sprintf("lang: %q is no interval", one))
		}
		all = append(all, b)
	}
	return all
}

func readBound(text string) (float64, Dimension) {
	over, under, isRatio := strings.Cut(text, ":")
	if isRatio {
		a, errA := strconv.ParseFloat(over, 64)
		if b, err := strconv.ParseFloat(under, 64); err == nil && errA == nil && b > 0 {
			return a / b, Plain
		}
	}
	q, d := ReadQuantity(Span{Source: &Source{Text: text}, End: len(text)})
	if d != nil || ScanQuantity(text) != len(text) {
		panic(fmt.Sprintf("lang: %q cannot bound a quantity", text))
	}
	return q.Value, q.Dim
}

// of gives the bounds of a dimension, or nil.
func of(all []bounds, dim Dimension) *bounds {
	if dim == Money {
		dim = Plain
	}
	for i := range all {
		if all[i].dim == dim {
			return &all[i]
		}
	}
	return nil
}

// rounding is what the conversion of units can shift a value by, as a share of it.
const rounding = 1e-9

func (b *bounds) hold(value float64) bool {
	return value >= b.low-rounding*math.Abs(b.low) && value <= b.high+rounding*math.Abs(b.high)
}

// words writes the bounds as a file does.
func (b *bounds) words() string { return b.lowWritten + " to " + b.highWritten }

// Hold reports a quantity that is not plausible for what is named, as "a person": as an error if
// it is not possible, else as a warning if it is not usual. The remedy is a sentence.
func (a *Args) Hold(q Quantity, p *Plausible, what, remedy string) {
	if q.Known() && !a.failed {
		a.hold(q.Value, q.Dim, q.Span, p, func() (string, string) { return what, remedy })
	}
}

// holdField holds a value to the bounds of the field that is being read, if it has any.
func (a *Args) holdField(value float64, dim Dimension, at Span) {
	if a.plausible != nil && !a.failed {
		a.hold(value, dim, at, a.plausible, func() (string, string) {
			return `"` + a.statement.Keyword.Value + `"`, "Check the number and its unit."
		})
	}
}

// hold calls words, for what is held and the remedy, only to report: building them for every
// value costs time.
func (a *Args) hold(value float64, dim Dimension, at Span, p *Plausible, words func() (what, remedy string)) {
	usual, possible := of(p.usual, dim), of(p.possible, dim)
	d := Diagnostic{Span: at}
	switch {
	case possible != nil && !possible.hold(value):
		d.Severity, d.Code = Error, OutOfRange
	case usual != nil && !usual.hold(value):
		d.Severity, d.Code = Warning, Improbable
	default:
		return
	}
	what, remedy := words()
	if d.Severity == Warning {
		d.Summary = fmt.Sprintf("%s is improbable for %s", shown(at), what)
		d.Detail = fmt.Sprintf("From %s is usual.", usual.words())
	} else {
		d.Summary = fmt.Sprintf("%s is not possible for %s", shown(at), what)
		d.Detail = fmt.Sprintf("From %s is possible", possible.words())
		if usual == nil {
			usual = possible
			d.Detail += "."
		} else {
			d.Detail += fmt.Sprintf(", and from %s is usual.", usual.words())
		}
		if value <= 0 && possible.low > 0 {
			remedy = "Leave it out while it is not known."
		}
	}
	d.Detail += " " + remedy
	d.Instead = usual.slip(at.Text(), value, dim)
	a.Report(d)
}

// slip gives the text of a quantity with another unit, of 10, 100 or 1000 times more or less,
// that makes it usual: the one nearest to what is written. It is "" when there is none. A value
// little beyond what is usual is no slip of 100 or 1000.
func (b *bounds) slip(text string, value float64, dim Dimension) string {
	start := signLength(text)
	a := scanAmount(text, start)
	written, known := FindUnit(a.unit.of(text))
	if a.unit.empty() {
		written, known = Unit{Factor: 1}, true
	}
	if a.number.empty() || a.end != len(text) || !known || written.Dim != dim {
		return ""
	}
	best, instead, most := math.Inf(1), "", 3.0
	if value < 3*b.high && 3*value > b.low {
		most = 1
	}
	for _, row := range units {
		factor := row.unit.Factor / written.Factor
		decades := math.Abs(math.Log10(math.Abs(factor)))
		whole := math.Round(decades)
		if row.unit.Dim != dim || math.Abs(decades-whole) > rounding || whole < 1 || whole > most || decades >= best || !b.hold(value*factor) {
			continue
		}
		space := ""
		if row.unit.Spaced {
			space = " "
		}
		best, instead = decades, strings.TrimRight(text[:a.number.end]+a.fraction.of(text), " ")+space+row.unit.Name
	}
	return instead
}

// Unbounded lists the fields of a struct type, and of those that it holds, that take
// quantities and do not say what is possible, as "header.Carry". A type that reads its values
// itself either has bounds or the option "own". It serves a test.
func Unbounded(t reflect.Type) []string {
	all := map[reflect.Type]*plan{}
	plansBelow(t, all)
	var names []string
	for t, p := range all {
		for _, f := range slices.Concat(p.labels, p.fields) {
			member := t.Field(f.index)
			kind := member.Type
			if f.list {
				kind = kind.Elem()
			}
			if takesQuantities(kind) && (f.plausible == nil || f.plausible.possible == nil) && !f.own {
				names = append(names, t.Name()+"."+member.Name)
			}
		}
	}
	slices.Sort(names)
	return names
}

func takesQuantities(t reflect.Type) bool {
	switch reflect.Zero(reflect.PointerTo(t)).Interface().(type) {
	case ArgsDecoder, *Quantity, *Interval, *Size, *Ratio, *List:
		return true
	}
	return false
}

// FieldRange says in words what the tag of a field has of its values: what is usual, or else
// what is possible; "" if it has neither. It serves documentation.
func FieldRange(tag string) string {
	said := map[string]string{}
	for option := range strings.SplitSeq(tag, ",") {
		name, argument, _ := strings.Cut(option, "=")
		said[name] = strings.ReplaceAll(strings.ReplaceAll(argument, "..", " to "), "|", ", ")
	}
	switch {
	case said["usual"] != "":
		return "usually " + said["usual"]
	case said["possible"] != "":
		return "from " + said["possible"]
	}
	return ""
}
