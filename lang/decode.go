package lang

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
)

// Decode fills the struct that target points to from a file, as encoding/json does from
// JSON. Each tagged field says which statement fills it; its Go type says what values
// that statement takes.
//
//	Scene  lang.Text     `lang:"scene,required"`
//	Light  lang.Quantity `lang:"light,dim=illuminance"`
//	Lenses []Lens        `lang:"lens"`
//
// The tag is the keyword and options:
//
//	required       the statement must be given
//	dim=NAME       the dimension of a Quantity, Interval, Size or List (see dimensions)
//	words=a|b      the words that a Word field takes
//	noun=a|b       words that may follow a Quantity, as in "carry 2 lenses"
//	rough          "about" may stand before a Quantity or Interval
//	usual=A..B     outside of it a quantity is a warning (see [NewPlausible])
//	possible=A..B  outside of it a quantity is an error
//	own            a type with DecodeArgs checks its quantities itself, or takes none
//	label          (no keyword) the next value of the statement's own line
//	optional       a label that may be left out; only at the end of the labels
//	span           (no keyword) a Span field that receives the place of the keyword
//
// The field types are:
//
//	Text, Word, Quantity, Interval, Size, Ratio  one value
//	List                                         quantities, with commas or "or" between
//	Flag                                         no value: the keyword alone
//	Expression                                   the rest of the line
//	a struct                                     labels on the line, statements in a block
//	a type with DecodeArgs                       values that it reads itself
//	a slice of any of these                      the statement may be repeated; of Text,
//	                                             Word or Quantity, one line may list
//	                                             several, with nothing, a comma or "or" between
//
// All faults of the file are reported in one run: unknown keywords with the likeliest
// one meant, repeats, missing fields, values of the wrong kind or dimension. A field
// whose statement is faulty keeps its zero value, which is never a valid quantity. A
// target that is not a pointer to a struct, or a tag that makes no sense, is a mistake in
// the program and panics.
func Decode(file *File, target any) Diagnostics {
	v := reflect.ValueOf(target)
	if v.Kind() != reflect.Pointer || v.Elem().Kind() != reflect.Struct {
		panic(fmt.Sprintf("lang.Decode: target must be a pointer to a struct, and is %T", target))
	}
	if file.refused {
		return nil
	}
	d := &decoder{}
	p := planOf(v.Elem().Type())
	if wrong := wrongKind(file, p); wrong != nil {
		return Diagnostics{*wrong}
	}
	d.statements(v.Elem(), p, file.Statements, Span{Source: file.Source}, func() string { return "this file" })
	return d.found
}

// An ArgsDecoder reads the values of its statement itself, with [Args], which it may not keep.
type ArgsDecoder interface {
	DecodeArgs(args *Args)
}

// Interval is "a..b" of one dimension; an end that is left out is unknown. A single
// quantity reads as an interval from itself to itself.
type Interval struct {
	Low, High Quantity
	Span      Span
}

// Known reports whether the interval was given.
func (i Interval) Known() bool { return i.Low.Known() || i.High.Known() }

// Size is "a x b", or "a x b x c", of one dimension.
type Size struct {
	Width, Height, Depth Quantity // Depth is unknown when two numbers are given
	Span                 Span
}

// Known reports whether the size was given.
func (s Size) Known() bool { return s.Width.Known() }

// List is one or several quantities of one dimension, as "2, 4, 6 stops" or "800 or 4000".
// Its zero value is unknown.
type List struct {
	Items []Quantity
	Span  Span
}

// Known reports whether the list was given.
func (l List) Known() bool { return len(l.Items) > 0 }

// Values gives the values in SI units, in the order in which they are written.
func (l List) Values() []float64 {
	values := make([]float64, len(l.Items))
	for i, q := range l.Items {
		values[i] = q.Value
	}
	return values
}

// Ratio is "a:b", or a plain number, held as a divided by b. Its zero value is unknown.
type Ratio struct {
	Value float64
	Span  Span
}

// Known reports whether the ratio was given.
func (r Ratio) Known() bool { return r.Value != 0 }

// A Flag is set when its keyword is given; it takes no value.
type Flag struct {
	Set  bool
	Span Span
}

