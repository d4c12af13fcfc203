package rules

import (
	"fmt"
	"math"
	"slices"

	"glassbrief/engine/facts"
	"glassbrief/lang/expression"

	"github.com/expr-lang/expr/ast"
)

// A number computes a number from the facts, in SI units; a truth computes a truth. Neither
// looks at what is known.
type (
	number func(*facts.Record) float64
	truth  func(*facts.Record) bool
)

// compileNumber turns a checked expression that gives a number into a function. Its
// vocabulary must be the one by which records are filled.
func compileNumber(checked *expression.Checked) number {
	return builder{checked.Names}.number(checked.Node).load()
}

// compileTruth turns a checked expression that gives a truth into a function.
func compileTruth(checked *expression.Checked) truth {
	return builder{checked.Names}.truth(checked.Node)
}

// at is the mask that shows the compiler that a fact's place is inside the record.
const at = facts.Capacity - 1

// An operand is a compiled number in the form that lets an operator around it save a
// call: a constant, a bare fact, or anything else.
type operand struct {
	form   form
	value  float64  // of a constant
	fact   facts.ID // of a bare fact
	f      number   // of anything else
	scaled number   // f without its constant factor, when it is a product with one
	factor float64  // that factor
}

type form uint8

const (
	anything form = iota
	constant
	fact
)

func just(f number) operand         { return operand{f: f} }
func constantOf(v float64) operand  { return operand{form: constant, value: v} }
func (o operand) is(form form) bool { return o.form == form }

// load gives the operand as a function.
func (o operand) load() number {
	switch o.form {
	case constant:
		value := o.value
		return func(*facts.Record) float64 { return value }
	case fact:
		id := o.fact
		return func(r *facts.Record) float64 { return r.Value[id&at] }
	}
	return o.f
}

// areConstant reports whether all operands are constants.
func areConstant(os ...operand) bool {
	return !slices.ContainsFunc(os, func(o operand) bool { return !o.is(constant) })
}

// A builder turns a checked tree into closures.
type builder struct{ names *expression.Vocabulary }

// id gives the place of a fact. The name is known: the expression was checked.
func (b builder) id(name ast.Node) facts.ID {
	index, _ := b.names.Lookup(name.(*ast.IdentifierNode).Value)
	return facts.ID(index)
}

// unchecked is the panic over a node that no checked expression holds.
func unchecked(node ast.Node) string {
	return fmt.Sprintf("rules: %s is of a kind that the checker lets pass and the compiler does not know", node)
}

func (b builder) number(node ast.Node) operand {
	switch n := node.(type) {
	case *ast.FloatNode:
		return constantOf(n.Value)
	case *ast.IdentifierNode:
		return operand{form: fact, fact: b.id(n)}
	case *ast.UnaryNode:
		inner := b.number(n.Node)
		if n.Operator == "+" {
			return inner
		}
		if inner.is(constant) {
			return constantOf(-inner.value)
		}
		f := inner.load()
		return just(func(r *facts.Record) float64 { return -f(r) })
	case *ast.BinaryNode:
		return arithmetic(n.Operator, b.number(n.Left), b.number(n.Right))
	case *ast.ConditionalNode:
		return b.choice(n)
	case *ast.CallNode:
		return b.numberCall(n)
	}
	panic(unchecked(node))
}

func (b builder) truth(node ast.Node) truth {
	switch n := node.(type) {
	case *ast.BoolNode:
		value := n.Value
		return func(*facts.Record) bool { return value }
	case *ast.IdentifierNode:
		id := b.id(n)
		return func(r *facts.Record) bool { return r.Value[id&at] == 1 }
	case *ast.UnaryNode:
		inner := b.truth(n.Node)
		return func(r *facts.Record) bool { return !inner(r) }
	case *ast.BinaryNode:
		return b.binaryTruth(n)
	case *ast.ConditionalNode:
		condition, yes, no := b.truth(n.Cond), b.truth(n.Exp1), b.truth(n.Exp2)
		return func(r *facts.Record) bool {
			if condition(r) {
				return yes(r)
			}
			return no(r)
		}
	case *ast.CallNode:
		return b.truthCall(n)
	}
	panic(unchecked(node))
}

func (b builder) binaryTruth(n *ast.BinaryNode) truth {
	switch n.Operator {
	case "<", "<=", ">", ">=":
		return comparison(n.Operator, b.number(n.Left), b.number(n.Right))
	}
	left, right := b.truth(n.Left), b.truth(n.Right)
	switch n.Operator {
	case "and", "&&":
		return func(r *facts.Record) bool { return left(r) && right(r) }
	case "or", "||":
		return func(r *facts.Record) bool { return left(r) || right(r) }
	case "==":
		return func(r *facts.Record) bool { return left(r) == right(r) }
	case "!=":
		return func(r *facts.Record) bool { return left(r) != right(r) }
	}
	panic(unchecked(n))
}

