package whatif

import (
	"cmp"
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/learn"
	"glassbrief/engine/rules"
	"glassbrief/engine/textdiff"
	"glassbrief/lang"
)

// A Plan is a saved scenario with what may be moved of it. It is not changed once opened, and is for one
// goroutine, since it keeps the catalogue that was read last.
type Plan struct {
	Input
	Scenario *brief.Scenario // as saved
	Controls []Control
	Ladders  map[string][]Value // the steps of controls, by their names

	src  *lang.Source
	file *lang.File
	kept catalog.Kept
}

// Open reads a scenario for edits. With errors among the findings the plan is nil.
func Open(in Input) (*Plan, lang.Diagnostics) {
	p := &Plan{Input: in}
	files, found := p.files(nil)
	src, more := files.Budget.Source(in.Name, in.Files[in.Name], lang.OfFile)
	if found = append(found, more...); found.HasErrors() {
		return nil, found
	}
	p.src = src
	files.Kept = &p.kept
	p.Scenario, more = brief.Load(src, files)
	if found = append(found, more...); found.HasErrors() {
		return nil, found
	}
	p.file, _ = lang.Parse(src)
	p.controls(p.Printer())
	return p, found
}

// An Edited is a plan with a state put into its files.
type Edited struct {
	State    State
	Scenario *brief.Scenario
	Warnings []Fault

	plan  *Plan
	edits map[string]*lang.Edits // of files, by path
	texts map[string]string      // those that changed, by path
	lines []string               // the statements that are new, with where they belong before each
}

// Edit puts a state into the files of the plan and reads them anew. What is wrong is told by the
// control that it lies at; with faults there is no edited plan.
func (p *Plan) Edit(s State) (*Edited, []Fault) {
	e := &Edited{State: s, plan: p, texts: map[string]string{}, edits: map[string]*lang.Edits{p.Name: {Source: p.src}}}
	var faults []Fault
	for i := range s {
		faults = append(faults, e.put(&s[i])...)
	}
	if faults != nil {
		return nil, faults
	}
	origins := map[string][]lang.Span{}
	for name, edits := range e.edits {
		var text string
		if text, origins[name] = edits.Text(); text != edits.Source.Text {
			e.texts[name] = text
		}
	}
	files, found := p.files(e.texts)
	files.Kept = &p.kept
	src, more := files.Budget.Source(p.Name, cmp.Or(e.texts[p.Name], p.src.Text), lang.OfFile)
	if found = append(found, more...); !found.HasErrors() {
		e.Scenario, more = brief.Load(src, files)
		found = append(found, more...)
	}
	for _, d := range found {
		if src := d.Span.Source; src != nil && origins[src.Name] != nil {
			found = catalog.Relocate(found, src, origins[src.Name])
		}
	}
	warnings, wrong := faultsOf(found, s)
	if wrong != nil {
		return nil, wrong
	}
	e.Warnings = warnings
	return e, nil
}

// put puts a setting into the text of the scenario.
func (e *Edited) put(s *Setting) []Fault {
	c, edits := s.control, e.edits[e.plan.Name]
	value, fault := c.written(s.Text)
	if fault != "" {
		return []Fault{{s.Key, fault}}
	}
	block, name := "scenario", ""
	if c.Shot > 0 {
		block, name = "shot", e.plan.Scenario.Shots[c.Shot-1].ID
	}
	where := block
	if name != "" {
		where += " " + lang.Quote(name)
	}
	// The place that new text comes from names its control, so that faults find it.
	from, _ := lang.NewSource(s.Key, []byte(s.Text))
	at := lang.Span{Source: from, End: len(from.Text)}
	line := lang.Line{Keyword: c.set.name, Value: value, At: at}
	switch c.set {
	case weight:
		e.weigh(c, line)
		return nil
	case camera:
		e.swap(edits, c, value, at)
		line.Value = swapped(saying(c.at.block, "camera"), c.was, value)
	case speed, pan:
		line.Keyword = "move"
		line.Value = e.pace(edits, c, value, at)
	default:
		if value == "" {
			take(edits, c)
			e.lines = append(e.lines, fmt.Sprintf("// in %s, without:\n// %s %s\n", where, line.Keyword, c.was))
			return nil
		}
		edits.Set([]*lang.Block{c.at.block}, brief.Keywords(block), line, func(*lang.Statement) bool { return true })
	}
	e.tell(where, line)
	return nil
}

// take takes the statement of a control out of the file, with its line where it stands there alone.
func take(edits *lang.Edits, c *Control) {
	for _, s := range c.at.block.Statements {
		if s.Keyword.Value != c.set.name {
			continue
		}
		text, span := edits.Source.Text, s.Span
		start, end := max(0, strings.LastIndexByte(text[:span.Start], '\n')), len(text)
		if n := strings.IndexByte(text[span.End:], '\n'); n >= 0 {
			end = span.End + n // a new line may come in before the break
		}
		rest := strings.TrimSpace(text[span.End:end])
		if strings.TrimSpace(text[start:span.Start]) == "" && (rest == "" || strings.HasPrefix(rest, "//")) {
			span.Start, span.End = start, end
		}
		edits.Replace(span, "", lang.Span{})
	}
}

