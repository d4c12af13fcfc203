package lang

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Args gives the values of one statement in order, each as the kind that is asked for.
// The first value that does not fit is reported; from then on every call gives zero
// values silently, so that one mistake is one finding.
type Args struct {
	statement *Statement
	next      int
	failed    bool
	found     *Diagnostics
	plausible *Plausible // of the field that is being read; nil for any value
}

// Keyword gives the statement's keyword.
func (a *Args) Keyword() Word { return a.statement.Keyword }

// More reports whether a value is left.
func (a *Args) More() bool { return a.next < len(a.statement.Values) }

// Failed reports whether a value of the statement was found wrong.
func (a *Args) Failed() bool { return a.failed }

// Rest gives the place of the next value, or of the end of the statement's line.
func (a *Args) Rest() Span {
	if a.More() {
		return a.statement.Values[a.next].Span
	}
	end := a.statement.Keyword.Span
	if n := len(a.statement.Values); n > 0 {
		end = a.statement.Values[n-1].Span
	}
	return Span{Source: end.Source, Start: end.End, End: end.End}
}

// left gives the place of all values that were not taken, with the blanks before them.
func (a *Args) left() Span {
	values := a.statement.Values
	return a.Rest().To(values[len(values)-1].Span).withBlanks()
}

// Report adds a finding about the statement; an error ends the reading of its values.
func (a *Args) Report(d Diagnostic) {
	if d.Severity == Error {
		if a.failed {
			return
		}
		a.failed = true
	}
	a.found.Add(d)
}

// take gives the next value, or reports that what is wanted is missing.
func (a *Args) take(wanted string) (Value, bool) {
	if a.failed {
		return Value{}, false
	}
	if !a.More() {
		a.Report(Diagnostic{
			Severity: Error, Code: MissingValue, Span: a.Rest(),
			Summary: fmt.Sprintf("%q lacks %s", a.statement.Keyword.Value, wanted),
			Detail:  "Write it on the same line.",
		})
		return Value{}, false
	}
	value := a.statement.Values[a.next]
	if value.bad() {
		a.failed = true
		return Value{}, false
	}
	a.next++
	return value, true
}

func (a *Args) wrong(value Value, wanted, remedy string) {
	a.Report(Diagnostic{
		Severity: Error, Code: WrongKind, Span: value.Span,
		Summary: fmt.Sprintf("%s is %s, and %q takes %s here", shown(value.Span), value.describe(), a.statement.Keyword.Value, wanted),
		Detail:  remedy,
	})
}

// shown quotes a piece of the source for a message, a quoted text by its own quotes.
func shown(span Span) string { return `"` + clip(strings.Trim(span.Text(), `"`)) + `"` }

// single takes a value that is one part of the kind, or reports a fault. It calls words, for
// what is wanted and the remedy, only to report: building them for every value costs time.
func (a *Args) single(kind PartKind, words func() (wanted, remedy string)) (Part, bool) {
	if !a.failed && a.peek(kind) {
		a.next++
		return a.statement.Values[a.next-1].Parts[0], true
	}
	if kind == TextPart && !a.failed && a.More() {
		if bare := a.unquoted(); bare != nil {
			a.Report(*bare)
			return Part{}, false
		}
	}
	wanted, remedy := words()
	if value, ok := a.take(wanted); ok {
		a.wrong(value, wanted, remedy)
	}
	return Part{}, false
}

// Text takes a quoted text.
func (a *Args) Text() Text {
	part, _ := a.single(TextPart, func() (string, string) { return "a quoted text", "Put it between quotes." })
	return Text{Value: part.Text, Span: part.Span}
}

// PeekText reports whether the next value is a quoted text.
func (a *Args) PeekText() bool { return a.peek(TextPart) }

// PeekQuantity reports whether the next value is a single quantity.
func (a *Args) PeekQuantity() bool { return a.peek(NumberPart) }

// PeekDimension reports whether the next value is a single quantity of the dimension.
func (a *Args) PeekDimension(dim Dimension) bool {
	if !a.PeekQuantity() {
		return false
	}
	return a.statement.Values[a.next].Parts[0].Quantity.Dim == dim
}

func (a *Args) peek(kind PartKind) bool {
	if !a.More() {
		return false
	}
	value := a.statement.Values[a.next]
	return value.Form == Single && value.Parts[0].Kind == kind
}

// PeekKind gives the kind of the first known part of the next value, or [Absent].
func (a *Args) PeekKind() PartKind {
	if a.More() {
		for _, part := range a.statement.Values[a.next].Parts {
			if part.Kind != Absent {
				return part.Kind
			}
		}
	}
	return Absent
}

// PeekForm gives the form of the next value, or 0.
func (a *Args) PeekForm() Form {
	if !a.More() {
		return 0
	}
	return a.statement.Values[a.next].Form
}

