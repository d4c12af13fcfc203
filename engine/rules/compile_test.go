package rules

import (
	"fmt"
	"math"
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"

	"pgregory.net/rapid"
)

// testNames are facts enough to write expressions of every shape: lengths a to d, plain
// numbers p to s, and truths.
var testNames = expression.NewVocabulary([]expression.Name{
	{Name: "la", Kind: expression.Number, Dim: lang.Length, Unit: "m"},
	{Name: "lb", Kind: expression.Number, Dim: lang.Length, Unit: "m"},
	{Name: "lc", Kind: expression.Number, Dim: lang.Length, Unit: "mm"},
	{Name: "pa", Kind: expression.Number, Unit: "%"},
	{Name: "pb", Kind: expression.Number},
	{Name: "pc", Kind: expression.Number},
	{Name: "ta", Kind: expression.Truth},
	{Name: "tb", Kind: expression.Truth},
})

func check(text string, names *expression.Vocabulary, want expression.Want) (*expression.Checked, lang.Diagnostics) {
	source, ds := lang.NewSource("test.rules", []byte(text))
	if ds.HasErrors() {
		return nil, ds
	}
	return expression.Check(lang.Span{Source: source, End: len(source.Text)}, names, want)
}

// A writer draws expressions that pass the checker, one dimension at a time.
type writer struct {
	t     *rapid.T
	depth int
}

func (w *writer) pick(label string, n int) int { return rapid.IntRange(0, n-1).Draw(w.t, label) }

// number writes a number whose literals end in unit: "m" for a length, "" for a plain one.
func (w *writer) number(unit string) string {
	names := []string{"la", "lb", "lc"}
	if unit == "" {
		names = []string{"pa", "pb", "pc"}
	}
	if w.depth++; w.depth > 12 {
		w.depth--
		return names[w.pick("fact", 3)]
	}
	defer func() { w.depth-- }()
	literal := func() string { return fmt.Sprintf("%d%s", w.pick("literal", 5), unit) }
	some := func() string { return w.number(unit) }
	switch w.pick("shape", 16) {
	case 0, 1, 2:
		return names[w.pick("fact", 3)]
	case 3, 4:
		return literal()
	case 5:
		return fmt.Sprintf("(%s + %s)", some(), some())
	case 6:
		return fmt.Sprintf("(%s - %s)", some(), some())
	case 7:
		return fmt.Sprintf("(%s * %s)", w.number(""), some())
	case 8:
		return fmt.Sprintf("(%s / %s)", some(), w.number(""))
	case 9:
		return fmt.Sprintf("-%s", some())
	case 10:
		return fmt.Sprintf("(%s ? %s : %s)", w.truth(), some(), some())
	case 11:
		return fmt.Sprintf("%s(%s, %s)", []string{"min", "max"}[w.pick("of", 2)], some(), some())
	case 12:
		return fmt.Sprintf("min(%s, %s, %s)", some(), literal(), some())
	case 13:
		return fmt.Sprintf("or_else(%s, %s)", names[w.pick("fact", 3)], some())
	case 14:
		return fmt.Sprintf("abs(%s)", some())
	}
	if unit != "" {
		return fmt.Sprintf("clamp(%s, 1m, %s)", some(), some())
	}
	x, low, high := w.number("m"), w.bound("0m"), w.bound("2m")
	switch w.pick("share", 4) {
	case 0:
		return fmt.Sprintf("rising(%s, %s, %s)", x, low, high)
	case 1:
		return fmt.Sprintf("falling(%s, %s, %s)", x, low, high)
	case 2:
		return fmt.Sprintf("peak(%s, %s, %s, 2m)", x, low, w.bound("1m"))
	}
	return fmt.Sprintf("(stops_between(%s, %s) / 1 stop)", x, high)
}

// bound writes a constant or something that is none.
func (w *writer) bound(constant string) string {
	if w.pick("constant bound", 3) > 0 {
		return constant
	}
	return w.number("m")
}

func (w *writer) truth() string {
	if w.depth++; w.depth > 12 {
		w.depth--
		return "ta"
	}
	defer func() { w.depth-- }()
	switch w.pick("truth", 14) {
	case 0:
		return "ta"
	case 1:
		return "tb"
	case 2:
		return "true"
	case 3, 4:
		return fmt.Sprintf("%s %s %s", w.number("m"), []string{"<", "<=", ">", ">="}[w.pick("comparison", 4)], w.number("m"))
	case 5:
		return fmt.Sprintf("(%s and %s)", w.truth(), w.truth())
	case 6:
		return fmt.Sprintf("(%s or %s)", w.truth(), w.truth())
	case 7:
		return fmt.Sprintf("not (%s)", w.truth())
	case 8:
		return fmt.Sprintf("between(%s, %s, %s)", w.number("m"), w.bound("0m"), w.bound("2m"))
	case 9:
		return fmt.Sprintf("known(%s)", []string{"la", "pa", "ta"}[w.pick("fact", 3)])
	case 10:
		return fmt.Sprintf("or_else(tb, %s)", w.truth())
	case 11:
		return fmt.Sprintf("(%s ? %s : %s)", w.truth(), w.truth(), w.truth())
	case 12:
		return fmt.Sprintf("((%s) %s (%s))", w.truth(), []string{"==", "!="}[w.pick("equality", 2)], w.truth())
	}
	return fmt.Sprintf("1m < la <= %s", w.number("m"))
}

