package rules

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A Case is an example that a rules file gives of what its criteria say: some facts, all
// others being unknown, and what must come out.
type Case struct {
	Name    string
	Span    lang.Span
	givens  map[facts.ID]float64 // NaN for a fact that is said to be unknown
	expects []expect
}

// caseBlock is a case as the decoder finds it.
type caseBlock struct {
	// What the example shows.
	Name lang.Text `lang:",label"`
	// A fact that is given, by its name and value: a quantity, "true", "false" or
	// "unknown". Facts that are not given are unknown.
	Givens []given `lang:"given,own"`
	// What must come out: "veto "light"" (the criterion, or the code of one veto, excludes
	// the lens), "no veto" or "no veto "light"", "limit "light" 0.3" (what the limits of the
	// criterion leave of the score), "score "light" 0.8..1", "skip "pace"" (the
	// criterion does not apply), "unknown "light"" (part of it cannot be judged).
	Expects []expect `lang:"expect,required,possible=0..1"`
	// The place of the keyword.
	Span lang.Span `lang:",span"`
}

// given is one "given" statement.
type given struct {
	name  lang.Word
	word  lang.Word // true, false or unknown; zero when a quantity is given
	value lang.Quantity
}

// DecodeArgs reads a name and its value.
func (g *given) DecodeArgs(args *lang.Args) {
	g.name = args.Word()
	if args.PeekQuantity() {
		g.value = args.Number()
		return
	}
	g.word = args.Word("true", "false", "unknown")
}

// expect is one "expect" statement of a case.
type expect struct {
	kind  string    // veto, no, limit, score, skip or unknown
	name  lang.Text // of a criterion, or the code of a veto; zero for "no veto" at all
	score lang.Interval
	span  lang.Span
}

// DecodeArgs reads what is expected.
func (e *expect) DecodeArgs(args *lang.Args) {
	e.span = args.Keyword().Span
	e.kind = args.Word("veto", "no", "limit", "score", "skip", "unknown").Value
	if e.kind == "no" {
		args.Word("veto")
		if !args.More() {
			return
		}
	}
	e.name = args.Text()
	if e.kind == "score" || e.kind == "limit" {
		e.score = args.Interval(lang.Plain)
	}
	e.span = e.span.To(args.Rest())
}

// scoreTolerance is how near a score must come to a single expected number: what two
// decimals show.
const scoreTolerance = 0.005

// cases checks the cases of a file against everything that was loaded.
func (l *loader) cases(blocks []caseBlock) {
	for _, block := range blocks {
		c := Case{Name: block.Name.Value, Span: block.Span, givens: map[facts.ID]float64{}, expects: block.Expects}
		for _, g := range block.Givens {
			if l.found.Full() {
				return
			}
			l.given(&c, g)
		}
		for _, e := range block.Expects {
			l.expected(e)
		}
		l.set.cases = append(l.set.cases, c)
	}
}

func (l *loader) given(c *Case, g given) {
	if g.name.Value == "" {
		return // already reported
	}
	index, known := l.set.names.Lookup(g.name.Value)
	if !known {
		var names []string
		for i := range l.set.names.Len() {
			names = append(names, l.set.names.Name(i).Name)
		}
		l.found.Add(lang.Diagnostic{
			Severity: lang.Error, Code: lang.UnknownName, Span: g.name.Span,
			Summary: fmt.Sprintf("there is no fact %q", g.name.Value), Detail: "A case gives facts of the vocabulary.",
			Instead: lang.Nearest(g.name.Value, names),
		})
		return
	}
	name := l.set.names.Name(index)
	_, own := l.set.defined[name.Name]
	_, twice := c.givens[facts.ID(index)]
	switch {
	case own:
		l.report(lang.Contradiction, g.name.Span, fmt.Sprintf("%q is computed by these files and cannot be given", name.Name),
			"Give the facts that it is computed from.")
	case twice:
		l.report(lang.DuplicateField, g.name.Span, fmt.Sprintf("%q is given twice", name.Name), "Keep one of the two.")
	case g.word.Value == "unknown":
		c.givens[facts.ID(index)] = math.NaN()
	case name.Kind == expression.Truth && g.word.Value != "":
		c.givens[facts.ID(index)] = map[string]float64{"true": 1, "false": 0}[g.word.Value]
	case name.Kind == expression.Truth && g.value.Known():
		l.report(lang.WrongKind, g.value.Span, fmt.Sprintf("%q is true or false, and %q is a quantity", name.Name, g.value.Span.Text()),
			"Write \"true\", \"false\" or \"unknown\".")
	case g.word.Value != "":
		l.report(lang.WrongKind, g.word.Span, fmt.Sprintf("%q is %s, and %q is none", name.Name, name.Dim, g.word.Value),
			"Write a quantity, or \"unknown\".")
	case g.value.Known() && g.value.Dim != name.Dim:
		l.report(lang.WrongDimension, g.value.Span, fmt.Sprintf("%q is %s, and %q is %s", g.value.Span.Text(), g.value.Dim, name.Name, name.Dim),
			fmt.Sprintf("Write it in a unit of %s.", strings.TrimPrefix(strings.TrimPrefix(name.Dim.String(), "a "), "an ")))
	case g.value.Known():
		c.givens[facts.ID(index)] = g.value.Value
	}
}

