package rules

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A Criterion is one aspect that lenses are judged by, as [Set.Criteria] lists it.
type Criterion struct {
	Name    string
	About   string
	Weight  float64    // of the score
	When    *Condition // nil when it always applies
	Vetoes  []Veto
	Limits  []Limit
	Scores  []Score // none or one; of a shot's own brief, one for each preference
	Lacks   []Lack
	Reasons []Text
	Span    lang.Span // where it is defined
	// Replaces is where an earlier file defined the criterion of this name, zero when none
	// did.
	Replaces lang.Span
	// Weighed is where a "weight" statement sets the weight, zero when none does.
	Weighed lang.Span
}

// A Condition is a checked expression that gives a truth.
type Condition struct {
	*expression.Checked
	reads facts.Set
	holds truth
}

// A Veto excludes a lens when its condition holds, or, for a need, when it does not.
type Veto struct {
	Code   string // stable: "light", "light-2"
	Reason *Text  // nil when none is given
	Condition
	need bool
}

// A Lack says what is wanting where its condition holds or, for what a brief prefers, does not.
type Lack struct {
	Reason    *Text // nil for what a brief prefers
	condition func() *Condition
	wish      bool
}

// A Limit is a factor on the whole score: 1 where it does not bite, 0 where the lens is out,
// and a ramp between, so that a hair's change of the brief changes the score by a hair.
type Limit struct {
	Code   string // numbered with the vetoes of its criterion
	Reason *Text  // nil when none is given
	Score
}

// A Score is a checked expression that gives a desirability.
type Score struct {
	*expression.Checked
	reads facts.Set
	value number
}

// A Text is a template that quotes values.
type Text struct{ template func() *template }

type template struct {
	*expression.Template
	values map[*expression.Checked]Score
}

func newCondition(checked *expression.Checked) *Condition {
	return &Condition{Checked: checked, reads: factsOf(checked), holds: compileTruth(checked)}
}

func newScore(checked *expression.Checked) Score {
	return Score{Checked: checked, reads: factsOf(checked), value: compileNumber(checked)}
}

func newTemplate(checked *expression.Template) *template {
	t := &template{Template: checked, values: map[*expression.Checked]Score{}}
	for _, value := range checked.Values() {
		t.values[value] = newScore(value)
	}
	return t
}

// already gives what is made already where it may be made later.
func already[T any](made T) func() T { return func() T { return made } }

// factsOf gives the facts that an expression reads.
func factsOf(checked *expression.Checked) facts.Set {
	var set facts.Set
	for _, index := range checked.Reads {
		set.Add(facts.ID(index))
	}
	return set
}

// applies reports whether the criterion is known to apply.
func (c *Criterion) applies(r *facts.Record) bool {
	return c.When == nil || c.When.known(r) && c.When.holds(r)
}

// known reports whether the condition has an answer.
func (c *Condition) known(r *facts.Record) bool { return !c.reads.Meets(&r.Unknown) }

// raised reports whether the veto excludes a lens. An unknown one does not.
func (v *Veto) raised(r *facts.Record) bool { return v.known(r) && v.holds(r) != v.need }

// lead is what stands before the expression of a veto without a reason.
func (v *Veto) lead() string {
	if v.need {
		return "it needs "
	}
	return ""
}

// at gives the value, NaN when it is unknown.
func (s *Score) at(r *facts.Record) float64 {
	if s.reads.Meets(&r.Unknown) {
		return math.NaN()
	}
	return s.value(r)
}

// desirability gives the value as a score from 0 to 1, NaN when it is unknown.
func (s *Score) desirability(r *facts.Record) float64 {
	if value := s.at(r); !(value > 0 && value < 1) {
		return expression.Clamp(value, 0, 1)
	} else {
		return value
	}
}

// render writes the text with the values of a record.
func (t *Text) render(r *facts.Record, printer lang.Printer) string {
	made := t.template()
	return made.Render(printer, func(checked *expression.Checked) float64 {
		value := made.values[checked]
		return value.at(r)
	})
}

// Slug gives a name as it stands in a code: letters and digits, with "-" between words.
// Criteria whose names differ in nothing else are one.
func Slug(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return strings.Join(words, "-")
}

// codeOf gives the code of what excludes in a criterion, vetoes first and then limits:
// "light", then "light-2".
func codeOf(name string, index int) string {
	if index == 0 {
		return Slug(name)
	}
	return Slug(name) + "-" + strconv.Itoa(index+1)
}
