package rules

import (
	"slices"

	"github.com/expr-lang/expr/ast"

	"glassbrief/engine/facts"
	"glassbrief/lang/expression"
)

// A Number computes a number from the facts, in SI units. It does not ask what is known.
type Number func(*facts.Record) float64

// A Truth computes a truth from the facts. It does not ask what is known.
type Truth func(*facts.Record) bool

// CompileNumber turns a checked expression that gives a number into a function. Its
// vocabulary must be the one by which records are filled.
func CompileNumber(checked *expression.Checked) Number {
	b := builder{names: checked.Names}
	if compiled := b.number(checked.Node); !b.left {
		return compiled.load()
	}
	m := newMachine(checked)
	return func(r *facts.Record) float64 { return m.run(r).(float64) }
}

// CompileTruth turns a checked expression that gives a truth into a function.
func CompileTruth(checked *expression.Checked) Truth {
	b := builder{names: checked.Names}
	if compiled := b.truth(checked.Node); !b.left {
		return compiled
	}
	m := newMachine(checked)
	return func(r *facts.Record) bool { return m.run(r).(bool) }
}

// at is the mask that shows the compiler that a fact's place is inside the record.
const at = facts.Capacity - 1

// An operand is a compiled number in the form that lets an operator around it save a
// call: a constant, a bare fact, or anything else.
type operand struct {
	form   form
	value  float64  // of a constant
	fact   facts.ID // of a bare fact
	f      Number   // of anything else
	scaled Number   // f without its constant factor, when it is a product with one
	factor float64  // that factor
}

type form uint8

const (
	anything form = iota
	constant
	fact
)

func just(f Number) operand         { return operand{f: f} }
func constantOf(v float64) operand  { return operand{form: constant, value: v} }
func (o operand) is(form form) bool { return o.form == form }
func truthOf(value bool) Truth      { return func(*facts.Record) bool { return value } }
func factTruth(id facts.ID) Truth   { return func(r *facts.Record) bool { return r.Value[id&at] == 1 } }

// load gives the operand as a function.
func (o operand) load() Number {
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

// A builder turns a tree into closures. It sets left when it meets a node that the
// closures leave out; what it gives is then of no use.
type builder struct {
	names *expression.Vocabulary
	left  bool
}

// id gives the place of a fact; the checker knows the name.
func (b *builder) id(name string) facts.ID {
	index, _ := b.names.Lookup(name)
	return facts.ID(index)
}

func (b *builder) number(node ast.Node) operand {
	switch n := node.(type) {
	case *ast.FloatNode:
		return constantOf(n.Value)
	case *ast.IdentifierNode:
		return operand{form: fact, fact: b.id(n.Value)}
	case *ast.UnaryNode:
		if n.Operator == "-" {
			return negative(b.number(n.Node))
		}
		return b.number(n.Node)
	case *ast.BinaryNode:
		return arithmetic(n.Operator, b.number(n.Left), b.number(n.Right))
	case *ast.ConditionalNode:
		return b.choice(n)
	case *ast.CallNode:
		return b.numberCall(n)
	}
	return b.leave()
}

func (b *builder) leave() operand {
	b.left = true
	return constantOf(0)
}

func (b *builder) truth(node ast.Node) Truth {
	switch n := node.(type) {
	case *ast.BoolNode:
		return truthOf(n.Value)
	case *ast.IdentifierNode:
		return factTruth(b.id(n.Value))
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
	b.left = true
	return truthOf(false)
}

func (b *builder) binaryTruth(n *ast.BinaryNode) Truth {
	switch n.Operator {
	case "and", "&&":
		left, right := b.truth(n.Left), b.truth(n.Right)
		if name, bare := n.Left.(*ast.IdentifierNode); bare {
			id := b.id(name.Value)
			return func(r *facts.Record) bool { return r.Value[id&at] == 1 && right(r) }
		}
		return func(r *facts.Record) bool { return left(r) && right(r) }
	case "or", "||":
		left, right := b.truth(n.Left), b.truth(n.Right)
		return func(r *facts.Record) bool { return left(r) || right(r) }
	case "<":
		return less(b.number(n.Left), b.number(n.Right))
	case "<=":
		return atMost(b.number(n.Left), b.number(n.Right))
	case ">":
		return less(b.number(n.Right), b.number(n.Left))
	case ">=":
		return atMost(b.number(n.Right), b.number(n.Left))
	}
	// Left out: == and != of truths, which rules hardly ever need.
	b.left = true
	return truthOf(false)
}

func (b *builder) choice(n *ast.ConditionalNode) operand {
	condition, yes, no := b.truth(n.Cond), b.number(n.Exp1), b.number(n.Exp2)
	if name, bare := n.Cond.(*ast.IdentifierNode); bare && areConstant(yes, no) {
		id, a, b := b.id(name.Value), yes.value, no.value
		return just(func(r *facts.Record) float64 {
			if r.Value[id&at] == 1 {
				return a
			}
			return b
		})
	}
	if areConstant(yes, no) {
		a, b := yes.value, no.value
		return just(func(r *facts.Record) float64 {
			if condition(r) {
				return a
			}
			return b
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