// expected reports an expectation about something that there is not.
func (l *loader) expected(e expect) {
	if e.name.Value == "" {
		return
	}
	veto := e.kind == "veto" || e.kind == "no"
	for _, c := range l.set.criteria {
		if c.Name == e.name.Value || veto && slices.Contains(c.codes(), e.name.Value) {
			return
		}
	}
	l.noCriterion(e.name)
}

// Cases gives the cases of the files, in their order.
func (s *Set) Cases() []Case { return slices.Clone(s.cases) }

// record gives the facts of a case.
func (s *Set) record(c *Case) *facts.Record {
	var r facts.Record
	for i := range s.names.Len() {
		r.Set(facts.ID(i), math.NaN())
	}
	for id, value := range c.givens {
		r.Set(id, value)
	}
	s.define(&r)
	return &r
}

// Test judges a case and reports each expectation that does not hold, with what came out
// instead. What the case touches is added to the coverages.
func (s *Set) Test(c *Case, coverages ...*Coverage) lang.Diagnostics {
	r := s.record(c)
	for _, coverage := range coverages {
		coverage.touch(r)
	}
	explained := s.Explain(r)
	var broken lang.Diagnostics
	for _, e := range c.expects {
		if got := s.broken(&e, r, explained.Criteria); got != "" {
			broken.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.ExpectationBroken, Span: e.span,
				Summary: fmt.Sprintf("case %q: %s", c.Name, got),
				Detail:  "If what came out is right, change the case; else change the criterion.",
				Related: []lang.Related{{Span: c.Span, Note: "the case begins here"}},
			})
		}
	}
	return broken
}

// broken says what came out instead, or gives "" when the expectation holds.
func (s *Set) broken(e *expect, r *facts.Record, criteria []Finding) string {
	var raised, unknown []string
	var of *Finding
	for i := range criteria {
		f := &criteria[i]
		if f.Name == e.name.Value {
			of = f
		}
		meant := func(code string) bool { return e.name.Value == "" || f.Name == e.name.Value || code == e.name.Value }
		for _, veto := range f.Raised {
			if meant(veto.Code) {
				raised = append(raised, fmt.Sprintf("%q (%s)", veto.Code, veto.In(lang.Printer{})))
			}
		}
		for i := range f.Vetoes {
			if veto := &f.Vetoes[i]; meant(veto.Code) && !veto.known(r) {
				unknown = s.unknown(unknown, veto.Checked, r)
			}
		}
		for i := range f.Limits {
			if limit := &f.Limits[i]; meant(limit.Code) && math.IsNaN(limit.desirability(r)) {
				unknown = s.unknown(unknown, limit.Checked, r)
			}
		}
	}
	switch e.kind {
	case "veto":
		if len(raised) == 0 {
			return fmt.Sprintf("%q does not exclude the lens%s", e.name.Value, lacking(unknown))
		}
	case "no":
		if len(raised) > 0 {
			return fmt.Sprintf("the lens is excluded by %s", strings.Join(raised, ", "))
		}
	case "score", "limit":
		low, high := e.score.Low.Or(0), e.score.High.Or(1)
		if low == high {
			low, high = low-scoreTolerance, high+scoreTolerance
		}
		value, says := of.Score, "scores"
		if e.kind == "limit" {
			value, says = of.factor(r), "limits to"
		}
		if math.IsNaN(value) {
			return fmt.Sprintf("%q has no %s%s", e.name.Value, e.kind, whyNot(of))
		}
		if value < low || value > high {
			return fmt.Sprintf("%q %s %.3g", e.name.Value, says, value)
		}
	case "skip":
		if of.Applies || len(of.Unknown) > 0 {
			return fmt.Sprintf("%q is judged%s", e.name.Value, whyNot(of))
		}
	case "unknown":
		if len(of.Unknown) == 0 {
			return fmt.Sprintf("all of %q is known", e.name.Value)
		}
	}
	return ""
}

// factor gives what the limits of a criterion leave of the score, NaN when it is not known.
func (f *Finding) factor(r *facts.Record) float64 {
	factor := 1.0
	for i := range f.Limits {
		factor *= f.Limits[i].desirability(r)
	}
	if !f.Applies || len(f.Limits) == 0 {
		return math.NaN()
	}
	return factor
}

// codes gives the codes of what may exclude, vetoes first.
func (c *Criterion) codes() (codes []string) {
	for i := range c.Vetoes {
		codes = append(codes, c.Vetoes[i].Code)
	}
	for i := range c.Limits {
		codes = append(codes, c.Limits[i].Code)
	}
	return codes
}

// whyNot says what keeps a criterion from being judged, if something does.
func whyNot(f *Finding) string {
	switch {
	case f == nil:
		return ""
	case len(f.Unknown) == 0 && !f.Applies:
		return "; it does not apply"
	}
	return lacking(f.Unknown)
}

func lacking(names []string) string {
	if names == nil {
		return ""
	}
	return "; not known: " + strings.Join(names, ", ")
}
