package expression

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"glassbrief/lang"

	"github.com/expr-lang/expr/ast"
)

// A value is what the judge knows of one node.
type value struct {
	kind     Kind
	dim      lang.Dimension
	unit     string    // in which to write it, if that is known
	span     lang.Span // over the whole subtree, but for brackets at its ends
	bad      bool      // already reported: says nothing about what is around it
	bare     bool      // made of numbers without a unit
	constant bool      // number holds the value
	number   float64
	chained  bool // a chained comparison stands in it
}

// zero reports a bare 0, which fits every dimension.
func (v value) zero() bool { return v.bare && v.constant && v.number == 0 }

// A judge walks the tree for kinds and dimensions. It reports each fault once.
type judge struct {
	*reading
	seen    map[ast.Node]value // of what stands in a place that a tree may share with another; nil for none yet
	reads   map[int]bool       // facts that are named, and whether the value is used
	asks    map[int]bool       // facts that known(…) asks about
	faulty  bool               // a name was met whose definition is faulty
	choices []Choice
}

// result judges the whole expression against what its place wants.
func (j *judge) result(node ast.Node, want Want) value {
	v := j.visit(node)
	switch {
	case v.bad:
	case want == WantTruth && v.kind != Truth:
		j.fault(v, lang.WrongResult, fmt.Sprintf("%s is a number, and a truth is wanted here", j.quote(v)),
			"Compare it with something, as in x < 2m.")
	case want != WantTruth && v.kind != Number:
		j.fault(v, lang.WrongResult, fmt.Sprintf("%s is a truth, and a number is wanted here", j.quote(v)),
			"Choose a number by it, as in condition ? 1 : 0.")
	case want == WantScore && v.dim != lang.Plain:
		j.fault(v, lang.WrongDimension, fmt.Sprintf("%s is %s, and a plain number is wanted here", j.quote(v), v.dim),
			"Turn it into a share from 0 to 1, as rising(x, from, to) and falling(x, from, to) do.")
	}
	return v
}

// visit gives the value of a node, judged at the first visit.
func (j *judge) visit(node ast.Node) value {
	if v, seen := j.seen[node]; seen {
		return j.shared(node, v)
	}
	return j.judge(node)
}

// visitFirst visits what may stand in a second place behind this one: the right of a comparison,
// which may be the left of the next, and a condition.
func (j *judge) visitFirst(node ast.Node) value {
	v := j.visit(node)
	if j.seen == nil {
		j.seen = map[ast.Node]value{}
	}
	j.seen[node] = v
	return v
}

// shared judges a node that stands in two places of the tree: the middle of a chained
// comparison. Evaluation visits it twice, so chains nested in the middles of chains would
// double the work with every level.
func (j *judge) shared(node ast.Node, v value) value {
	if v.chained && !v.bad {
		j.fault(v, lang.NotAllowed, fmt.Sprintf("%s is the middle of a comparison and holds one with a middle itself", j.quote(v)),
			"Join two comparisons with and in its place.")
		v.bad = true
	}
	v.chained = true
	j.seen[node] = v
	return v
}

func (j *judge) judge(node ast.Node) value {
	here := j.source(node.Location().From, node.Location().To)
	switch n := node.(type) {
	case *ast.FloatNode:
		return j.literal(n, here)
	case *ast.BoolNode:
		return value{kind: Truth, span: here}
	case *ast.IdentifierNode:
		return j.name(n.Value, here)
	case *ast.UnaryNode:
		return j.unary(n, here)
	case *ast.BinaryNode:
		return j.binary(n)
	case *ast.ConditionalNode:
		return j.conditional(n)
	case *ast.CallNode:
		return j.call(n, here)
	}
	v := value{span: here, bad: true}
	j.fault(v, lang.NotAllowed, fmt.Sprintf("expressions do not use %s", j.quote(v)),
		"Expressions hold facts, quantities, functions and operators.")
	return v
}

func (j *judge) literal(n *ast.FloatNode, here lang.Span) value {
	q := j.literals[n.Location().From]
	v := value{kind: Number, dim: q.Dim, span: here, bad: !q.Known(), bare: q.Unit == "", constant: true, number: n.Value}
	if q.Unit == "%" {
		v.unit = q.Unit
	}
	return v
}

