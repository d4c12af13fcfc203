package rules

import (
	"math"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"

	"github.com/expr-lang/expr/ast"
)

// What a preference that is not met still scores: at least, by how far it is missed, or when
// that cannot be said. A floor above 0 keeps the mean from falling ever faster.
const (
	leastMissed = 0.1
	missed      = 0.5
)

// zeroWide is how far around 0 a side of a comparison counts as being at 0, as a share or of
// the unit of its fact: a ratio with 0 says nothing of how near the other side comes.
const zeroWide = 0.01

// preference makes a score of a condition: 1 when it holds. A comparison that does not hold
// scores how near it comes, see nearness. Of conditions that are joined the one that counts
// is the worst for "and" and the best for "or"; "not" turns a comparison around. What is only
// true or false scores 0.5 when it does not hold. So a hair's change of a fact changes the
// score by a hair, unless the fact is a truth. A side that is NaN leaves it unknown.
func preference(checked *expression.Checked) number {
	return wish{checked}.of(checked.Node, true)
}

// A wish is a condition that is to score.
type wish struct{ *expression.Checked }

// of gives the score of part of the condition, which is to hold or not to.
func (w wish) of(node ast.Node, wanted bool) number {
	switch n := node.(type) {
	case *ast.UnaryNode: // of truths there is "not" alone
		return w.of(n.Node, !wanted)
	case *ast.BinaryNode:
		switch n.Operator {
		case "and", "&&", "or", "||":
			both := n.Operator == "and" || n.Operator == "&&"
			return joined(w.of(n.Left, wanted), w.of(n.Right, wanted), both == wanted)
		case "<", "<=":
			return w.compared(n.Left, n.Right, wanted)
		case ">", ">=":
			return w.compared(n.Right, n.Left, wanted)
		}
	case *ast.CallNode:
		if name, ok := n.Callee.(*ast.IdentifierNode); ok && name.Value == "between" {
			return joined(w.compared(n.Arguments[1], n.Arguments[0], wanted), w.compared(n.Arguments[0], n.Arguments[2], wanted), wanted)
		}
	}
	part := *w.Checked
	part.Node = node
	holds := compileTruth(&part)
	return func(r *facts.Record) float64 {
		if holds(r) == wanted {
			return 1
		}
		return missed
	}
}

// joined scores two conditions of which both are wanted, or one is enough.
func joined(a, b number, both bool) number {
	if both {
		return func(r *facts.Record) float64 { return min(a(r), b(r)) }
	}
	return func(r *facts.Record) float64 { return max(a(r), b(r)) }
}

// compared scores that one side is to be less than another, or not to be.
func (w wish) compared(less, more ast.Node, wanted bool) number {
	if !wanted {
		less, more = more, less
	}
	small := max(w.small(less), w.small(more))
	wantsLess, wantsMore := w.side(less), w.side(more)
	return func(r *facts.Record) float64 { return nearness(wantsLess(r), wantsMore(r), small) }
}

// nearness scores how near a side that should be less comes to one that should be more: by
// what it misses of the greater, for positive ones the lesser divided by the greater, but at
// least 0.1. small is the least that counts as the greater.
func nearness(less, more, small float64) float64 {
	switch lack := less - more; {
	case lack <= 0 || less == more: // the latter of two that are infinite
		return 1
	case math.IsInf(lack, 1):
		return leastMissed
	default:
		return max(leastMissed, 1-lack/max(math.Abs(less), math.Abs(more), small)) // NaN stays
	}
}

// side compiles one side of a comparison.
func (w wish) side(node ast.Node) number {
	return builder{w.Names}.number(node).load()
}

// small gives what counts as nothing in the units of the facts that a side reads, 0 when it
// reads none.
func (w wish) small(node ast.Node) float64 {
	var m mentions
	ast.Walk(&node, &m)
	least := 0.0
	for _, name := range m {
		index, isFact := w.Names.Lookup(name)
		if !isFact {
			continue // a function
		}
		small := zeroWide
		if unit, known := lang.FindUnit(w.Names.Name(index).Unit); known && unit.Dim != lang.Plain {
			small *= unit.Factor
		}
		least = max(least, small)
	}
	return least
}

// mentions gathers the names of an expression.
type mentions []string

// Visit takes the name of a node that is one.
func (m *mentions) Visit(node *ast.Node) {
	if name, ok := (*node).(*ast.IdentifierNode); ok {
		*m = append(*m, name.Value)
	}
}
