package expression

import (
	"slices"
	"testing"

	"glassbrief/lang"

	"github.com/expr-lang/expr/ast"
)

// outcomes are the codes with which Check may refuse a text.
var outcomes = []lang.Code{
	lang.BadExpression, lang.BadInterval, lang.BadNumber, lang.ExpressionTooLong, lang.InvalidCharacter,
	lang.MissingUnit, lang.MissingValue, lang.NotAllowed, lang.OutOfRange, lang.TooDeep,
	lang.UnknownName, lang.UnknownUnit, lang.WrongDimension, lang.WrongResult,
}

func FuzzCheck(f *testing.F) {
	for _, seed := range []string{
		"near_limit < 2m and not (far_limit > 5ft 10in)",
		"rising(held_focus, 40%, 100%)",
		"or_else(near_limit, 3m) / 1/50s",
		"known(focus_fixed) ? EV7 : f/2.8",
		"1m < near_limit <= 2m",
		"sharp from {near_limit} to {far_limit * 2}",
		"µ ≤ 2 ?: a..b | $env[\"x\"] // note",
		"(((1 1/3 stops",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		source, ds := lang.NewSource("fuzz.rules", []byte(text))
		if ds.HasErrors() {
			return
		}
		span := lang.Span{Source: source, End: len(source.Text)}
		names := testNames()
		for _, want := range []Want{WantTruth, WantScore, WantNumber} {
			checked, ds := Check(span, names, want)
			if (checked == nil) != ds.HasErrors() {
				t.Fatalf("Check(%q) gave %v and %v", text, checked, ds)
			}
			inspect(t, source, ds)
			if checked != nil {
				ast.Walk(&checked.Node, visitor(func(node ast.Node) { allowed(t, node) }))
			}
		}
		_, ds = CheckTemplate(span, names)
		inspect(t, source, ds)
	})
}

func inspect(t *testing.T, source *lang.Source, ds lang.Diagnostics) {
	for _, d := range ds {
		if d.Span.Source != source || d.Span.Start < 0 || d.Span.Start > d.Span.End || d.Span.End > len(source.Text) {
			t.Errorf("%q: the place %d to %d is not in the text", d.Summary, d.Span.Start, d.Span.End)
		}
		if !slices.Contains(outcomes, d.Code) {
			t.Errorf("unexpected outcome %q: %s", d.Code, d.Summary)
		}
	}
}

func allowed(t *testing.T, node ast.Node) {
	switch node.(type) {
	case *ast.FloatNode, *ast.BoolNode, *ast.IdentifierNode, *ast.UnaryNode, *ast.BinaryNode, *ast.ConditionalNode, *ast.CallNode:
	default:
		t.Errorf("%s is of a kind that rules may not use", node)
	}
}