func (j *judge) name(name string, here lang.Span) value {
	index, ok := j.names.Lookup(name)
	if !ok {
		return value{span: here, bad: true}
	}
	j.reads[index] = true
	fact := j.names.Name(index)
	j.faulty = j.faulty || fact.Faulty
	return value{kind: fact.Kind, dim: fact.Dim, unit: fact.Unit, span: here, bad: fact.Faulty}
}

func (j *judge) unary(n *ast.UnaryNode, here lang.Span) value {
	v := j.visit(n.Node)
	want := Number
	if n.Operator == "not" || n.Operator == "!" {
		want = Truth
	}
	ok := j.wants(want, n.Operator, v)
	v.span = here.To(v.span)
	if v.bad = v.bad || !ok; n.Operator == "-" {
		v.number = -v.number
	}
	return v
}

func (j *judge) binary(n *ast.BinaryNode) value {
	left, visit := j.visit(n.Left), j.visit
	switch n.Operator {
	case "<", "<=", ">", ">=":
		visit = j.visitFirst
	}
	right := visit(n.Right)
	v := value{span: left.span.To(right.span), chained: left.chained || right.chained}
	switch n.Operator {
	case "and", "&&", "or", "||":
		v.kind = Truth
		okLeft, okRight := j.wants(Truth, n.Operator, left), j.wants(Truth, n.Operator, right)
		v.bad = !okLeft && !okRight
		return v
	case "==", "!=":
		v.kind = Truth
		j.equality(n.Operator, v, left, right)
		return v
	case "<", "<=", ">", ">=":
		v.kind = Truth
		if j.wants(Number, n.Operator, left, right) {
			j.alike("they cannot be compared", left, right)
		}
		return v
	case "+", "-", "*", "/":
		return j.arithmetic(n.Operator, v, left, right)
	}
	j.fault(v, lang.NotAllowed, fmt.Sprintf("expressions do not use %q", n.Operator), "Use arithmetic, comparisons, and, or and not.")
	v.bad = true
	return v
}

// equality judges == and !=, which compare truths only: two measured numbers are never
// quite equal.
func (j *judge) equality(operator string, v, left, right value) {
	for _, operand := range []value{left, right} {
		if !operand.bad && operand.kind == Number {
			j.fault(v, lang.NotAllowed, fmt.Sprintf("%q compares truths, and %s is a number", operator, j.quote(operand)),
				"Numbers that are measured or reckoned are never quite equal. Write between(x, low, high), or use < and >.")
			return
		}
	}
}

func (j *judge) arithmetic(operator string, v, left, right value) value {
	v.kind = Number
	if !j.wants(Number, operator, left, right) {
		v.bad = true
		return v
	}
	v.bare = left.bare && right.bare
	v.constant = left.constant && right.constant
	switch operator {
	case "+":
		v.dim, v.unit, v.bad = j.alike("they cannot be added", left, right)
		v.number = left.number + right.number
	case "-":
		v.dim, v.unit, v.bad = j.alike("they cannot be subtracted", left, right)
		v.number = left.number - right.number
	case "*":
		v.dim = left.dim.Mul(right.dim)
		v.number = left.number * right.number
		if left.bare {
			v.unit = right.unit
		} else if right.bare {
			v.unit = left.unit
		}
	case "/":
		v.dim = left.dim.Div(right.dim)
		v.number = left.number / right.number
		if right.bare {
			v.unit = left.unit
		}
		if right.constant && right.number == 0 {
			j.fault(right, lang.OutOfRange, fmt.Sprintf("%s divides by zero", j.quote(v)), "Divide by something that is not zero.")
			v.bad = true
		}
	}
	return v
}

func (j *judge) conditional(n *ast.ConditionalNode) value {
	condition, yes, no := j.visitFirst(n.Cond), j.visit(n.Exp1), j.visit(n.Exp2)
	v := value{span: condition.span.To(no.span), chained: condition.chained || yes.chained || no.chained}
	if n.Cond == n.Exp1 {
		j.fault(v, lang.NotAllowed, `expressions do not use "?:"`, "Write a or b, or condition ? value : value.")
		v.bad = true
		return v
	}
	j.choices = append(j.choices, Choice{Condition: n.Cond, Yes: yes.span, No: no.span})
	ok := j.wants(Truth, "?", condition)
	v.kind, v.bad = yes.kind, !ok || yes.bad || no.bad
	switch {
	case v.bad:
	case yes.kind != no.kind:
		j.fault(v, lang.WrongResult, fmt.Sprintf("%s is a %s and %s is a %s: a choice needs two of a kind",
			j.quote(yes), yes.kind, j.quote(no), no.kind), "Make both sides of the colon numbers, or both truths.")
		v.bad = true
	case yes.kind == Number:
		v.dim, v.unit, v.bad = j.alike("a choice needs two of a kind", yes, no)
		v.bare = yes.bare && no.bare
	}
	return v
}

