package expression

import (
	"math"
	"reflect"
	"slices"
	"strings"

	"glassbrief/lang"

	"github.com/expr-lang/expr/builtin"
)

// A Function is one row of the table of functions. The checker, the evaluator and the
// documentation read the same row.
type Function struct {
	Name       string
	parameters []string // the last one may be repeated when repeats is set
	repeats    bool
	Meaning    string
	// ascending says that the parameters behind the first are bounds, lowest first.
	ascending bool
	// dim gives the dimension of the result from that of the arguments, which are alike.
	dim func(lang.Dimension) lang.Dimension
	// Go is the implementation, on float64 in SI units; it gives float64 or bool. It is nil
	// for the special forms known and or_else: they ask whether a fact is known, which its
	// value cannot tell.
	Go any
}

// Signature gives the function as a call with its parameters.
func (f *Function) Signature() string {
	text := f.Name + "(" + strings.Join(f.parameters, ", ")
	if f.repeats {
		text += ", …"
	}
	return text + ")"
}

// kind says what the function gives; or_else gives what its fact is.
func (f *Function) kind() Kind {
	if _, isTruth := f.Go.(func(a, b, c float64) bool); isTruth || f.Name == KnownName {
		return Truth
	}
	return Number
}

// forExpr describes the function to package expr: its name, and the types that calls of it may
// have. It has nothing to call, because expr only checks.
func (f *Function) forExpr() *builtin.Function {
	types := []reflect.Type{reflect.TypeOf(f.Go)}
	switch f.Name {
	case KnownName:
		types = []reflect.Type{reflect.TypeFor[func(float64) bool](), reflect.TypeFor[func(bool) bool]()}
	case OrElseName:
		types = []reflect.Type{reflect.TypeFor[func(a, b float64) float64](), reflect.TypeFor[func(a, b bool) bool]()}
	}
	return &builtin.Function{Name: f.Name, Types: types}
}

func toPlain(lang.Dimension) lang.Dimension       { return lang.Plain }
func toStops(lang.Dimension) lang.Dimension       { return lang.Stops }
func unchanged(dim lang.Dimension) lang.Dimension { return dim }

// The names of the special forms, and of the two functions that take any number of
// arguments. An evaluator treats these apart.
const (
	KnownName  = "known"
	OrElseName = "or_else"
	MinName    = "min"
	MaxName    = "max"
)

var functions = []Function{
	{Name: "rising", parameters: []string{"x", "from", "to"}, ascending: true, dim: toPlain, Go: Rising,
		Meaning: "0 up to from, 1 beyond to, a straight line between; a step at to when both are the same"},
	{Name: "falling", parameters: []string{"x", "from", "to"}, ascending: true, dim: toPlain, Go: Falling,
		Meaning: "1 up to from, 0 beyond to, a straight line between; a step at from when both are the same"},
	{Name: "peak", parameters: []string{"x", "low", "target", "high"}, ascending: true, dim: toPlain, Go: Peak,
		Meaning: "1 at target, falling in straight lines to 0 at low and at high"},
	{Name: "between", parameters: []string{"x", "low", "high"}, ascending: true, dim: toPlain, Go: between,
		Meaning: "whether x is at least low and at most high"},
	{Name: MinName, parameters: []string{"a", "b"}, repeats: true, dim: unchanged, Go: least, Meaning: "the least of two or more values"},
	{Name: MaxName, parameters: []string{"a", "b"}, repeats: true, dim: unchanged, Go: greatest, Meaning: "the greatest of two or more values"},
	{Name: "abs", parameters: []string{"x"}, dim: unchanged, Go: math.Abs, Meaning: "the value without its sign"},
	{Name: "clamp", parameters: []string{"x", "low", "high"}, ascending: true, dim: unchanged, Go: Clamp,
		Meaning: "x, but at least low and at most high"},
	{Name: "stops_between", parameters: []string{"a", "b"}, dim: toStops, Go: stopsBetween,
		Meaning: "how many doublings a lies above b: log2(a/b)"},
	{Name: KnownName, parameters: []string{"fact"}, Meaning: "whether a fact is known"},
	{Name: OrElseName, parameters: []string{"fact", "fallback"}, dim: unchanged,
		Meaning: "the fact when it is known, else the fallback"},
}

// Functions gives the table of functions.
func Functions() []Function { return slices.Clone(functions) }

// FindFunction gives the row of a function, or nil.
func FindFunction(name string) *Function {
	for i := range functions {
		if functions[i].Name == name {
			return &functions[i]
		}
	}
	return nil
}

// Rising gives the desirability of a quantity of which more is better: 0 at or below
// from, 1 at or above to, (x-from)/(to-from) between ("Simultaneous optimization
// of several response variables", 1980, the larger-is-better form with exponent 1).
// Bounds that are equal or out of order make a step at to. Infinite arguments give the
// limit: beyond an infinite from every x is all the way up, and halfway between two
// infinite bounds. NaN in any argument gives NaN.
func Rising(x, from, to float64) float64 {
	switch {
	case math.IsNaN(x+from+to) && anyNaN(x, from, to):
		return math.NaN()
	case x >= to:
		return 1
	case x <= from:
		return 0
	}
	return share(x, from, to)
}

// Falling gives the desirability of a quantity of which less is better: 1 at or below
// from, 0 at or above to, (to-x)/(to-from) between. Bounds that are equal or out of
// order make a step at from. Infinite arguments and NaN are treated as in [Rising].
func Falling(x, from, to float64) float64 {
	switch {
	case math.IsNaN(x+from+to) && anyNaN(x, from, to):
		return math.NaN()
	case x <= from:
		return 1
	case x >= to:
		return 0
	}
	return share(-x, -to, -from)
}

// Peak gives the desirability of a quantity that should meet a target: 1 at target,
// falling in straight lines to 0 at low and at high and beyond (the two-sided
// form of the same source, with exponents 1). A bound that equals the target makes a step on
// its side. Infinite arguments and NaN are treated as in [Rising].
func Peak(x, low, target, high float64) float64 {
	switch {
	case anyNaN(x, low, target, high):
		return math.NaN()
	case x == target:
		return 1
	case x < target:
		return Rising(x, low, target)
	}
	return Falling(x, target, high)
}

// share gives how far x lies on the way from one bound to the other, which are in
// order with x strictly between. Where the way is too long for a float64 it is the limit.
func share(x, from, to float64) float64 {
	way := to - from
	switch {
	case !math.IsInf(way, 0):
		return (x - from) / way
	case math.IsInf(from, 0) && math.IsInf(to, 0):
		return 0.5
	case math.IsInf(from, 0):
		return 1
	case math.IsInf(to, 0):
		return 0
	}
	return (x/2 - from/2) / (to/2 - from/2)
}

func anyNaN(values ...float64) bool { return slices.ContainsFunc(values, math.IsNaN) }

// between reports low <= x <= high; false when any of them is NaN.
func between(x, low, high float64) bool { return low <= x && x <= high }

// least gives the least of one or more values, NaN if any is NaN.
func least(values ...float64) float64 { return slices.Min(values) }

// greatest gives the greatest of one or more values, NaN if any is NaN.
func greatest(values ...float64) float64 { return slices.Max(values) }

// Clamp gives x, but at least low and at most high, NaN if any is NaN. Bounds out of
// order give high.
func Clamp(x, low, high float64) float64 { return min(max(x, low), high) }

// stopsBetween gives log2(a/b): how many stops a lies above b. Both must be above zero;
// otherwise the result is infinite or NaN.
func stopsBetween(a, b float64) float64 { return math.Log2(a / b) }
