package rules

import (
	"reflect"

	"glassbrief/lang"
)

// document is what a .rules file says, as the decoder finds it. Each field's comment is
// its entry in the language reference.
type document struct {
	// A fact of your own, "fact name = expression", for all expressions of the file and
	// for the facts behind it. The text after "because" says what it means.
	Facts []factLine `lang:"fact,own"`
	// One aspect that lenses are judged by.
	Criteria []criterionBlock `lang:"criterion"`
	// How much the score of a criterion counts, as "weight "light" 4". The criterion is a standard
	// one, or one of an earlier file, and all else of it stays. A weight is above zero: the vetoes
	// and limits of a criterion hold whatever it weighs.
	Weights []weightLine `lang:"weight,usual=0.01..100,possible=0.0001..1000"`
	// An example of what the criteria say, which "rules test" holds them to.
	Cases []caseBlock `lang:"case"`
}

// factLine is one "fact" statement.
type factLine struct {
	Name       lang.Word
	Expression lang.Expression
}

// DecodeArgs reads "name = expression".
func (f *factLine) DecodeArgs(args *lang.Args) {
	f.Name = args.Word()
	f.Expression = args.Expression()
}

// weightLine is one "weight" statement.
type weightLine struct {
	Of     lang.Text
	Weight lang.Quantity
}

// DecodeArgs reads the name of a criterion and its weight.
func (w *weightLine) DecodeArgs(args *lang.Args) {
	w.Of = args.Text()
	w.Weight = args.Quantity(lang.Plain)
}

// criterionBlock is one criterion.
type criterionBlock struct {
	// What the criterion is called.
	Name lang.Text `lang:",label"`
	// What it judges, as a sentence.
	About lang.Text `lang:"about"`
	// How much its score counts; 1 unless given.
	Weight lang.Quantity `lang:"weight,dim=plain,usual=0.01..100,possible=0.0001..1000"`
	// When it applies; always unless given.
	When lang.Expression `lang:"when"`
	// What excludes a lens; the text after "because" is the reason and may quote facts
	// in braces.
	Vetoes []lang.Expression `lang:"veto"`
	// A factor from 0 to 1 on the whole score, which no other criterion can make up for: 1
	// where it does not bite, 0 where the lens is out, with the text after "because" as the
	// reason. Write a ramp, as "limit falling(over, 1/3 stops, 1 stop)".
	Limits []lang.Expression `lang:"limit"`
	// How good a lens is, from 0 to 1; values beyond count as 0 and 1.
	Score lang.Expression `lang:"score"`
	// What a lens wants that is not as good as it can be, as "lack condition because "text"",
	// with facts quoted in braces: the first whose condition holds is said.
	Lacks []lang.Expression `lang:"lack"`
	// What to say about the score; facts in braces are quoted with their values.
	Reasons []lang.Text `lang:"reason"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// Shape says how statements may stand in a file of rules.
func Shape() lang.Shape {
	shape := lang.ShapeOf(reflect.TypeFor[document]())
	shape.Name("fact", "weight")
	shape["case"].Inner.Name("given")
	return shape
}