// PeekWord reports whether the next value is the given word.
func (a *Args) PeekWord(word string) bool {
	return a.peek(WordPart) && a.statement.Values[a.next].Parts[0].Text == word
}

// Skip takes the next value if it is one of the words, and reports whether it was.
func (a *Args) Skip(words ...string) bool {
	if a.failed || !slices.ContainsFunc(words, a.PeekWord) {
		return false
	}
	a.next++
	return true
}

// Word takes a bare word, one of words if any are named.
func (a *Args) Word(words ...string) Word {
	part, ok := a.single(WordPart, func() (string, string) {
		wanted := "a word"
		if len(words) > 0 {
			wanted = "one of " + Quoted(words)
		}
		return wanted, "Write a bare word, without quotes."
	})
	if !ok {
		return Word{}
	}
	return a.checkWord(part, words)
}

func (a *Args) checkWord(part Part, words []string) Word {
	word := Word{Value: part.Text, Span: part.Span}
	if len(words) == 0 || slices.Contains(words, word.Value) {
		return word
	}
	a.Report(Diagnostic{
		Severity: Error, Code: UnknownWord, Span: part.Span,
		Summary: fmt.Sprintf("%q does not take the word %q", a.statement.Keyword.Value, word.Value),
		Detail:  fmt.Sprintf("It takes %s.", Quoted(words)),
		Instead: Nearest(word.Value, words), Spelling: Surely(word.Value, words) != "",
	})
	return Word{}
}

// WordInterval takes "a..b" or a single word, each one of words.
func (a *Args) WordInterval(words ...string) (low, high Word) {
	wanted := "one of " + Quoted(words)
	value, ok := a.take(wanted)
	if !ok {
		return Word{}, Word{}
	}
	noWord := func(part Part) bool { return part.Kind != WordPart }
	if value.Form != Single && value.Form != IntervalOf || slices.ContainsFunc(value.Parts, noWord) {
		a.wrong(value, wanted, "Write a word, or two with \"..\" between.")
		return Word{}, Word{}
	}
	low = a.checkWord(value.Parts[0], words)
	if value.Form == Single {
		return low, low
	}
	return low, a.checkWord(value.Parts[1], words)
}

// Quantity takes one quantity of the dimension.
func (a *Args) Quantity(dim Dimension) Quantity {
	part, ok := a.single(NumberPart, func() (string, string) { return dim.String(), "Write it " + dim.row().example + "." })
	if !ok {
		return Quantity{}
	}
	return a.checkQuantity(part, dim)
}

// RoughQuantity takes one quantity of the dimension, with [About] before it or not.
func (a *Args) RoughQuantity(dim Dimension) Quantity {
	rough := a.Skip(About)
	q := a.Quantity(dim)
	q.Rough = rough && q.Known()
	return q
}

// roughInterval takes an interval, with [About] before it or not; the word is about both ends.
func (a *Args) roughInterval(dim Dimension) Interval {
	rough := a.Skip(About)
	i := a.Interval(dim)
	i.Low.Rough, i.High.Rough = rough && i.Low.Known(), rough && i.High.Known()
	return i
}

// Number takes one quantity of any dimension.
func (a *Args) Number() Quantity {
	part, _ := a.single(NumberPart, func() (string, string) { return "a quantity", "Write a number with its unit." })
	return part.Quantity
}

// checkQuantity gives the quantity of a part that is plausible for the field, or reports it.
func (a *Args) checkQuantity(part Part, dim Dimension) Quantity {
	q := a.dimensioned(part, dim)
	if q.Known() {
		a.holdField(q.Value, dim, q.Span)
	}
	if a.failed {
		return Quantity{}
	}
	return q
}

// dimensioned gives the quantity of a part, or reports its kind or dimension.
func (a *Args) dimensioned(part Part, dim Dimension) Quantity {
	if part.Kind != NumberPart {
		a.wrong(Value{Form: Single, Parts: []Part{part}, Span: part.Span}, dim.String(), "Write it "+dim.row().example+".")
		return Quantity{}
	}
	d := part.Quantity.mustBe(dim)
	if d == nil {
		return part.Quantity
	}
	if dashed := a.dashed(); dashed != nil && d.Code == MissingUnit {
		unit := a.statement.Values[a.next].Parts[0].Quantity.Unit
		dashed.Instead = strings.Replace(dashed.Instead, "..", unit+"..", 1)
		d = dashed
	} else if d.Code == MissingUnit && a.peek(WordPart) {
		next := a.statement.Values[a.next].Parts[0]
		d.Code, d.Span = UnknownUnit, next.Span
		d.Summary = fmt.Sprintf("the unit %q is not known", next.Text)
		d.Instead = nearestUnit(next.Text)
	}
	a.Report(*d)
	return Quantity{}
}