// record draws a record whose facts may be infinite, negative, zero of either sign, or
// unknown.
func record(t *rapid.T, names *expression.Vocabulary) *facts.Record {
	special := []float64{0, math.Copysign(0, -1), 1, 2, math.Inf(1), math.Inf(-1), math.NaN(), math.MaxFloat64, 5e-324}
	number := rapid.OneOf(rapid.Float64Range(-3, 6), rapid.SampledFrom(special), rapid.Float64())
	var r facts.Record
	for index := range names.Len() {
		id := facts.ID(index)
		switch {
		case names.Name(index).Kind == expression.Number:
			r.Set(id, number.Draw(t, names.Name(index).Name))
		case rapid.IntRange(0, 4).Draw(t, "unknown truth") == 0:
			r.Set(id, math.NaN())
		default:
			r.SetTruth(id, rapid.Bool().Draw(t, names.Name(index).Name))
		}
	}
	return &r
}

// same reports that two numbers have the same bits. All NaN count as one: which NaN an
// addition of two gives is the processor's choice.
func same(a, b float64) bool {
	return math.Float64bits(a) == math.Float64bits(b) || math.IsNaN(a) && math.IsNaN(b)
}

func TestClosuresAgreeWithMachine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := &writer{t: t}
		text, want := w.truth(), expression.WantTruth
		if rapid.Bool().Draw(t, "number") {
			text, want = w.number("m"), expression.WantNumber
		}
		checked, ds := check(text, testNames, want)
		for _, d := range ds {
			switch d.Code {
			case lang.ExpressionTooLong, lang.TooDeep, lang.BadInterval, lang.OutOfRange:
				t.Skip("the draw gave constant bounds out of order, a constant 0 to divide by, or too long a text")
			}
			t.Fatalf("Check(%q): %v", text, d)
		}
		m := newMachine(checked)
		for range 20 {
			r := record(t, testNames)
			if checked.Kind == expression.Truth {
				if got, want := compileTruth(checked)(r), m.run(r).(bool); got != want {
					t.Fatalf("%s: closures give %v, the machine %v", text, got, want)
				}
			} else if got, want := compileNumber(checked)(r), m.run(r).(float64); !same(got, want) {
				t.Fatalf("%s: closures give %v, the machine %v", text, got, want)
			}
		}
	})
}

func TestNaNIsDecided(t *testing.T) {
	tests := []struct {
		text string
		want float64
	}{
		{"(la - la < 1m ? 1 : 0)", 0}, // infinity less infinity, compared
		{"(la - la > 1m ? 1 : 0)", 0},
		{"(not (la - la < 1m) ? 1 : 0)", 1},
		{"(between(la - la, 0m, 1m) ? 1 : 0)", 0},
		{"rising(la - la, 0m, 1m)", math.NaN()},
		{"min(la - la, 1m) / 1m", math.NaN()},
		{"rising(la, 0m, 1m)", 1},
		{"falling(la, 0m, 1m)", 0},
		{"or_else(lb, 2m) / 1m", 2}, // lb is unknown
		{"(known(lb) ? 1 : 0)", 0},
		{"(known(la) ? 1 : 0)", 1},
	}
	var r facts.Record
	r.Set(0, math.Inf(1))
	r.Set(1, math.NaN())
	for _, test := range tests {
		t.Run(test.text, func(t *testing.T) {
			checked, ds := check(test.text, testNames, expression.WantScore)
			if ds.HasErrors() {
				t.Fatal(ds)
			}
			if got := compileNumber(checked)(&r); !same(got, test.want) {
				t.Errorf("closures give %v, want %v", got, test.want)
			}
			if got := newMachine(checked).run(&r).(float64); !same(got, test.want) {
				t.Errorf("the machine gives %v, want %v", got, test.want)
			}
		})
	}
}

// expr keeps constants in a table in which -0 and 0 are one key, so that its optimiser,
// which folds -0, would change results. The machine leaves the optimiser out.
func TestTrapNegativeZero(t *testing.T) {
	checked, ds := check("1 / (pb * -0) + 0 * pb", testNames, expression.WantScore)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	var r facts.Record
	r.Set(4, 1)
	if got := newMachine(checked).run(&r).(float64); !math.IsInf(got, -1) {
		t.Errorf("got %v, want -Inf", got)
	}
}