// tell notes a statement that is new, and where it belongs.
func (e *Edited) tell(where string, line lang.Line) {
	e.lines = append(e.lines, fmt.Sprintf("// in %s\n%s %s\n", where, line.Keyword, line.Value))
}

// weigh gives a criterion another weight in the last of the scenario's own files of rules, which has the
// last word, or in a new one beside the scenario.
func (e *Edited) weigh(c *Control, line lang.Line) {
	p := e.plan
	name := p.rulesFile()
	edits := e.edits[name]
	if edits == nil {
		text, known := p.Files[name]
		src, _ := lang.NewSource(name, []byte(text)) // it was read before
		edits = &lang.Edits{Source: src}
		e.edits[name] = edits
		if !known {
			use := lang.Line{Keyword: "rules", Value: lang.Quote(name), At: line.At}
			none := func(*lang.Statement) bool { return false }
			e.edits[p.Name].Set([]*lang.Block{p.block("scenario", "")}, brief.Keywords("scenario"), use, none)
			e.tell("scenario", use)
		}
	}
	e.tell(name, lang.Line{Keyword: "weight", Value: lang.Quote(c.criterion.Name) + " " + line.Value})
	file, _ := lang.Parse(edits.Source)
	for _, s := range file.Statements {
		if len(s.Values) == 0 || rules.Slug(s.Values[0].Parts[0].Text) != rules.Slug(c.criterion.Name) {
			continue
		}
		switch {
		case s.Keyword.Value == "weight" && len(s.Values) == 2:
			edits.Replace(s.Values[1].Span, line.Value, line.At)
			return
		case s.Keyword.Value == "criterion" && s.Block != nil && saying(s.Block, "weight") != "":
			edits.Set([]*lang.Block{s.Block}, nil, line, func(*lang.Statement) bool { return true })
			return
		}
	}
	end := lang.Span{Source: edits.Source, Start: len(edits.Source.Text), End: len(edits.Source.Text)}
	text := "weight " + lang.Quote(c.criterion.Name) + " " + line.Value + "\n"
	if end.End > 0 && !strings.HasSuffix(edits.Source.Text, "\n") {
		text = "\n" + text
	}
	edits.Replace(end, text, line.At)
}

