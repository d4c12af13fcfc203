package rules

import (
	"math"

	"github.com/expr-lang/expr/ast"

	"glassbrief/engine/facts"
	"glassbrief/lang/expression"
)

// call gives the row of a function; the checker knows its name and that the number of
// arguments fits.
func call(n *ast.CallNode) *expression.Function {
	return expression.FindFunction(n.Callee.(*ast.IdentifierNode).Value)
}

func (b *builder) operands(nodes []ast.Node) []operand {
	operands := make([]operand, len(nodes))
	for i, node := range nodes {
		operands[i] = b.number(node)
	}
	return operands
}

func (b *builder) truthCall(n *ast.CallNode) Truth {
	switch row := call(n); row.Name {
	case expression.KnownName:
		// A record holds NaN for what is unknown, and for nothing else.
		id := b.id(n.Arguments[0].(*ast.IdentifierNode).Value)
		return func(r *facts.Record) bool { return !math.IsNaN(r.Value[id&at]) }
	case expression.OrElseName:
		id := b.id(n.Arguments[0].(*ast.IdentifierNode).Value)
		fallback := b.truth(n.Arguments[1])
		return func(r *facts.Record) bool {
			if value := r.Value[id&at]; !math.IsNaN(value) {
				return value == 1
			}
			return fallback(r)
		}
	default:
		between := row.Go.(func(x, low, high float64) bool)
		a := b.operands(n.Arguments)
		if low, high := a[1].value, a[2].value; a[0].is(fact) && areConstant(a[1:]...) {
			id := a[0].fact
			return func(r *facts.Record) bool { return between(r.Value[id&at], low, high) }
		}
		x, low, high := a[0].load(), a[1].load(), a[2].load()
		return func(r *facts.Record) bool { return between(x(r), low(r), high(r)) }
	}
}

func (b *builder) numberCall(n *ast.CallNode) operand {
	row := call(n)
	if row.Name == expression.OrElseName {
		return b.orElse(n)
	}
	a := b.operands(n.Arguments)
	if areConstant(a[1:]...) {
		switch row.Name {
		case "rising":
			return rising(a[0], a[1].value, a[2].value)
		case "falling":
			return falling(a[0], a[1].value, a[2].value)
		}
	}
	switch row.Name {
	case expression.MinName:
		return fold(a, least)
	case expression.MaxName:
		return fold(a, greatest)
	}
	switch f := row.Go.(type) {
	case func(float64) float64:
		x := a[0].load()
		return just(func(r *facts.Record) float64 { return f(x(r)) })
	case func(a, b float64) float64:
		x, y := a[0].load(), a[1].load()
		return just(func(r *facts.Record) float64 { return f(x(r), y(r)) })
	case func(a, b, c float64) float64:
		return just(three(f, a))
	case func(a, b, c, d float64) float64:
		return just(four(f, a))
	}
	return b.leave()
}

func (b *builder) orElse(n *ast.CallNode) operand {
	id := b.id(n.Arguments[0].(*ast.IdentifierNode).Value)
	fallback := b.number(n.Arguments[1]).load()
	return just(func(r *facts.Record) float64 {
		if value := r.Value[id&at]; !math.IsNaN(value) {
			return value
		}
		return fallback(r)
	})
}

// rising is [expression.Rising] between constant bounds. Bounds that are not in order,
// or not finite, go to the function itself.
func rising(x operand, from, to float64) operand {
	way := to - from
	if !(way > 0) || math.IsInf(way, 0) {
		f := x.load()
		return just(func(r *facts.Record) float64 { return expression.Rising(f(r), from, to) })
	}
	if x.is(fact) {
		id := x.fact
		return just(func(r *facts.Record) float64 {
			x := r.Value[id&at]
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
		x := f(r)
		if x >= to {
			return 1
		}
		if x <= from {
			return 0
		}
		return (x - from) / way
	})
}

// falling is [expression.Falling] between constant bounds, as rising is.
func falling(x operand, from, to float64) operand {
	way := to - from
	if !(way > 0) || math.IsInf(way, 0) {
		f := x.load()
		return just(func(r *facts.Record) float64 { return expression.Falling(f(r), from, to) })
	}
	if x.is(fact) {
		id := x.fact
		return just(func(r *facts.Record) float64 {
			x := r.Value[id&at]
			if x <= from {
				return 1
			}
			if x >= to {
				return 0
			}
			return (to - x) / way
		})
	}
	f := x.load()
	return just(func(r *facts.Record) float64 {
		x := f(r)
		if x <= from {
			return 1
		}
		if x >= to {
			return 0
		}
		return (to - x) / way
	})
}

// three applies a function of a value and two more, which are mostly constant.
func three(f func(a, b, c float64) float64, a []operand) Number {
	x, b, c := a[0].load(), a[1].value, a[2].value
	if areConstant(a[1:]...) {
		return func(r *facts.Record) float64 { return f(x(r), b, c) }
	}
	y, z := a[1].load(), a[2].load()
	return func(r *facts.Record) float64 { return f(x(r), y(r), z(r)) }
}

// four applies a function of a value and three more, which are mostly constant.
func four(f func(a, b, c, d float64) float64, a []operand) Number {
	x, b, c, d := a[0].load(), a[1].value, a[2].value, a[3].value
	if areConstant(a[1:]...) {
		return func(r *facts.Record) float64 { return f(x(r), b, c, d) }
	}
	y, z, w := a[1].load(), a[2].load(), a[3].load()
	return func(r *facts.Record) float64 { return f(x(r), y(r), z(r), w(r)) }
}

// fold joins two or more operands from the left.
func fold(a []operand, join func(a, b operand) operand) operand {
	all := a[0]
	for _, next := range a[1:] {
		all = join(all, next)
	}
	return all
}

func least(a, b operand) operand {
	f, g, k := a.load(), b.load(), b.value
	if b.is(constant) {
		return just(func(r *facts.Record) float64 { return min(f(r), k) })
	}
	return just(func(r *facts.Record) float64 { return min(f(r), g(r)) })
}

func greatest(a, b operand) operand {
	f, g, k := a.load(), b.load(), b.value
	if b.is(constant) {
		return just(func(r *facts.Record) float64 { return max(f(r), k) })
	}
	return just(func(r *facts.Record) float64 { return max(f(r), g(r)) })
}
