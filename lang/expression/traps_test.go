package expression

import (
	"strings"
	"testing"
	"time"

	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/checker"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/parser"
)

// These tests pin down what package expr does in the places where this package depends
// on it or works round it, so that an upgrade that changes one of them is noticed.

// everything tells expr about all facts of the tests.
func everything() *conf.Config {
	names := testNames()
	met := map[int]bool{}
	for index := range names.Len() {
		met[index] = true
	}
	return newConfig(names, met)
}

func parsed(t *testing.T, text string) *parser.Tree {
	t.Helper()
	tree, err := parser.ParseWithConfig(text, everything())
	if err != nil {
		t.Fatalf("expr refused %q: %v", text, err)
	}
	return tree
}

func TestTrapBracketsAreNotNodes(t *testing.T) {
	config := conf.CreateNew()
	config.MaxNodes = 10
	if _, err := parser.ParseWithConfig(strings.Repeat("(", 5000)+"1"+strings.Repeat(")", 5000), config); err != nil {
		t.Errorf("expr counts brackets against its limit of nodes now: %v", err)
	}
}

func TestTrapPredicatesOutliveDisabledBuiltins(t *testing.T) {
	if _, isBuiltin := parsed(t, "all([1.0], # > 0.0)").Node.(*ast.BuiltinNode); !isBuiltin {
		t.Error("expr no longer takes all(…) for its own once builtins are disabled")
	}
	_, ds := Check(spanOf(t, "all(near_limit, near_limit > 2m)"), testNames(), WantTruth)
	if got := findings(ds); len(got) != 1 || got[0] != "unknown-name: all" {
		t.Errorf("got %q, want all reported as unknown", got)
	}
}

func TestTrapLocationsAreRunes(t *testing.T) {
	sum := parsed(t, "µ + near_limit").Node.(*ast.BinaryNode)
	if at := sum.Right.Location(); at.From != 4 || at.To != 14 {
		t.Errorf("got runes %d to %d, want 4 to 14", at.From, at.To)
	}
	if at := sum.Location(); at.From != 2 || at.To != 3 {
		t.Errorf("a sum lies at runes %d to %d, want those of its operator, 2 to 3", at.From, at.To)
	}
}

func TestTrapLiteralDivisionByZero(t *testing.T) {
	tree := parsed(t, "1.0 / 0.0")
	if _, err := checker.Check(tree, everything()); err != nil {
		t.Errorf("expr refuses to divide by zero itself now: %v", err)
	}
}

func TestTrapRangesAreLists(t *testing.T) {
	if _, err := checker.Check(parsed(t, "1.5 in 1..3"), everything()); err != nil {
		t.Errorf("expr refuses a number in a range now: %v", err)
	}
	for _, text := range []string{"near_limit in 1m..3m", "count in 1..3"} {
		if _, ds := Check(spanOf(t, text), testNames(), WantTruth); !ds.HasErrors() {
			t.Errorf("Check took %q", text)
		}
	}
}

func TestTrapChainsShareTheirMiddle(t *testing.T) {
	both := parsed(t, "1.0 < near_limit < 2.0").Node.(*ast.BinaryNode)
	if both.Left.(*ast.BinaryNode).Right != both.Right.(*ast.BinaryNode).Left {
		t.Error("a chained comparison no longer shares its middle")
	}
	_, ds := Check(spanOf(t, "1m < near_limit + rig_mass < 2m"), testNames(), WantTruth)
	if got := findings(ds); len(got) != 1 {
		t.Errorf("a fault in the middle of a chain gave %q, want it once", got)
	}
}

func TestTrapHashIsTheCurrentElement(t *testing.T) {
	if _, err := parser.Parse("all([1.0], # > 0.0)"); err != nil {
		t.Errorf("expr no longer reads # as the current element: %v", err)
	}
	_, ds := Check(spanOf(t, "near_limit < 2m # why"), testNames(), WantTruth)
	if got := findings(ds); len(got) == 0 || got[0] != "not-allowed: #" {
		t.Errorf("got %q, want # refused", got)
	}
}

// Without the refusal the checker would visit the innermost node 2^45 times.
func TestTrapNestedChainsDoubleTheWork(t *testing.T) {
	const levels = 45
	for name, text := range map[string]string{
		"middles of chains": strings.Repeat("0m < (1m < ", levels/2) + "near_limit" + strings.Repeat(" < 3m ? 1m : 2m) < 3m", levels/2),
		"short choices":     strings.Repeat("(", levels) + "focus_fixed" + strings.Repeat(" ?: focus_fixed)", levels),
	} {
		t.Run(name, func(t *testing.T) {
			var ds lang.Diagnostics
			took := langtest.Clock(langtest.Processor).Time(func() {
				_, ds = Check(spanOf(t, text), testNames(), WantTruth)
			})
			if !strings.Contains(strings.Join(findings(ds), "\n"), "not-allowed") {
				t.Errorf("got %q, want a construct refused", findings(ds))
			}
			if took > 10*time.Second { // the doubling would take years
				t.Errorf("took %v", took)
			}
		})
	}
}

func TestTrapUnitsAreNotExpr(t *testing.T) {
	for _, text := range []string{"near_limit < 50mm", "near_limit < 50 mm"} {
		if _, err := parser.Parse(text); err == nil {
			t.Errorf("expr reads %q by itself now", text)
		}
	}
}

// The checker must set the type of every node, which the virtual machine relies on.
func TestTrapCheckerSetsTypes(t *testing.T) {
	got, ds := Check(spanOf(t, "rising(near_limit / 2, 1m, 3m) > 50%"), testNames(), WantTruth)
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	ast.Walk(&got.Node, visitor(func(node ast.Node) {
		switch kind := node.Type().Kind().String(); kind {
		case "float64", "bool", "func":
		default:
			t.Errorf("%s has the type %s", node, kind)
		}
	}))
}

type visitor func(ast.Node)

func (v visitor) Visit(node *ast.Node) { v(*node) }
