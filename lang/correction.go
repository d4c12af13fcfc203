package lang

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A Correction is a change of a text that takes a fault away.
type Correction struct {
	Span Span   // what goes; empty where Text is only put in
	Text string // what stands there then, spelt as the language spells it; "" to remove
	// Safe says that only the spelling changes and not what is said: nobody needs to be asked.
	Safe bool
}

// Correction gives the change that a diagnostic knows, if it knows one: its own, or else
// Instead in the place of its span, with the quotes that stand there now.
func (d Diagnostic) Correction() (c Correction, ok bool) {
	if d.Fix.Span.Known() {
		return d.Fix, true
	}
	if d.Instead == "" || !d.Span.Known() {
		return Correction{}, false
	}
	c = Correction{Span: d.Span, Text: d.Instead, Safe: d.Spelling}
	plain := d.Instead
	if text, ok := Unquote(d.Instead); ok {
		plain = text
	}
	was := d.Span.Text()
	if strings.HasPrefix(was, `"`) {
		c.Text = Quote(plain)
		was, _ = Unquote(was)
	} else if d.Span.quoted() {
		c.Text = strings.TrimSuffix(strings.TrimPrefix(Quote(plain), `"`), `"`)
	}
	// A single letter is too little to tell what is meant: "45M" may be minutes.
	c.Safe = c.Safe || len(plain) > 1 && strings.EqualFold(was, plain)
	return c, true
}

// quoted reports whether a span is all that stands between two quotes.
func (s Span) quoted() bool {
	text := s.Source.Text
	return s.Start > 0 && s.End < len(text) && text[s.Start-1] == '"' && text[s.End] == '"'
}

// Title says in words what the correction does.
func (c Correction) Title() string {
	oneLine := func(text string) string { return clip(strings.Join(strings.Fields(text), " ")) }
	switch was, is := oneLine(c.Span.Text()), oneLine(c.Text); {
	case c.Text == "":
		return "remove " + was
	case c.Span.Start == c.Span.End:
		return "insert " + is
	default:
		return fmt.Sprintf("write %s in place of %s", is, was)
	}
}

// Correct makes the corrections of one source that do not overlap, the first of those that do, and gives
// the text with those that were made, in the order of the text. A correction of another source is left out.
func Correct(src *Source, all []Correction) (text string, made []Correction) {
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b Correction) int {
		return cmp.Or(cmp.Compare(a.Span.Start, b.Span.Start), cmp.Compare(a.Span.End, b.Span.End))
	})
	var b strings.Builder
	at := 0
	for _, c := range sorted {
		if c.Span.Source != src || c.Span.Start < at && len(made) > 0 || len(made) > 0 && made[len(made)-1] == c {
			continue
		}
		b.WriteString(src.Text[at:c.Span.Start] + c.Text)
		at = c.Span.End
		made = append(made, c)
	}
	return b.String() + src.Text[at:], made
}

// SafeCorrections gives the safe corrections of the diagnostics that are about a source.
func (ds Diagnostics) SafeCorrections(src *Source) []Correction {
	var safe []Correction
	for _, d := range ds.Sorted() {
		if c, ok := d.Correction(); ok && c.Safe && c.Span.Source == src {
			safe = append(safe, c)
		}
	}
	return safe
}

// Surely gives the one candidate that a word of a closed list can only have been meant to be, or "":
// a word of four letters or more in which one is wrong, missing, too many or swapped, where no other
// candidate is as near as two.
func Surely(word string, candidates []string) string {
	const least = 4
	found, near := "", 0
	for _, candidate := range candidates {
		switch d := editDistance(word, candidate); {
		case d == 1 && len(candidate) >= least:
			found = candidate
			near++
		case d <= 2:
			near++
		}
	}
	if near != 1 {
		return ""
	}
	return found
}

// around gives what stands on the line of a span before it and behind it.
func (s Span) around() (before, after string) {
	line, start := s.Source.Line(s.Position().Line)
	from := min(s.Start-start, len(line))
	return line[:from], line[min(max(from, s.End-start), len(line)):]
}

// endsLine reports whether nothing but a remark stands in the rest of a line.
func endsLine(rest string) bool {
	rest = strings.TrimSpace(rest)
	return rest == "" || strings.HasPrefix(rest, "//")
}

// withBlanks is a span with the blanks before it on its line.
func (s Span) withBlanks() Span {
	before, _ := s.around()
	s.Start -= len(before) - len(strings.TrimRight(before, " \t"))
	return s
}

// withLine is the span of a statement with the lines that it stands on, where nothing else does.
func (s Span) withLine() Span {
	before, _ := s.around()
	rest := s.Source.Text[s.End:]
	n := strings.IndexByte(rest, '\n') + 1
	if !isBlank(before) || n == 0 || !isBlank(rest[:n]) {
		return s.withBlanks()
	}
	return Span{Source: s.Source, Start: s.Start - len(before), End: s.End + n}
}

// atEnd is the correction that adds a line to a text.
func atEnd(src *Source, line string) Correction {
	if src.Text != "" && !strings.HasSuffix(src.Text, "\n") {
		line = "\n" + line
	}
	return Correction{Span: Span{Source: src, Start: len(src.Text), End: len(src.Text)}, Text: line}
}