// closing gives the end of the call that starts at a place of the source: behind the
// parenthesis that closes its first one.
func (j *judge) closing(start int) int {
	open := 0
	for i := start; i < j.span.End; i++ {
		switch j.span.Source.Text[i] {
		case '(':
			open++
		case ')':
			if open--; open == 0 {
				return i + 1
			}
		}
	}
	return j.span.End
}

func (j *judge) call(n *ast.CallNode, here lang.Span) value {
	v := value{kind: Number, span: here}
	callee, isName := n.Callee.(*ast.IdentifierNode)
	var f *Function
	if isName {
		f = FindFunction(callee.Value)
	}
	var arguments []value
	for i, argument := range n.Arguments {
		if name, ok := argument.(*ast.IdentifierNode); ok && f != nil && f.Go == nil && i == 0 {
			arguments = append(arguments, j.asked(f, name))
		} else {
			arguments = append(arguments, j.visit(argument))
		}
		v.span = v.span.To(arguments[i].span)
		v.chained = v.chained || arguments[i].chained
	}
	if len(arguments) > 0 {
		v.span.End = j.closing(v.span.Start)
	}
	if f == nil {
		v.bad = true
		return v
	}
	if wanted, given := len(f.parameters), len(arguments); given < wanted || given > wanted && !f.repeats {
		least := ""
		if f.repeats {
			least = "at least "
		}
		j.fault(v, lang.BadExpression, fmt.Sprintf("%q takes %s%d values, not %d", f.Name, least, wanted, given),
			fmt.Sprintf("Write it as %s.", f.Signature()))
		v.bad = true
		return v
	}
	if f.Go == nil {
		return j.form(f, v, n.Arguments[0], arguments)
	}
	v.kind = f.kind()
	if !j.wants(Number, f.Name, arguments...) {
		v.bad = v.kind == Number
		return v
	}
	dim, unit, bad := j.alike("they cannot be used together", arguments...)
	v.dim = f.dim(dim)
	if v.dim == dim {
		v.unit = unit
	}
	v.bad = bad || f.ascending && !j.ascending(f, arguments)
	return v
}

// asked gives the value of a fact that known or or_else asks about, which does not count
// as read.
func (j *judge) asked(f *Function, name *ast.IdentifierNode) value {
	index, known := j.names.Lookup(name.Value)
	wasRead := j.reads[index]
	v := j.visit(name)
	if known {
		j.reads[index] = wasRead
		if f.Name == KnownName {
			j.asks[index] = true
		}
	}
	return v
}

// form judges known(fact) and or_else(fact, fallback).
func (j *judge) form(f *Function, v value, first ast.Node, arguments []value) value {
	if _, isName := first.(*ast.IdentifierNode); !isName {
		j.fault(arguments[0], lang.BadExpression, fmt.Sprintf("%q takes the name of a fact, and %s is none", f.Name, j.quote(arguments[0])),
			fmt.Sprintf("Write it as %s.", f.Signature()))
		v.bad = true
		return v
	}
	if v.kind = f.kind(); f.Name == KnownName {
		return v
	}
	fact, fallback := arguments[0], arguments[1]
	v.kind, v.bad = fact.kind, fact.bad || !j.wants(fact.kind, f.Name, fallback)
	if !v.bad && v.kind == Number {
		v.dim, v.unit, v.bad = j.alike("one cannot stand for the other", fact, fallback)
	}
	return v
}

// ascending reports whether the bounds that are constant stand in order.
func (j *judge) ascending(f *Function, arguments []value) bool {
	for i := 2; i < len(arguments); i++ {
		low, high := arguments[i-1], arguments[i]
		if low.constant && high.constant && low.number > high.number {
			j.fault(value{span: low.span.To(high.span)}, lang.BadInterval,
				fmt.Sprintf("%s is above %s, and %q takes its bounds lowest first", j.quote(low), j.quote(high), f.Name),
				fmt.Sprintf("Write it as %s.", f.Signature()))
			return false
		}
	}
	return true
}