func (b builder) choice(n *ast.ConditionalNode) operand {
	condition, yes, no := b.truth(n.Cond), b.number(n.Exp1), b.number(n.Exp2)
	if h, k := yes.value, no.value; areConstant(yes, no) {
		return just(func(r *facts.Record) float64 {
			if condition(r) {
				return h
			}
			return k
		})
	}
	f, g := yes.load(), no.load()
	return just(func(r *facts.Record) float64 {
		if condition(r) {
			return f(r)
		}
		return g(r)
	})
}

// row gives the row of a function. The call is checked, so there is one and the number of
// arguments fits.
func row(n *ast.CallNode) *expression.Function {
	return expression.FindFunction(n.Callee.(*ast.IdentifierNode).Value)
}

func (b builder) operands(nodes []ast.Node) []operand {
	operands := make([]operand, len(nodes))
	for i, node := range nodes {
		operands[i] = b.number(node)
	}
	return operands
}

func (b builder) truthCall(n *ast.CallNode) truth {
	switch f := row(n); f.Name {
	case expression.KnownName:
		// A record holds NaN for what is unknown, and for nothing else.
		id := b.id(n.Arguments[0])
		return func(r *facts.Record) bool { return !math.IsNaN(r.Value[id&at]) }
	case expression.OrElseName:
		id, fallback := b.id(n.Arguments[0]), b.truth(n.Arguments[1])
		return func(r *facts.Record) bool {
			if value := r.Value[id&at]; !math.IsNaN(value) {
				return value == 1
			}
			return fallback(r)
		}
	default:
		between := f.Go.(func(x, low, high float64) bool)
		a := b.operands(n.Arguments)
		x, low, high := a[0].load(), a[1].load(), a[2].load()
		return func(r *facts.Record) bool { return between(x(r), low(r), high(r)) }
	}
}

func (b builder) numberCall(n *ast.CallNode) operand {
	function := row(n)
	if function.Name == expression.OrElseName {
		id, fallback := b.id(n.Arguments[0]), b.number(n.Arguments[1]).load()
		return just(func(r *facts.Record) float64 {
			if value := r.Value[id&at]; !math.IsNaN(value) {
				return value
			}
			return fallback(r)
		})
	}
	a := b.operands(n.Arguments)
	load := func(i int) number { return a[i].load() }
	switch f := function.Go.(type) {
	case func(float64) float64:
		x := load(0)
		return just(func(r *facts.Record) float64 { return f(x(r)) })
	case func(a, b float64) float64:
		x, y := load(0), load(1)
		return just(func(r *facts.Record) float64 { return f(x(r), y(r)) })
	case func(a, b, c float64) float64:
		if from, to := a[1].value, a[2].value; areConstant(a[1:]...) && to > from && !math.IsInf(to-from, 0) {
			switch function.Name {
			case "rising":
				return ramp(a[0], 1, from, to)
			case "falling":
				return ramp(a[0], -1, -to, -from)
			}
		}
		x, y, z := load(0), load(1), load(2)
		return just(func(r *facts.Record) float64 { return f(x(r), y(r), z(r)) })
	case func(a, b, c, d float64) float64:
		x, y, z, w := load(0), load(1), load(2), load(3)
		return just(func(r *facts.Record) float64 { return f(x(r), y(r), z(r), w(r)) })
	case func(...float64) float64: // min and max, two values at a time
		all := load(0)
		for i := range a[1:] {
			so, next := all, load(1+i)
			if function.Name == expression.MinName {
				all = func(r *facts.Record) float64 { return min(so(r), next(r)) }
			} else {
				all = func(r *facts.Record) float64 { return max(so(r), next(r)) }
			}
		}
		return just(all)
	}
	panic(unchecked(n))
}

// ramp is [expression.Rising] between constant bounds in order, and with the sign -1 for x
// and both bounds [expression.Falling].
func ramp(x operand, sign, from, to float64) operand {
	way := to - from
	if x.is(fact) {
		id := x.fact
		return just(func(r *facts.Record) float64 {
			x := sign * r.Value[id&at]
			if x >= to {
				return 1
			}
			if x <= from {
				return 0
			}
			return (x - from) / way
		})
	}
	f := x.load()
	return just(func(r *facts.Record) float64 {
		x := sign * f(r)
		if x >= to {
			return 1
		}
		if x <= from {
			return 0
		}
		return (x - from) / way
	})
}