// Interval takes "a..b", "a..", "..b" or a single quantity, of the dimension.
func (a *Args) Interval(dim Dimension) Interval {
	value, ok := a.take(dim.String() + " or an interval")
	if !ok {
		return Interval{}
	}
	switch value.Form {
	case Single:
		q := a.checkQuantity(value.Parts[0], dim)
		if a.failed {
			return Interval{}
		}
		return Interval{Low: q, High: q, Span: value.Span}
	case IntervalOf:
		interval := Interval{Span: value.Span}
		low, high := value.Parts[0], value.Parts[1]
		if low.Kind == NumberPart && low.Quantity.Unit == "" && high.Kind == NumberPart && dim != Plain {
			a.missingLowUnit(low, high)
			return Interval{}
		}
		if low.Kind != Absent {
			interval.Low = a.checkQuantity(low, dim)
		}
		if high.Kind != Absent {
			interval.High = a.checkQuantity(high, dim)
		}
		if a.failed {
			return Interval{}
		}
		if interval.Low.Known() && interval.High.Known() && interval.Low.Value > interval.High.Value {
			d := Diagnostic{
				Severity: Error, Code: BadInterval, Span: value.Span,
				Summary: fmt.Sprintf("%q runs backwards", value.Span.Text()),
				Detail:  "Write the smaller value first.",
				Instead: high.Span.Text() + ".." + low.Span.Text(), Spelling: true,
			}
			if whole, ok := strings.CutPrefix(high.Span.Text(), "."); ok && strings.Contains(value.Span.Text(), "...") { // "2m...3m", where ".3m" is hardly meant
				d.Detail = "Two dots stand between two values; a third one makes the second a decimal."
				d.Instead, d.Spelling = low.Span.Text()+".."+whole, false
			}
			a.Report(d)
			return Interval{}
		}
		return interval
	}
	a.wrong(value, dim.String()+" or an interval", "Write it "+dim.row().example+", or two of them with \"..\" between.")
	return Interval{}
}

func (a *Args) missingLowUnit(low, high Part) {
	d := Diagnostic{
		Severity: Error, Code: MissingUnit, Span: low.Span,
		Summary: fmt.Sprintf("%q has no unit", low.Span.Text()),
		Detail:  "Both ends of an interval carry their unit.",
		Instead: low.Span.Text() + high.Quantity.Unit,
	}
	if high.Quantity.Dim == Aperture { // its unit stands before the number
		d.Instead = high.Quantity.Unit + low.Span.Text()
	}
	unit, known := FindUnit(high.Quantity.Unit)
	d.Spelling = known && low.Quantity.Value*unit.Factor <= high.Quantity.Value
	a.Report(d)
}

// Size takes "a x b" or "a x b x c", each of the dimension.
func (a *Args) Size(dim Dimension) Size {
	value, ok := a.take("a size, as \"36mm x 24mm\"")
	if !ok {
		return Size{}
	}
	if value.Form != SizeOf || len(value.Parts) > 3 {
		a.wrong(value, "a size", "Write width x height, each "+dim.row().example+".")
		return Size{}
	}
	size := Size{Span: value.Span}
	for i, to := range []*Quantity{&size.Width, &size.Height, &size.Depth}[:len(value.Parts)] {
		*to = a.checkQuantity(value.Parts[i], dim)
	}
	if a.failed {
		return Size{}
	}
	return size
}

// List takes quantities of the dimension with commas or "or" between: "2, 4, 6 stops",
// "800 or 4000". Bare numbers take the unit of the last one.
func (a *Args) List(dim Dimension) List {
	list := List{Span: a.Rest()}
	var parts []Part
	for more := true; more; {
		value, ok := a.take(dim.String())
		if !ok {
			return List{}
		}
		if value.Form != Single && value.Form != ListOf {
			a.wrong(value, dim.String()+" or a list", "Write single values with a comma between.")
			return List{}
		}
		parts = append(parts, value.Parts...)
		list.Span = list.Span.To(value.Span)
		more = a.Skip("or")
	}
	for _, part := range shareUnit(parts) {
		list.Items = append(list.Items, a.checkQuantity(part, dim))
	}
	if a.failed {
		return List{}
	}
	return list
}

// shareUnit gives the parts of a list, in which bare numbers take the unit of the last one.
func shareUnit(list []Part) []Part {
	shared := slices.Clone(list)
	unit, known := FindUnit(list[len(list)-1].Quantity.Unit)
	for i := range shared {
		if q := &shared[i].Quantity; known && shared[i].Kind == NumberPart && q.Unit == "" {
			q.Value, q.Unit, q.Dim = q.Value*unit.Factor, unit.Name, unit.Dim
		}
	}
	return shared
}