// A field is one tagged struct field.
type field struct {
	index     int
	keyword   string
	label     bool
	optional  bool
	required  bool
	dim       Dimension
	words     []string
	nouns     []string
	rough     bool
	own       bool
	plausible *Plausible // nil for a field that takes any value
	composite bool       // a struct read from a block
	list      bool       // a slice
	several   bool       // a slice of which one line may give several elements
}

// A plan is what the tags of a struct type say.
type plan struct {
	labels   []field
	fields   []field // in the order of declaration
	keywords []string
	span     int // index of the span field, or -1
}

// find gives the index of the field that a keyword fills, or -1.
func (p *plan) find(keyword string) int {
	return slices.Index(p.keywords, keyword)
}

type decoder struct {
	found Diagnostics
	args  []*Args // by the depth of blocks: the lines of a block use one after another
	depth int
}

var (
	typeSpan    = reflect.TypeFor[Span]()
	typeDecoder = reflect.TypeFor[ArgsDecoder]()
	// single are the types of one value, of which a line may list several.
	single = []reflect.Type{reflect.TypeFor[Text](), reflect.TypeFor[Word](), reflect.TypeFor[Quantity]()}
	leaves = append([]reflect.Type{
		reflect.TypeFor[Interval](), reflect.TypeFor[Size](), reflect.TypeFor[Ratio](), reflect.TypeFor[List](), reflect.TypeFor[Flag](), reflect.TypeFor[Expression](),
	}, single...)
)

// isLeaf reports whether values alone fill a type.
func isLeaf(t reflect.Type) bool {
	return slices.Contains(leaves, t) || reflect.PointerTo(t).Implements(typeDecoder)
}

// readLeaf reads values into the field that target points to. It is false, and reads
// nothing, when the field is not of a type that values alone fill.
func (f *field) readLeaf(target any, args *Args) bool {
	args.plausible = f.plausible
	switch to := target.(type) {
	case ArgsDecoder:
		to.DecodeArgs(args)
	case *Text:
		*to = args.Text()
	case *Word:
		*to = args.Word(f.words...)
	case *Quantity:
		if f.rough {
			*to = args.RoughQuantity(f.dim)
		} else {
			*to = args.Quantity(f.dim)
		}
	case *Interval:
		if f.rough {
			*to = args.roughInterval(f.dim)
		} else {
			*to = args.Interval(f.dim)
		}
	case *Size:
		*to = args.Size(f.dim)
	case *Ratio:
		*to = args.Ratio()
	case *List:
		*to = args.List(f.dim)
	case *Flag:
		*to = Flag{Set: true, Span: args.statement.Keyword.Span}
	case *Expression:
		*to = args.Expression()
	default:
		return false
	}
	return true
}

// plans holds the plans of struct types, by type: tags never change.
var plans sync.Map

func planOf(t reflect.Type) *plan {
	p, ok := plans.Load(t)
	if !ok {
		p, _ = plans.LoadOrStore(t, newPlan(t))
	}
	return p.(*plan)
}

// Ready reads the tags of a struct type and of all types below it, as [Decode] does when it
// meets them: it takes as long as decoding a file.
func Ready(t reflect.Type) { plansBelow(t, map[reflect.Type]*plan{}) }

// plansBelow gathers the plans of a type and of all types below it.
func plansBelow(t reflect.Type, all map[reflect.Type]*plan) {
	p := planOf(t)
	all[t] = p
	for _, f := range slices.Concat(p.labels, p.fields) {
		kind := t.Field(f.index).Type
		if f.list {
			kind = kind.Elem()
		}
		if f.composite && all[kind] == nil {
			plansBelow(kind, all)
		}
	}
}

func newPlan(t reflect.Type) *plan {
	p := &plan{span: -1, fields: make([]field, 0, t.NumField()), keywords: make([]string, 0, t.NumField())}
	for i := range t.NumField() {
		member := t.Field(i)
		tag, ok := member.Tag.Lookup("lang")
		if !ok {
			continue
		}
		f := parseTag(t, i, member.Type, tag)
		switch {
		case member.Type == typeSpan:
			p.span = i
		case f.label:
			p.labels = append(p.labels, f)
		default:
			p.fields = append(p.fields, f)
			p.keywords = append(p.keywords, f.keyword)
		}
	}
	return p
}

