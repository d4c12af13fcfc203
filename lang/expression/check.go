package expression

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"glassbrief/lang"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/checker"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/types"
)

// Want says what an expression must give.
type Want uint8

const (
	WantTruth  Want = iota + 1 // a condition
	WantScore                  // a number without a dimension
	WantNumber                 // a number of any dimension
)

// A Checked is an expression that is safe to evaluate: it holds only the kinds of node
// that package expression lists, every name is known, and kinds and dimensions agree.
type Checked struct {
	Span  lang.Span
	Node  ast.Node       // literals are floats in SI units
	Names *Vocabulary    // of the names in Node
	Kind  Kind           // what it gives
	Dim   lang.Dimension // of a number
	Unit  string         // in which to write a number; "" for a plain number
	// Reads holds the indexes of the facts without which the expression has no value, in
	// ascending order: all facts that it names, except those that it asks known(…) about
	// and those that it names as the first value of or_else(…) only.
	Reads []int
	// Mentions holds the indexes of all facts that it names, in ascending order.
	Mentions []int
	// Choices are the uses of "condition ? value : value", inner ones before outer ones.
	Choices []Choice
}

// A Choice is one "condition ? value : value" of an expression.
type Choice struct {
	Condition ast.Node
	Yes, No   lang.Span // of the two values
}

// Check reads and checks the expression at span. It reports all faults together, but none
// that only follows from another. With errors the expression is nil. It is nil without an
// error when it names a [Name] that is Faulty, which was reported already.
func Check(span lang.Span, names *Vocabulary, want Want) (*Checked, lang.Diagnostics) {
	if index, ok := names.Lookup(span.Text()); ok && fits(names.Name(index), want) {
		return bare(span, names, index), nil
	}
	r := read(span, names)
	defer r.release()
	if r.broken {
		return nil, r.ds
	}
	tree := r.parse()
	if tree == nil {
		return nil, r.ds.Sorted()
	}
	j := &judge{reading: r, reads: map[int]bool{}, asks: map[int]bool{}}
	result := j.result(tree.Node, want)
	if len(r.ds) > 0 || j.faulty {
		return nil, r.ds.Sorted()
	}
	if _, err := checker.Check(tree, newConfig(names, j.reads)); err != nil {
		r.refuse(0, len(span.Text()), lang.BadExpression,
			fmt.Sprintf("%q cannot be used as an expression", short(span.Text())), "Write it in another way, in smaller parts.")
		return nil, r.ds
	}
	checked := &Checked{Span: span, Node: tree.Node, Names: names, Kind: result.kind, Dim: result.dim, Unit: result.unit, Choices: j.choices}
	if checked.Unit == "" {
		checked.Unit = result.dim.Unit()
	}
	checked.Mentions = slices.Sorted(maps.Keys(j.reads))
	for _, index := range checked.Mentions {
		if j.reads[index] && !j.asks[index] {
			checked.Reads = append(checked.Reads, index)
		}
	}
	return checked, nil
}

// fits reports whether a fact alone is what a place wants.
func fits(fact Name, want Want) bool {
	switch want {
	case WantTruth:
		return fact.Kind == Truth && !fact.Faulty
	case WantScore:
		return fact.Kind == Number && !fact.Faulty && fact.Dim == lang.Plain
	}
	return fact.Kind == Number && !fact.Faulty
}

// bare gives the expression that is one fact, as most in templates are: reading and checking it
// as any other takes a hundred times as long.
func bare(span lang.Span, names *Vocabulary, index int) *Checked {
	fact := names.Name(index)
	c := &Checked{
		Span: span, Node: &ast.IdentifierNode{Value: fact.Name}, Names: names, Kind: fact.Kind, Dim: fact.Dim, Unit: fact.Unit,
		Reads: []int{index}, Mentions: []int{index},
	}
	if c.Unit == "" {
		c.Unit = c.Dim.Unit()
	}
	return c
}

// parse gives the tree, or nil after reporting why there is none.
func (r *reading) parse() *parser.Tree {
	tree, err := parser.ParseWithConfig(r.out.String(), newConfig(r.names, nil))
	if err == nil {
		return tree
	}
	var fault *file.Error
	if !errors.As(err, &fault) {
		fault = &file.Error{}
	}
	const detail = "Between two values stands an operator, as < or and; between the values of a function stands a comma."
	place := r.source(fault.From, fault.To)
	text := strings.TrimSpace(place.Text())
	if text == "" || strings.HasSuffix(fault.Message, "token EOF") {
		end := r.source(len(r.places), len(r.places))
		r.refuse(end.Start-r.span.Start, 0, lang.BadExpression, "the expression stops before it is complete", detail)
		return nil
	}
	r.refuse(place.Start-r.span.Start, len(place.Text()), lang.BadExpression, fmt.Sprintf("%q is not expected here", short(text)), detail)
	return nil
}

// ourFunctions is what expr is told about functions: ours, and none of its own. It is
// shared, and only read.
var ourFunctions = sync.OnceValue(func() *conf.Config {
	c := &conf.Config{Functions: conf.FunctionsTable{}, Disabled: map[string]bool{}}
	for _, f := range builtin.Builtins {
		c.Disabled[f.Name] = true
	}
	for i := range functions {
		c.Functions[functions[i].Name] = functions[i].forExpr()
	}
	return c
})

// newConfig tells expr about functions and the facts that were met. It is made
// for each expression because expr keeps a cache in it that goroutines may not share.
func newConfig(names *Vocabulary, met map[int]bool) *conf.Config {
	env := types.Map{}
	for index := range met {
		env[names.names[index].Name] = types.Float64
		if names.names[index].Kind == Truth {
			env[names.names[index].Name] = types.Bool
		}
	}
	config := &conf.Config{Functions: ourFunctions().Functions, Disabled: ourFunctions().Disabled, MaxNodes: conf.DefaultMaxNodes}
	if met != nil { // the parser knows no names
		config.WithEnv(env)
	}
	return config
}