// wants reports whether all values are of one kind and none is bad. It reports each that
// is of the other kind.
func (j *judge) wants(kind Kind, operator string, values ...value) bool {
	ok := true
	for _, v := range values {
		if !v.bad && v.kind != kind {
			detail := "Compare it with something first, as in x < 2m."
			if kind == Number {
				detail = "Choose a number by it, as in condition ? 1 : 0."
			}
			if operator == "not" || operator == "!" {
				detail = "Put the whole comparison in brackets, as in not (x < 2m)."
			}
			j.fault(v, lang.WrongResult, fmt.Sprintf("%s is a %s, and %q takes a %s", j.quote(v), v.kind, operator, kind), detail)
			ok = false
		}
		ok = ok && !v.bad
	}
	return ok
}

// alike judges values that must be of one dimension, and gives that dimension and the
// unit to write it in. It reports each value that differs from the first one with a
// unit.
func (j *judge) alike(otherwise string, values ...value) (dim lang.Dimension, unit string, bad bool) {
	reference := values[0]
	if first := slices.IndexFunc(values, func(v value) bool { return !v.bare }); first >= 0 {
		reference = values[first]
	}
	for _, v := range values {
		switch {
		case v.dim == reference.dim:
			if unit == "" {
				unit = v.unit
			}
			continue
		case v.zero():
			continue
		case v.bare:
			j.missingUnit(v, reference)
		default:
			place := v
			if len(values) == 2 {
				place.span = values[0].span.To(values[1].span)
			}
			j.fault(place, lang.WrongDimension,
				fmt.Sprintf("%s is %s and %s is %s: %s", j.quote(reference), reference.dim, j.quote(v), v.dim, otherwise),
				"Use quantities of one kind.")
		}
		bad = true
	}
	return reference.dim, unit, bad
}

func (j *judge) missingUnit(v, reference value) {
	detail := fmt.Sprintf("It stands beside %s, which is %s.", j.quote(reference), reference.dim)
	if units := lang.UnitNames(reference.dim); len(units) > 0 {
		detail += fmt.Sprintf(" Write it like %s.", lang.Quoted(units[:min(3, len(units))]))
	}
	place := j.balanced(v.span)
	j.reportAt(place, lang.MissingUnit, fmt.Sprintf("%s has no unit", j.quote(v)), detail,
		withUnit(place.Text(), cmp.Or(reference.unit, reference.dim.Unit())))
}

// withUnit writes a bare number with a unit, or gives "" when it cannot.
func withUnit(number, unit string) string {
	switch {
	case !allDigits(number) || unit == "":
		return ""
	case unit == "f/" || unit == "T" || unit == "EV":
		return unit + number
	}
	if u, ok := lang.FindUnit(unit); ok && u.Spaced {
		return number + " " + unit
	}
	return number + unit
}

func (j *judge) fault(v value, code lang.Code, summary, detail string) {
	j.reportAt(j.balanced(v.span), code, summary, detail, "")
}

func (j *judge) quote(v value) string {
	return `"` + short(j.balanced(v.span).Text()) + `"`
}

// balanced widens a span to take in the brackets that belong to it. The tree holds no
// brackets, so a span made from its places may stop short of one.
func (r *reading) balanced(span lang.Span) lang.Span {
	opens, closes := 0, 0 // brackets without their partner inside the span
	for _, c := range span.Text() {
		switch {
		case c == '(':
			opens++
		case c == ')' && opens > 0:
			opens--
		case c == ')':
			closes++
		}
	}
	text := span.Source.Text
	for ; opens > 0; opens-- {
		rest := text[span.End:r.span.End]
		blank := len(rest) - len(strings.TrimLeft(rest, " \t\r\n"))
		if !strings.HasPrefix(rest[blank:], ")") {
			break
		}
		span.End += blank + 1
	}
	for ; closes > 0; closes-- {
		head := strings.TrimRight(text[r.span.Start:span.Start], " \t\r\n")
		if !strings.HasSuffix(head, "(") {
			break
		}
		span.Start = r.span.Start + len(head) - 1
	}
	return span
}