func parseTag(t reflect.Type, index int, kind reflect.Type, tag string) field {
	options := strings.Split(tag, ",")
	f := field{index: index, keyword: options[0]}
	leaf := isLeaf(kind)
	if kind.Kind() == reflect.Slice && !leaf {
		f.list, kind = true, kind.Elem()
		f.several, leaf = slices.Contains(single, kind), isLeaf(kind)
	}
	f.composite = kind.Kind() == reflect.Struct && !leaf && kind != typeSpan
	usual, possible := "", ""
	for _, option := range options[1:] {
		name, argument, _ := strings.Cut(option, "=")
		switch name {
		case "label":
			f.label = true
		case "optional":
			f.optional = true
		case "required":
			f.required = true
		case "rough":
			f.rough = true
		case "span":
		case "dim":
			at := slices.IndexFunc(dimensions, func(row dimensionRow) bool { return row.tag == argument })
			if at < 0 || argument == "" {
				panic(fmt.Sprintf("lang.Decode: %s.%s: dimension %q is not known", t, t.Field(index).Name, argument))
			}
			f.dim = dimensions[at].dim
		case "words":
			f.words = strings.Split(argument, "|")
		case "noun":
			f.nouns = strings.Split(argument, "|")
		case "usual":
			usual = argument
		case "possible":
			possible = argument
		case "own":
			f.own = true
		default:
			panic(fmt.Sprintf("lang.Decode: %s.%s: option %q is not known", t, t.Field(index).Name, option))
		}
	}
	if usual != "" || possible != "" {
		f.plausible = NewPlausible(usual, possible)
	}
	return f
}

// statements fills target from statements; owner and where name the block for messages.
func (d *decoder) statements(target reflect.Value, p *plan, list []*Statement, owner Span, where func() string) {
	first := make([]*Statement, len(p.fields))
	for i, statement := range list {
		if d.found.Full() {
			return // nothing more would be kept
		}
		keyword := statement.Keyword.Value
		at := p.find(keyword)
		if at < 0 {
			d.unknown(statement, p, where())
			continue
		}
		f := &p.fields[at]
		if earlier := first[at]; earlier != nil && !f.list {
			twice := Diagnostic{
				Severity: Error, Code: DuplicateField, Span: statement.Keyword.Span,
				Summary: fmt.Sprintf("%q is given twice in %s", keyword, where()),
				Detail:  "Keep one of the two.",
				Related: []Related{{Span: earlier.Keyword.Span, Note: "it is given here first"}},
			}
			if !statement.faulty {
				short := statement.Block == nil && earlier.Block == nil // of a long block the meaning would be written for each repeat
				twice.Fix = Correction{Span: statement.Span.withLine(), Safe: short && statement.Meaning() == earlier.Meaning()}
			}
			d.found.Add(twice)
			continue
		} else if earlier == nil {
			first[at] = statement
			if f.list {
				target.Field(f.index).Grow(countKeyword(list[i:], keyword))
			}
		}
		d.statement(target.Field(f.index), f, statement)
	}
	for at, f := range p.fields {
		if f.required && first[at] == nil {
			d.found.Add(Diagnostic{
				Severity: Error, Code: MissingField, Span: owner,
				Summary: fmt.Sprintf("%s has no %q", where(), f.keyword),
				Detail:  fmt.Sprintf("Add a line that begins with %q%s.", f.keyword, exampleSuffix(f)),
			})
		}
	}
}

func countKeyword(list []*Statement, keyword string) (n int) {
	for _, statement := range list {
		if statement.Keyword.Value == keyword {
			n++
		}
	}
	return n
}

func exampleSuffix(f field) string {
	if f.dim == Plain {
		return ""
	}
	return ", with " + f.dim.String() + " " + f.dim.row().example
}

func (d *decoder) unknown(statement *Statement, p *plan, where string) {
	if statement.faulty {
		return
	}
	keyword := statement.Keyword.Value
	if keyword == EditionKeyword {
		d.found.Add(misplacedEdition(statement))
		return
	}
	d.found.Add(Diagnostic{
		Severity: Error, Code: UnknownKeyword, Span: statement.Keyword.Span,
		Summary: fmt.Sprintf("%q means nothing in %s", keyword, where),
		Detail:  fmt.Sprintf("It takes %s.", Quoted(p.keywords)),
		Instead: Nearest(keyword, p.keywords), Spelling: Surely(keyword, p.keywords) != "",
	})
}

