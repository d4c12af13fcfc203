package lang

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Quantity is a number with its dimension, as read from text or made by a program.
// Its zero value is the unknown quantity, which is not the same as zero.
type Quantity struct {
	Value float64 // SI units of Dim; percent as a share; "EV7" as lux
	Unit  string  // canonical spelling of the unit as written: "mm", "f/", "T", "EV", "%", "EUR", "" for a bare number
	Span  Span    // where it was written; zero when a program made it
	Dim   Dimension
	Rough bool // written with [About] before it: the figure as it stands, its error not known
	known bool
}

// About is the word before a figure that its writer knows only roughly.
const About = "about"

// Assumed stands before what rests on figures that nobody has stated.
const Assumed = "~"

// NewQuantity makes a known quantity of value in SI units.
func NewQuantity(value float64, dim Dimension) Quantity {
	return Quantity{Value: value, Dim: dim, known: true}
}

// Known reports whether the quantity was given at all.
func (q Quantity) Known() bool { return q.known }

// Or gives the value, or fallback when the quantity is unknown.
func (q Quantity) Or(fallback float64) float64 {
	if q.known {
		return q.Value
	}
	return fallback
}

// OrNaN gives the value, or NaN when the quantity is unknown: the form in which the
// physics functions take and give the unknown.
func (q Quantity) OrNaN() float64 { return q.Or(math.NaN()) }

// mustBe gives the diagnostic for a quantity whose dimension is not want, or nil.
func (q Quantity) mustBe(want Dimension) *Diagnostic {
	if q.Dim == want {
		return nil
	}
	if q.Unit == "" {
		return &Diagnostic{
			Severity: Error, Code: MissingUnit, Span: q.Span,
			Summary: fmt.Sprintf("%q has no unit", q.Span.Text()),
			Detail:  fmt.Sprintf("%s is wanted here, %s.", Capital(want.String()), want.row().example),
		}
	}
	return &Diagnostic{
		Severity: Error, Code: WrongDimension, Span: q.Span,
		Summary: fmt.Sprintf("%q is %s, and %s is wanted here", q.Span.Text(), q.Dim, want),
		Detail:  fmt.Sprintf("Write it %s.", want.row().example),
	}
}

// Capital begins a phrase of plain letters, which is not empty, as a sentence.
func Capital(phrase string) string { return strings.ToUpper(phrase[:1]) + phrase[1:] }

// ScanQuantity gives the length of the quantity that text begins with, or 0. It takes
// anything that looks like a unit; [ReadQuantity] says whether it is one.
//
//	quantity = "f/" number | "T" number | "EV" ["-"] number | ["-"] amount [[" "] amount]
//	amount   = number ["/" digits | " " digits "/" digits] [[" "] unit]
//
// The second amount is taken only as inches after "ft" and as ounces after "lb".
func ScanQuantity(text string) int {
	if n := scanPrefixed(text); n > 0 {
		return n
	}
	first := scanAmount(text, signLength(text))
	switch unit := first.unit.of(text); {
	case first.number.empty():
		return 0
	case unit == "ft", unit == "lb":
		second := scanAmount(text, first.end)
		if lesser := second.unit.of(text); unit == "ft" && lesser == "in" || unit == "lb" && lesser == "oz" {
			return second.end
		}
	}
	return first.end
}

// signLength gives the length of the sign that text begins with, or 0.
func signLength(text string) int { return len(text) - len(strings.TrimPrefix(text, "-")) }

// An amount is one number of a quantity with its fraction and unit, as pieces of a text.
// Fraction and unit may be empty.
type amount struct {
	number, fraction, unit piece
	end                    int
}

// piece is a part of a text, without blanks around it.
type piece struct{ start, end int }

func (p piece) of(text string) string { return text[p.start:p.end] }
func (p piece) empty() bool           { return p.start == p.end }

// behindBlanks gives the piece of n bytes at an offset of text, without the blanks before it.
func behindBlanks(text string, at, n int) piece {
	return piece{at + min(n, blanks(text[at:])), at + n}
}

// scanAmount gives the amount at an offset of text, with blanks before it or not. Its
// number is empty if no amount is there.
func scanAmount(text string, at int) amount {
	start := at + blanks(text[at:])
	a := amount{number: piece{start, start + scanNumber(text[start:])}}
	if a.number.empty() {
		return amount{end: at}
	}
	a.fraction = behindBlanks(text, a.number.end, scanFraction(text[a.number.end:]))
	a.unit = behindBlanks(text, a.fraction.end, scanUnit(text[a.fraction.end:]))
	a.end = a.unit.end
	return a
}

