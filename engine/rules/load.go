package rules

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"glassbrief/engine/facts"
	"glassbrief/engine/parallel"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// BriefName is the name of the criterion that holds a shot's own needs and preferences.
const BriefName = "brief"

// Load reads .rules files into one set. names are the facts that records hold, by their
// IDs; they are not changed. A criterion replaces one of the same name from an earlier
// file; facts are for all files behind their own. A weight is that of a criterion in force at the
// end of its file.
//
// All faults of all files are reported. With errors the set holds what could be read,
// enough to check what builds on it, and is not to judge by.
func Load(names *expression.Vocabulary, sources ...*lang.Source) (*Set, lang.Diagnostics) {
	return (&Set{names: names}).Extend(sources...)
}

// Extend gives a new set with what further files add, as if [Load] had read them after those
// of s.
func (s *Set) Extend(sources ...*lang.Source) (*Set, lang.Diagnostics) {
	return s.extend(loader{}, sources...)
}

// ExtendUntasted is [Set.Extend] without the weights that statements of their own set in some of the files.
func (s *Set) ExtendUntasted(untasted []*lang.Source, sources ...*lang.Source) (*Set, lang.Diagnostics) {
	return s.extend(loader{untasted: untasted}, sources...)
}

func (s *Set) extend(l loader, sources ...*lang.Source) (*Set, lang.Diagnostics) {
	l.set = &Set{
		names: s.names.Clone(), facts: slices.Clone(s.facts), defined: maps.Clone(s.defined),
		criteria: slices.Clone(s.criteria), cases: slices.Clone(s.cases),
	}
	if l.set.defined == nil {
		l.set.defined = map[string]lang.Span{}
	}
	var cases []caseBlock // they may name facts and criteria of files behind theirs
	for _, source := range sources {
		file, ds := lang.Parse(source)
		l.found = append(l.found, ds...)
		var doc document
		l.found = append(l.found, lang.Decode(file, &doc)...)
		for _, line := range doc.Facts {
			if l.found.Full() {
				break
			}
			l.fact(line)
		}
		l.criteria(doc.Criteria)
		l.weights(doc.Weights, doc.Criteria)
		cases = append(cases, doc.Cases...)
	}
	l.cases(cases)
	return l.set, l.found.Sorted()
}

type loader struct {
	set    *Set
	found  lang.Diagnostics
	tested bool // the files have no faults, so that what only reasons need is checked when one is asked for
	// untasted are files of which weights that are set by a statement of their own are checked, and not taken.
	untasted []*lang.Source
}

func (l *loader) report(code lang.Code, span lang.Span, summary, detail string, related ...lang.Related) {
	l.found.Add(lang.Diagnostic{
		Severity: lang.Error, Code: code, Span: span, Summary: summary, Detail: detail, Related: related,
	})
}

// fact defines a fact. It is marked as faulty when its expression is.
func (l *loader) fact(line factLine) {
	name, span := line.Name.Value, line.Name.Span
	if name == "" {
		return // already reported
	}
	var checked *expression.Checked
	if line.Expression.Known() {
		checked = l.check(line.Expression.Span, expression.WantNumber)
	}
	_, taken := l.set.names.Lookup(name)
	switch {
	case taken:
		l.taken(name, span)
	case !expression.FitName(name):
		l.found.Add(lang.Diagnostic{
			Severity: lang.Error, Code: lang.UnexpectedText, Span: span,
			Summary: fmt.Sprintf("%q cannot be the name of a fact", name),
			Detail:  "A name has two or more lower-case letters, digits and \"_\", begins with a letter, and is no word of expressions.",
			Instead: fitFor(name),
		})
	case l.set.names.Len() >= facts.Capacity:
		l.report(lang.OutOfRange, span, fmt.Sprintf("there is no room for the fact %q", name),
			fmt.Sprintf("The files can define %d facts in all.", facts.Capacity-l.set.names.Len()+len(l.set.defined)))
	default:
		l.set.defined[name] = span
		l.define(name, line.Expression.Because.Value, checked)
	}
}

func (l *loader) define(name, meaning string, checked *expression.Checked) {
	fact := expression.Name{Name: name, Kind: expression.Number, Meaning: meaning, Faulty: checked == nil}
	if checked == nil {
		l.set.names.Define(fact)
		return
	}
	fact.Dim, fact.Unit = checked.Dim, checked.Unit
	index, _ := l.set.names.Define(fact)
	l.set.facts = append(l.set.facts, Fact{Name: name, Score: newScore(checked), id: facts.ID(index)})
}