func (d *decoder) statement(target reflect.Value, f *field, statement *Statement) {
	if d.depth == len(d.args) {
		d.args = append(d.args, new(Args))
	}
	args := d.args[d.depth]
	*args = Args{statement: statement, failed: statement.faulty, found: &d.found}
	d.depth++
	defer func() { d.depth-- }()
	if !f.list {
		d.value(target, f, args)
		d.finish(f, args)
		return
	}
	if f.several {
		args.statement = statement.spread()
	}
	for {
		n := target.Len()
		target.Grow(1)
		target.SetLen(n + 1)
		element := target.Index(n)
		element.SetZero()
		d.value(element, f, args)
		if args.failed {
			target.SetLen(n)
		}
		if !f.several || args.failed || !args.More() {
			break
		}
		args.Skip("or")
	}
	d.finish(f, args)
}

// spread gives the statement with each item of its lists as a value of its own.
func (s *Statement) spread() *Statement {
	if !slices.ContainsFunc(s.Values, func(v Value) bool { return v.Form == ListOf }) {
		return s
	}
	apart := *s
	apart.Values = nil
	for _, v := range s.Values {
		if v.Form != ListOf {
			apart.Values = append(apart.Values, v)
			continue
		}
		for _, part := range shareUnit(v.Parts) {
			apart.Values = append(apart.Values, Value{Form: Single, Parts: []Part{part}, Span: part.Span})
		}
	}
	return &apart
}

// finish reports values or a block that are left over.
func (d *decoder) finish(f *field, args *Args) {
	if args.failed {
		return
	}
	args.Skip(f.nouns...)
	if args.More() {
		extra := args.statement.Values[args.next]
		if dashed := args.dashed(); dashed != nil {
			d.found.Add(*dashed)
		} else if !extra.bad() {
			d.found.Add(Diagnostic{
				Severity: Error, Code: ExtraValue, Span: extra.Span,
				Summary: fmt.Sprintf("%q takes nothing more than what stands before %s", args.statement.Keyword.Value, shown(extra.Span)),
				Detail:  "Remove it, or put it on a line of its own with its keyword.",
				Fix:     Correction{Span: args.left()},
			})
		}
	}
	if block := args.statement.Block; block != nil && !f.composite {
		d.found.Add(Diagnostic{
			Severity: Error, Code: ExtraValue, Span: block.Span.Sub(0, 1),
			Summary: fmt.Sprintf("%q takes no block", args.statement.Keyword.Value),
			Detail:  "Remove the braces and what stands between them.",
			Fix:     Correction{Span: block.Span.withBlanks()},
		})
	}
}

// value fills a field from values, or a struct from its labels and block.
func (d *decoder) value(target reflect.Value, f *field, args *Args) {
	switch {
	case f.readLeaf(target.Addr().Interface(), args):
	case target.Kind() == reflect.Struct:
		d.block(target, args)
	default:
		panic(fmt.Sprintf("lang.Decode: a field of type %s cannot be decoded", target.Type()))
	}
}

func (d *decoder) block(target reflect.Value, args *Args) {
	p := planOf(target.Type())
	statement := args.statement
	if p.span >= 0 {
		*target.Field(p.span).Addr().Interface().(*Span) = statement.Keyword.Span
	}
	for i := range p.labels {
		label := &p.labels[i]
		if label.optional && !args.More() {
			break
		}
		d.value(target.Field(label.index), label, args)
	}
	var list []*Statement
	if statement.Block != nil {
		list = statement.Block.Statements
	}
	d.statements(target, p, list, statement.Keyword.Span, statement.where)
}

// Keywords lists the keywords that a struct type takes, with the name of the Go field
// that each fills, in the order of declaration. It serves documentation and completion.
func Keywords(t reflect.Type) (keywords, fields []string) {
	p := planOf(t)
	for _, f := range p.fields {
		keywords = append(keywords, f.keyword)
		fields = append(fields, t.Field(f.index).Name)
	}
	return slices.Clip(keywords), fields
}

func (s *Statement) where() string {
	if len(s.Values) > 0 && s.Values[0].Form == Single {
		return fmt.Sprintf("%s %s", s.Keyword.Value, clip(s.Values[0].Span.Text()))
	}
	return fmt.Sprintf("the %s", s.Keyword.Value)
}