// scanPrefixed gives the length of "f/2.8", "T3.1" or "EV-2" at the start of text.
func scanPrefixed(text string) int {
	for _, prefix := range []string{"f/", "T", "EV"} {
		if !strings.HasPrefix(text, prefix) {
			continue
		}
		at := len(prefix)
		if prefix == "EV" && strings.HasPrefix(text[at:], "-") {
			at++
		}
		n := scanNumber(text[at:])
		if n == 0 {
			continue
		}
		at += n
		if r, _ := utf8.DecodeRuneInString(text[at:]); isWordPart(r) {
			continue
		}
		return at
	}
	return 0
}

// scanNumber gives the length of digits with at most one decimal point. A point counts
// only with a digit behind it, so that "1..3" is an interval.
func scanNumber(text string) int {
	n := digits(text)
	if n < len(text) && text[n] == '.' {
		if fraction := digits(text[n+1:]); fraction > 0 {
			return n + 1 + fraction
		}
	}
	return n
}

// scanFraction gives the length of "/50", or of " 1/3" behind a whole number.
func scanFraction(text string) int {
	if strings.HasPrefix(text, "/") {
		if n := digits(text[1:]); n > 0 {
			return 1 + n
		}
	}
	at := blanks(text)
	if at == 0 {
		return 0
	}
	over := digits(text[at:])
	if over == 0 || !strings.HasPrefix(text[at+over:], "/") {
		return 0
	}
	under := digits(text[at+over+1:])
	if under == 0 {
		return 0
	}
	return at + over + 1 + under
}

// scanUnit gives the length of a unit with the blanks before it, or 0. Letters right
// behind a number are always its unit, known or not. Behind a blank they are its unit only
// if the table has them: "2 lenses" is a number and a word.
func scanUnit(text string) int {
	at := blanks(text)
	n := unitLength(text[at:])
	if n == 0 || text[at:at+n] == "x" {
		return 0
	}
	if joined := strings.TrimSuffix(text[at:at+n], "x"); len(joined) < n && digits(text[at+n:]) > 0 {
		// "36mmx24mm": a size written without blanks.
		if _, ok := FindUnit(joined); ok {
			return at + len(joined)
		}
	}
	end := at + n
	if strings.HasPrefix(text[end:], "/") {
		if m := unitLength(text[end+1:]); m > 0 {
			end += 1 + m
		}
	}
	if at > 0 {
		if _, ok := FindUnit(text[at:end]); !ok {
			return 0
		}
	}
	return end
}

func unitLength(text string) int {
	r, size := utf8.DecodeRuneInString(text)
	if !isUnitStart(r) {
		return 0
	}
	if r == '%' || r == '°' {
		return size
	}
	n := 0
	for n < len(text) {
		r, size = utf8.DecodeRuneInString(text[n:])
		if !unicode.IsLetter(r) {
			break
		}
		n += size
	}
	return n + powerLength(text[n:])
}

// powerLength takes the "2" of "kgm2", but not the "10" of "5ft10in".
func powerLength(text string) int {
	r, size := utf8.DecodeRuneInString(text)
	if r != '2' && r != '3' && r != '²' && r != '³' {
		return 0
	}
	if after, _ := utf8.DecodeRuneInString(text[size:]); unicode.IsLetter(after) || unicode.IsDigit(after) {
		return 0
	}
	return size
}

func digits(text string) int {
	n := 0
	for n < len(text) && text[n] >= '0' && text[n] <= '9' {
		n++
	}
	return n
}

func blanks(text string) int {
	n := 0
	for n < len(text) && (text[n] == ' ' || text[n] == '\t') {
		n++
	}
	return n
}

func isWordPart(r rune) bool {
	return r == '_' || unicode.IsLetter(r) || unicode.IsDigit(r)
}

// ReadQuantity reads the quantity of a span that [ScanQuantity] measured, or gives the
// diagnostic for its number or unit.
func ReadQuantity(span Span) (Quantity, *Diagnostic) {
	text := span.Text()
	if scanPrefixed(text) == len(text) {
		return readPrefixed(span, text)
	}
	q := Quantity{Span: span, known: true}
	for at, first := signLength(text), true; at < len(text); first = false {
		a := scanAmount(text, at)
		if a.number.empty() {
			break
		}
		value, d := readNumber(span.Sub(a.number.start, a.number.end))
		if d == nil && !a.fraction.empty() {
			value, d = readFraction(value, span.Sub(a.fraction.start, a.fraction.end))
		}
		unit := Unit{Factor: 1}
		if d == nil && !a.unit.empty() {
			unit, d = readUnit(span.Sub(a.unit.start, a.unit.end))
		}
		if d != nil {
			return Quantity{}, d
		}
		q.Value += value * unit.Factor
		if first {
			q.Unit, q.Dim = unit.Name, unit.Dim
		}
		at = a.end
	}
	if signLength(text) > 0 {
		q.Value = -q.Value
	}
	return q, nil
}