// Ratio takes "2.39:1" or a plain number above zero.
func (a *Args) Ratio() Ratio {
	value, ok := a.take("a ratio, as \"2.39:1\"")
	if !ok {
		return Ratio{}
	}
	if value.Form != RatioOf && value.Form != Single || value.Parts[0].Kind != NumberPart {
		a.wrong(value, "a ratio", "Write it like \"2.39:1\".")
		return Ratio{}
	}
	over := a.dimensioned(value.Parts[0], Plain)
	under := NewQuantity(1, Plain)
	if value.Form == RatioOf {
		under = a.dimensioned(value.Parts[1], Plain)
	}
	if a.failed {
		return Ratio{}
	}
	if over.Value <= 0 || under.Value <= 0 {
		a.Report(Diagnostic{
			Severity: Error, Code: OutOfRange, Span: value.Span,
			Summary: fmt.Sprintf("%q is no ratio", value.Span.Text()), Detail: "Both sides are above zero, as in \"2.39:1\".",
		})
		return Ratio{}
	}
	ratio := Ratio{Value: over.Value / under.Value, Span: value.Span}
	if a.holdField(ratio.Value, Plain, ratio.Span); a.failed {
		return Ratio{}
	}
	return ratio
}

// Clock takes a time of day, "18:40".
func (a *Args) Clock() (hour, minute int) {
	const wanted = "a time of day, as \"18:40\""
	value, ok := a.take(wanted)
	if !ok {
		return 0, 0
	}
	before, after, _ := strings.Cut(value.Span.Text(), ":")
	hour, errHour := strconv.Atoi(before)
	minute, errMinute := strconv.Atoi(after)
	if errHour != nil || errMinute != nil || len(after) != 2 || hour < 0 || hour > 23 || minute < 0 || minute > 59 {
		a.wrong(value, wanted, "Write hours from 0 to 23 and minutes from 00 to 59.")
		return 0, 0
	}
	return hour, minute
}

// Expression takes the expression of the statement, with the reason behind it.
func (a *Args) Expression() Expression {
	if a.statement.Expression != nil {
		return *a.statement.Expression
	}
	a.Report(Diagnostic{
		Severity: Error, Code: MissingValue, Span: a.Rest(),
		Summary: fmt.Sprintf("%q lacks its expression", a.statement.Keyword.Value),
		Detail:  "Write what must hold on the same line.",
	})
	return Expression{}
}

// ParseQuantity reads one quantity from a text of its own, such as the value of a
// command's flag; name says where it came from ("--focal"), and dim is the dimension it
// must have. It fails with [Diagnostics].
func ParseQuantity(name, text string, dim Dimension) (Quantity, error) {
	return parseArgs(name, text, func(a *Args) Quantity { return a.Quantity(dim) })
}

// ParseSize reads a size from a text of its own, as [ParseQuantity] reads a quantity.
func ParseSize(name, text string, dim Dimension) (Size, error) {
	return parseArgs(name, text, func(a *Args) Size { return a.Size(dim) })
}

// ParseInterval reads an interval or a single quantity from a text of its own.
func ParseInterval(name, text string, dim Dimension) (Interval, error) {
	return parseArgs(name, text, func(a *Args) Interval { return a.Interval(dim) })
}

// ParseList reads a list from a text of its own.
func ParseList(name, text string, dim Dimension) (List, error) {
	return parseArgs(name, text, func(a *Args) List { return a.List(dim) })
}

// ParseRatio reads a ratio from a text of its own.
func ParseRatio(name, text string) (Ratio, error) {
	return parseArgs(name, text, (*Args).Ratio)
}

// ParseArgs reads values from a text of its own into what decodes them.
func ParseArgs(name, text string, to ArgsDecoder) error {
	_, err := parseArgs(name, text, func(a *Args) struct{} { to.DecodeArgs(a); return struct{}{} })
	return err
}

// parseArgs reads the values of a flag as if its name were a keyword before them.
func parseArgs[T any](name, text string, read func(*Args) T) (T, error) {
	var zero T
	src, ds := NewSource(name, []byte(text))
	if ds.HasErrors() {
		return zero, ds
	}
	values, found := parseValues(src)
	if found.HasErrors() {
		return zero, found
	}
	args := &Args{statement: &Statement{Keyword: Word{Value: name, Span: Span{Source: src}}, Values: values}, found: &found}
	got := read(args)
	if !args.failed && args.More() {
		args.Report(Diagnostic{
			Severity: Error, Code: ExtraValue, Span: args.Rest(),
			Summary: fmt.Sprintf("%q takes one value", name), Detail: "Put the whole value between quotes in the shell.",
		})
	}
	if found.HasErrors() {
		return zero, found
	}
	return got, nil
}