func (l *loader) taken(name string, span lang.Span) {
	var related []lang.Related
	if first, ours := l.set.defined[name]; ours {
		related = []lang.Related{{Span: first, Note: "it is defined here first"}}
	}
	l.report(lang.DuplicateName, span, fmt.Sprintf("there is a fact %q already", name), "Give this one another name.", related...)
}

// fitFor gives the fit name that a name most likely stands for, or "".
func fitFor(name string) string {
	if fit := strings.ReplaceAll(strings.ToLower(name), "-", "_"); fit != name && expression.FitName(fit) {
		return fit
	}
	return ""
}

// criteria adds the criteria of one file.
func (l *loader) criteria(blocks []criterionBlock) {
	made, found := make([]*Criterion, len(blocks)), make([]lang.Diagnostics, len(blocks))
	var faults atomic.Int64
	if l.found.Full() {
		faults.Store(lang.MaxRecorded)
	}
	// Checking takes longer than reading the rest of a scenario, and a criterion needs no other.
	_ = parallel.For(context.Background(), len(blocks), 0, func(i int) {
		if faults.Load() >= lang.MaxRecorded {
			return // nothing more would be kept
		}
		alone := &loader{set: l.set, tested: l.tested}
		made[i], found[i] = alone.criterion(&blocks[i]), alone.found
		if alone.found.HasErrors() {
			faults.Add(1)
		}
	})
	first := map[string]lang.Span{} // by slug: codes are made from it
	for i := range blocks {
		block := &blocks[i]
		name, key := block.Name.Value, Slug(block.Name.Value)
		earlier, twice := first[key]
		for _, d := range found[i] {
			l.found.Add(d)
		}
		switch {
		case key == "":
			l.report(lang.MissingValue, block.Name.Span, "the criterion has no name", "Write a word or two between the quotes.")
		case key == BriefName:
			l.report(lang.DuplicateName, block.Name.Span, fmt.Sprintf("%q is what a shot's own needs and preferences are called", name),
				"Give the criterion another name.")
		case twice:
			l.report(lang.DuplicateName, block.Name.Span, fmt.Sprintf("there is a criterion %q already in this file", name),
				"Give one of the two another name.", lang.Related{Span: earlier, Note: "it is defined here first"})
		case made[i] != nil:
			first[key] = block.Name.Span
			l.set.put(made[i])
		}
	}
}

func (l *loader) criterion(block *criterionBlock) *Criterion {
	c := &Criterion{Name: block.Name.Value, About: block.About.Value, Weight: block.Weight.Or(1), Span: block.Span}
	if c.Weight <= 0 {
		l.report(lang.OutOfRange, block.Weight.Span, fmt.Sprintf("the weight %q is not above zero", block.Weight.Span.Text()),
			"To leave a criterion out, write \"veto false\" as all it holds.")
	}
	if len(block.Vetoes)+len(block.Limits) == 0 && !block.Score.Known() {
		l.report(lang.MissingField, block.Span, fmt.Sprintf("criterion %q has no veto, limit or score", c.Name),
			"Add a line that begins with \"veto\", \"limit\" or \"score\", with its expression.")
	}
	if block.When.Known() {
		if checked := l.check(block.When.Span, expression.WantTruth); checked != nil {
			c.When = newCondition(checked)
		}
	}
	for i, veto := range block.Vetoes {
		if checked := l.check(veto.Span, expression.WantTruth); checked != nil {
			c.Vetoes = append(c.Vetoes, Veto{Code: codeOf(c.Name, i), Condition: *newCondition(checked), Reason: l.text(veto.Because)})
		} else {
			l.text(veto.Because)
		}
	}
	for i, limit := range block.Limits {
		reason := l.text(limit.Because)
		if checked := l.check(limit.Span, expression.WantScore); checked != nil {
			c.Limits = append(c.Limits, Limit{Code: codeOf(c.Name, len(block.Vetoes)+i), Score: newScore(checked), Reason: reason})
		}
	}
	if block.Score.Known() {
		if checked := l.check(block.Score.Span, expression.WantScore); checked != nil {
			c.Scores = append(c.Scores, newScore(checked))
		}
	}
	for _, lack := range block.Lacks {
		if !lack.Known() {
			continue // already reported
		}
		reason, condition := l.text(lack.Because), l.condition(lack.Span)
		switch {
		case !lack.Because.Span.Known():
			l.report(lang.MissingValue, lack.Span, "this lack does not say what is lacking", "Write because and a text behind it.")
		case condition != nil && reason != nil:
			c.Lacks = append(c.Lacks, Lack{condition: condition, Reason: reason})
		}
	}
	for _, reason := range block.Reasons {
		if text := l.text(reason); text != nil {
			c.Reasons = append(c.Reasons, *text)
		}
	}
	return c
}

