package rules

import (
	"fmt"
	"reflect"

	"glassbrief/engine/facts"
	"glassbrief/lang/expression"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/checker"
	"github.com/expr-lang/expr/compiler"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/vm"
)

// A machine runs an expression on expr's virtual machine: the oracle for the closures.
type machine struct {
	program *vm.Program
}

// environment is what the virtual machine sees: facts are elements of Value.
type environment struct {
	Value []float64
}

// newMachine compiles a checked expression. What is checked compiles; a failure is a gap
// in package expression, and panics.
func newMachine(checked *expression.Checked) *machine {
	config := conf.New(environment{})
	for _, f := range expression.Functions() {
		if f.Go != nil {
			config.Functions[f.Name] = forExpr(&f)
		}
	}
	l := lowering{names: checked.Names}
	tree := &parser.Tree{Node: l.lower(checked.Node)}
	if _, err := checker.Check(tree, config); err != nil {
		panic(fmt.Sprintf("rules: %q was checked and does not compile: %v", checked.Span.Text(), err))
	}
	program, err := compiler.Compile(tree, config)
	if err != nil {
		panic(fmt.Sprintf("rules: %q was checked and does not compile: %v", checked.Span.Text(), err))
	}
	return &machine{program: program}
}

// forExpr gives a function in the form that package expr calls.
func forExpr(f *expression.Function) *builtin.Function {
	b := &builtin.Function{Name: f.Name, Types: []reflect.Type{reflect.TypeOf(f.Go)}}
	switch call := f.Go.(type) {
	case func(float64) float64:
		b.Func = func(p ...any) (any, error) { return call(p[0].(float64)), nil }
	case func(a, b float64) float64:
		b.Func = func(p ...any) (any, error) { return call(p[0].(float64), p[1].(float64)), nil }
	case func(a, b, c float64) float64:
		b.Func = func(p ...any) (any, error) { return call(p[0].(float64), p[1].(float64), p[2].(float64)), nil }
	case func(a, b, c, d float64) float64:
		b.Func = func(p ...any) (any, error) {
			return call(p[0].(float64), p[1].(float64), p[2].(float64), p[3].(float64)), nil
		}
	case func(a, b, c float64) bool:
		b.Func = func(p ...any) (any, error) { return call(p[0].(float64), p[1].(float64), p[2].(float64)), nil }
	case func(...float64) float64:
		b.Func = func(p ...any) (any, error) {
			values := make([]float64, len(p))
			for i := range p {
				values[i] = p[i].(float64)
			}
			return call(values...), nil
		}
	}
	return b
}

// run gives a float64 or a bool.
func (m *machine) run(r *facts.Record) any {
	value, err := vm.Run(m.program, environment{Value: r.Value[:]})
	if err != nil {
		panic(fmt.Sprintf("rules: an expression that was checked failed: %v", err))
	}
	return value
}

// A lowering writes a checked tree anew in terms of the environment. expr's own
// optimiser stays out of it: it would visit shared nodes twice, and fold constants to -0,
// which expr cannot tell from 0 in its table of constants.
type lowering struct {
	names *expression.Vocabulary
}

func (l *lowering) lower(node ast.Node) ast.Node {
	switch n := node.(type) {
	case *ast.FloatNode:
		return &ast.FloatNode{Value: n.Value}
	case *ast.BoolNode:
		return &ast.BoolNode{Value: n.Value}
	case *ast.IdentifierNode:
		return l.fact(n)
	case *ast.UnaryNode:
		return &ast.UnaryNode{Operator: n.Operator, Node: l.lower(n.Node)}
	case *ast.BinaryNode:
		return &ast.BinaryNode{Operator: n.Operator, Left: l.lower(n.Left), Right: l.lower(n.Right)}
	case *ast.ConditionalNode:
		return &ast.ConditionalNode{Cond: l.lower(n.Cond), Exp1: l.lower(n.Exp1), Exp2: l.lower(n.Exp2)}
	case *ast.CallNode:
		return l.call(n)
	}
	panic(fmt.Sprintf("rules: a node of a kind that no expression holds: %s", node))
}

func (l *lowering) call(n *ast.CallNode) ast.Node {
	switch row(n).Name {
	case expression.KnownName:
		return l.known(n.Arguments[0])
	case expression.OrElseName:
		fact := n.Arguments[0]
		return &ast.ConditionalNode{Cond: l.known(fact), Exp1: l.lower(fact), Exp2: l.lower(n.Arguments[1])}
	}
	lowered := &ast.CallNode{Callee: n.Callee}
	for _, argument := range n.Arguments {
		lowered.Arguments = append(lowered.Arguments, l.lower(argument))
	}
	return lowered
}

// fact gives Value[id], and for a truth Value[id] == 1.
func (l *lowering) fact(n ast.Node) ast.Node {
	index, _ := l.names.Lookup(n.(*ast.IdentifierNode).Value)
	if l.names.Name(index).Kind == expression.Truth {
		return &ast.BinaryNode{Operator: "==", Left: element(index), Right: &ast.FloatNode{Value: 1}}
	}
	return element(index)
}

// known gives Value[id] == Value[id], which is false for NaN alone: a record holds NaN
// for what is unknown, and for nothing else.
func (l *lowering) known(n ast.Node) ast.Node {
	index, _ := l.names.Lookup(n.(*ast.IdentifierNode).Value)
	return &ast.BinaryNode{Operator: "==", Left: element(index), Right: element(index)}
}

func element(index int) ast.Node {
	return &ast.MemberNode{Node: &ast.IdentifierNode{Value: "Value"}, Property: &ast.IntegerNode{Value: index}}
}