// rulesFile gives the path of the file of rules that weights are written into.
func (p *Plan) rulesFile() string {
	own := ""
	for _, s := range p.block("scenario", "").Statements {
		if s.Keyword.Value == "rules" {
			for _, v := range s.Values {
				own = path.Clean(strings.ReplaceAll(v.Parts[0].Text, `\`, "/"))
			}
		}
	}
	return cmp.Or(own, strings.TrimSuffix(p.Name, path.Ext(p.Name))+"-weights.rules")
}

// written gives the text of a control as values of its statement, or says what is wrong with it.
func (c *Control) written(text string) (value, fault string) {
	if c.set.may && strings.TrimSpace(text) == "" {
		return "", ""
	}
	if c.Choice && c.set != stop {
		text = lang.Quote(c.chosen(text).Text)
	}
	values, found := lang.ParseValues(c.Name, text)
	if found.HasErrors() {
		return "", Sentences(found[0])
	}
	if len(values) == 0 || len(values) > c.set.most {
		return "", fmt.Sprintf("%q is no %s.", text, c.Label)
	}
	value = values[0].Span.To(values[len(values)-1].Span).Text()
	switch c.set {
	case distance:
		if strings.HasPrefix(c.was, "within ") && !strings.HasPrefix(value, "within ") {
			value = "within " + value
		}
	case carry:
		if q, err := lang.ParseQuantity(c.Name, value, lang.Plain); err == nil && q.Span.Text() == value {
			value = counted(q.Value)
		}
	}
	return value, ""
}

// isSaved reports whether a text says what is saved.
func (c *Control) isSaved(text string) bool {
	if c.Choice {
		return c.chosen(text).Text == c.Saved[0].Text
	}
	if text == c.was {
		return true
	}
	read := func(text string) (lang.Interval, error) {
		return lang.ParseInterval(c.Name, strings.TrimPrefix(text, "within "), c.set.dim)
	}
	is, err := read(text)
	if err != nil {
		return false
	}
	was, err := read(c.was)
	if err != nil && (c.was != "" || c.set != carry) {
		return false
	}
	if c.was == "" {
		return is.Low.OrNaN() == c.Saved[0].Value
	}
	return alike(is.Low.OrNaN(), was.Low.OrNaN()) && alike(is.High.OrNaN(), was.High.OrNaN())
}

// alike reports whether two figures differ by rounding only.
func alike(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(b) }

// swap puts the camera that is chosen first, which is the plan, and the first in its place.
func (e *Edited) swap(edits *lang.Edits, c *Control, chosen string, at lang.Span) {
	for _, s := range c.at.block.Statements {
		if s.Keyword.Value != "camera" {
			continue
		}
		for _, v := range s.Values {
			switch v.Span.Text() {
			case c.was:
				edits.Replace(v.Span, chosen, at)
			case chosen:
				edits.Replace(v.Span, c.was, at)
			}
		}
	}
}

// pace puts a speed into the move of a shot: in the place of the one that stands there, or behind the
// word. It gives the values of the move then.
func (e *Edited) pace(edits *lang.Edits, c *Control, value string, at lang.Span) string {
	move := c.at.move
	all := make([]string, 0, len(move.Values)+1)
	replaced := c.was == ""
	for i, v := range move.Values {
		all = append(all, v.Span.Text())
		switch {
		case i == 0 && c.was == "":
			edits.Replace(lang.Span{Source: v.Span.Source, Start: v.Span.End, End: v.Span.End}, " "+value, at)
			all = append(all, value)
		case !replaced && v.Span.Text() == c.was:
			replaced = true
			edits.Replace(v.Span, value, at)
			all[i] = value
		}
	}
	return strings.Join(all, " ")
}

func swapped(all, was, chosen string) string {
	const between = "\x00"
	return strings.NewReplacer(was, chosen, chosen, was, between, between).Replace(all)
}

// faultsOf gives the warnings and the errors of findings, by the control whose text they lie in.
func faultsOf(found lang.Diagnostics, s State) (warnings, errors []Fault) {
	for _, d := range found {
		f := Fault{Says: Sentences(d)}
		spans := []lang.Span{d.Span}
		for _, r := range d.Related {
			spans = append(spans, r.Span)
		}
		for _, span := range spans {
			if f.Key == "" && span.Source != nil && slices.ContainsFunc(s, func(one Setting) bool { return one.Key == span.Source.Name }) {
				f.Key = span.Source.Name
			}
		}
		switch {
		case d.Severity == lang.Error:
			errors = append(errors, f)
		case f.Key != "": // the others are those of the saved plan
			warnings = append(warnings, f)
		}
	}
	return warnings, errors
}

// Sentences says a finding without its place.
func Sentences(d lang.Diagnostic) string {
	says := lang.Capital(d.Summary) + "."
	if d.Detail != "" {
		says += " " + d.Detail
	}
	if d.Instead != "" {
		says += fmt.Sprintf(" Did you mean %q?", d.Instead)
	}
	return says
}

// Frame tells apart what all shots are judged in: two edited plans of one frame differ in their shots
// and limits only.
func (e *Edited) Frame() string {
	var all []string
	for _, s := range e.State {
		if s.control.frames() {
			all = append(all, State{s}.String())
		}
	}
	return strings.Join(all, "&")
}

// OfShots gives what the state says of each shot, as fragments.
func (e *Edited) OfShots() []string {
	all := make([]State, len(e.plan.Scenario.Shots))
	for _, s := range e.State {
		if at := s.control.Shot - 1; at >= 0 {
			all[at] = append(all[at], s)
		}
	}
	texts := make([]string, len(all))
	for i, state := range all {
		texts[i] = state.String()
	}
	return texts
}

// Chose gives a line of a file of choices for each lens that the state picks.
func (e *Edited) Chose() string {
	var b strings.Builder
	for _, s := range e.State {
		if picked := s.control.chosen(s.Text).Text; s.control.set == lens && picked != "" {
			said := learn.Said{Lens: lang.Text{Value: picked}, Shot: lang.Text{Value: e.plan.Scenario.Shots[s.control.Shot-1].ID}}
			b.WriteString(said.String() + "\n")
		}
	}
	return b.String()
}

// Text gives the text of a file of the plan, by its path, with the state put in.
func (e *Edited) Text(name string) string {
	if text, changed := e.texts[name]; changed {
		return text
	}
	return e.plan.Files[name]
}

// Lines gives the statements that the state changes, each with where it belongs, for pasting.
func (e *Edited) Lines() string { return strings.Join(e.lines, "") }

// Diff gives the change as a unified diff against the files of the plan, which patch and git apply; ""
// for none.
func (e *Edited) Diff() string {
	var b strings.Builder
	names := make([]string, 0, len(e.texts))
	for name := range e.texts {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		old, was := e.plan.Files[name]
		from := diffName("a/", name)
		if !was {
			from = "/dev/null"
		}
		b.WriteString(textdiff.Unified(from, old, diffName("b/", name), e.texts[name]))
	}
	return b.String()
}

// diffName writes the name of a file for a diff: with a tab behind one that has blanks, and as a quoted
// text where it has what would end it.
func diffName(side, name string) string {
	switch {
	case strings.ContainsFunc(name, func(c rune) bool { return c < ' ' || c == '"' || c == '\\' || c == 0x7f }):
		var b strings.Builder
		for i := 0; i < len(name); i++ {
			switch c := name[i]; {
			case c == '"' || c == '\\':
				b.WriteString(`\` + string(c))
			case c < ' ' || c == 0x7f:
				fmt.Fprintf(&b, `\%03o`, c)
			default:
				b.WriteByte(c)
			}
		}
		return `"` + side + b.String() + `"`
	case strings.Contains(name, " "):
		return side + name + "\t"
	}
	return side + name
}