func readPrefixed(span Span, text string) (Quantity, *Diagnostic) {
	prefix := strings.TrimRight(text, "-.0123456789")
	value, err := strconv.ParseFloat(text[len(prefix):], 64)
	if err != nil {
		return Quantity{}, badNumber(span)
	}
	q := Quantity{Value: value, Dim: Aperture, Unit: prefix, Span: span, known: true}
	if prefix == "EV" {
		q.Dim, q.Value = Illuminance, illuminanceOfEV(value)
	} else if value <= 0 {
		return Quantity{}, &Diagnostic{
			Severity: Error, Code: OutOfRange, Span: span,
			Summary: fmt.Sprintf("%q is no stop", text),
			Detail:  "An f-number is above zero.",
		}
	}
	return q, nil
}

// illuminanceOfEV gives the incident light in lux of an exposure value at ISO 100,
// E = 2.5 · 2^EV: the incident-light equation with C = 250 (ISO 2720 permits 240 to 400).
func illuminanceOfEV(ev float64) float64 { return 2.5 * math.Exp2(ev) }

func readNumber(span Span) (float64, *Diagnostic) {
	value, err := strconv.ParseFloat(span.Text(), 64)
	if err != nil {
		return 0, badNumber(span)
	}
	return value, nil
}

func badNumber(span Span) *Diagnostic {
	return &Diagnostic{
		Severity: Error, Code: BadNumber, Span: span,
		Summary: fmt.Sprintf("%q is no number that can be held", span.Text()),
		Detail:  `Write digits with at most one decimal point, as "1.5".`,
	}
}

// readFraction adds "1/3" to a value, or divides it by "/50".
func readFraction(value float64, span Span) (float64, *Diagnostic) {
	over, under, _ := strings.Cut(span.Text(), "/")
	divisor, err := strconv.ParseFloat(under, 64)
	if err != nil || divisor == 0 {
		return 0, &Diagnostic{
			Severity: Error, Code: BadNumber, Span: span,
			Summary: "a fraction cannot be divided by zero", Detail: `Write it like "1/50s".`,
		}
	}
	if over == "" {
		return value / divisor, nil
	}
	top, err := strconv.ParseFloat(over, 64)
	if err != nil {
		return 0, badNumber(span)
	}
	return value + top/divisor, nil
}

func readUnit(span Span) (Unit, *Diagnostic) {
	text := span.Text()
	if unit, ok := FindUnit(text); ok {
		return unit, nil
	}
	d := &Diagnostic{
		Severity: Error, Code: UnknownUnit, Span: span,
		Summary: fmt.Sprintf("the unit %q is not known", text),
		Detail:  "Units are written in the usual short form, such as m, mm, ft, in, kg, s, deg, lx, fc, m/s, stops, fps, % or a currency code.",
		Instead: nearestUnit(text),
	}
	if strings.Trim(text, "eE0123456789") == "" {
		d.Code, d.Instead = BadNumber, ""
		d.Summary, d.Detail = "numbers have no exponent here", `Write the number out, as "1000" for 1e3.`
	}
	return Unit{}, d
}

// canonicalQuantity gives the tidy spelling of a quantity: the digits as written, the
// unit in its canonical spelling, a space only before units that take one. Text that
// does not read as a quantity comes back as it is.
func canonicalQuantity(span Span) string {
	text := span.Text()
	if _, d := ReadQuantity(span); d != nil || scanPrefixed(text) == len(text) {
		return text
	}
	var b strings.Builder
	at := signLength(text)
	b.WriteString(text[:at])
	for part := 0; at < len(text); part++ {
		a := scanAmount(text, at)
		if part > 0 {
			b.WriteByte(' ')
		}
		if text[a.number.start] == '.' {
			b.WriteByte('0')
		}
		b.WriteString(a.number.of(text))
		if fraction := a.fraction.of(text); fraction != "" {
			if fraction[0] != '/' {
				b.WriteByte(' ')
			}
			b.WriteString(fraction)
		}
		if !a.unit.empty() {
			unit, _ := FindUnit(a.unit.of(text))
			if unit.Spaced {
				b.WriteByte(' ')
			}
			b.WriteString(unit.Name)
		}
		at = a.end
	}
	return b.String()
}