// check checks an expression, or gives nil when it is faulty, or there are too many faults for more to count.
func (l *loader) check(span lang.Span, want expression.Want) *expression.Checked {
	if l.found.Full() {
		return nil
	}
	checked, ds := expression.Check(span, l.set.names, want)
	l.found = append(l.found, ds...)
	return checked
}

// condition checks what is read for reasons alone, or gives nil.
func (l *loader) condition(span lang.Span) func() *Condition {
	names := l.set.names
	if l.tested {
		return sync.OnceValue(func() *Condition { return newCondition(mustHold(expression.Check(span, names, expression.WantTruth))) })
	}
	if checked := l.check(span, expression.WantTruth); checked != nil {
		return already(newCondition(checked))
	}
	return nil
}

// text checks a template, or gives nil when there is none, as check does.
func (l *loader) text(text lang.Text) *Text {
	if !text.Span.Known() || l.found.Full() {
		return nil
	}
	names := l.set.names
	if l.tested {
		return &Text{sync.OnceValue(func() *template { return newTemplate(mustHold(expression.CheckTemplate(text.Inner(), names))) })}
	}
	checked, ds := expression.CheckTemplate(text.Inner(), names)
	l.found = append(l.found, ds...)
	if checked == nil {
		return nil
	}
	return &Text{already(newTemplate(checked))}
}

// put adds a criterion, or puts it in the place of the one of its name.
func (s *Set) put(c *Criterion) {
	if i := s.placeOf(Slug(c.Name)); i >= 0 {
		c.Replaces = s.criteria[i].Span
		s.criteria[i] = c
		return
	}
	s.criteria = append(s.criteria, c)
}

// weights sets the weights that one file states, of which blocks are the criteria.
func (l *loader) weights(lines []weightLine, blocks []criterionBlock) {
	first := map[string]lang.Span{} // by slug
	for i := range blocks {
		if weight := blocks[i].Weight; weight.Known() {
			first[Slug(blocks[i].Name.Value)] = weight.Span
		}
	}
	for _, line := range lines {
		key := Slug(line.Of.Value)
		earlier, twice := first[key]
		switch at := l.set.placeOf(key); {
		case at < 0:
			l.noCriterion(line.Of)
		case twice:
			l.report(lang.DuplicateName, line.Of.Span, fmt.Sprintf("the weight of %q is given twice in this file", line.Of.Value),
				"Keep one of the two.", lang.Related{Span: earlier, Note: "it is given here first"})
		default:
			first[key] = line.Of.Span
			if slices.Contains(l.untasted, line.Of.Span.Source) {
				continue
			}
			weighed := *l.set.criteria[at] // other sets hold the criterion too
			weighed.Weight, weighed.Weighed = line.Weight.Value, line.Of.Span
			l.set.criteria[at] = &weighed
		}
	}
}

// noCriterion reports a name that no criterion has.
func (l *loader) noCriterion(name lang.Text) {
	names := make([]string, len(l.set.criteria))
	for i, c := range l.set.criteria {
		names[i] = c.Name
	}
	l.found.Add(lang.Diagnostic{
		Severity: lang.Error, Code: lang.UnknownName, Span: name.Inner(),
		Summary: fmt.Sprintf("there is no criterion %q", name.Value),
		Detail:  fmt.Sprintf("The criteria are %s.", lang.Quoted(names)),
		Instead: lang.Nearest(name.Value, names),
	})
}

// placeOf gives the place of the criterion of a name, by its slug, or -1.
func (s *Set) placeOf(slug string) int {
	return slices.IndexFunc(s.criteria, func(c *Criterion) bool { return Slug(c.Name) == slug })
}
