package merge

import (
	"slices"
	"strings"

	"glassbrief/lang"
)

// A unit is a statement with the comments that belong to it, or a remark: comments between
// empty lines, which belong to no statement. All its parts are whole lines together.
type unit struct {
	keyword string          // "" for a remark
	name    string          // the first value as written, or both of "amend"
	title   string          // the second value as written
	bare    *lang.Statement // without its block

	gap   string // the empty lines before it
	lead  string // the lines of comment directly above
	text  string // the statement with its indent, up to and with the brace of its block; the lines of a remark
	trail string // what stands behind that on its line, with the end of the line

	opens  bool
	inner  []*unit // of a block
	closes *unit   // the line with the closing brace

	raw     string // all but the gap, as it stands
	spelt   string // see spelling
	general string // see tidy
}

// cutter cuts one version of a file.
type cutter struct{ text string }

// cut gives the units of a text that could be read, and the empty lines at its end. Every line
// of the text ends with "\n".
func cut(file *lang.File) (units []*unit, rest string) {
	c := cutter{file.Source.Text}
	statements := file.Statements
	if file.Edition != nil {
		statements = slices.Insert(slices.Clone(statements), 0, file.Edition)
	}
	units, end := c.units(0, len(c.text), statements, "")
	return units, end.gap + end.text
}

// units cuts what stands between start and end. The unit behind it holds what is left: the
// empty lines before the end, and what stands on the line of the end before it.
func (c *cutter) units(start, end int, statements []*lang.Statement, indent string) (list []*unit, left *unit) {
	for _, s := range statements {
		comments, next := c.between(start, s.Span.Start)
		list = append(list, comments...)
		if !c.beginsLine(s.Span.Start) { // it stands behind the brace of its block
			next.text = indent
		}
		c.statement(next, s, end)
		list = append(list, next)
		start = c.lineEnd(s.Span.End, end)
	}
	comments, left := c.between(start, end)
	list = append(list, comments...)
	if left.lead != "" { // comments before the closing brace are of no statement
		list = append(list, &unit{gap: left.gap, text: left.lead, raw: left.lead})
		left.gap, left.lead = "", ""
	}
	return list, left
}

// beginsLine reports whether only blanks stand before a place on its line.
func (c *cutter) beginsLine(at int) bool {
	line := c.text[strings.LastIndexByte(c.text[:at], '\n')+1 : at]
	return strings.TrimLeft(line, " \t") == ""
}

// lineEnd gives the place behind the end of a line, but no place behind end.
func (c *cutter) lineEnd(from, end int) int {
	if n := strings.IndexByte(c.text[from:end], '\n'); n >= 0 {
		return from + n + 1
	}
	return end
}

// between cuts blanks and comments before a statement or a brace: remarks, and the unit that is
// to be, with gap, lead and indent.
func (c *cutter) between(start, end int) (remarks []*unit, next *unit) {
	next = &unit{}
	text := c.text[start:end]
	for {
		n := strings.IndexByte(text, '\n')
		if n < 0 {
			next.text = text
			return remarks, next
		}
		line := text[:n+1]
		text = text[n+1:]
		switch blank := strings.TrimSpace(line) == ""; {
		case !blank:
			next.lead += line
		case next.lead == "":
			next.gap += line
		default:
			remarks = append(remarks, &unit{gap: next.gap, text: next.lead, raw: next.lead})
			next = &unit{gap: line}
		}
	}
}

// statement fills a unit of which gap, lead and indent are known.
func (c *cutter) statement(u *unit, s *lang.Statement, end int) {
	bare := *s
	bare.Block = nil
	u.keyword, u.bare = s.Keyword.Value, &bare
	if len(s.Values) > 0 {
		u.name = s.Values[0].Span.Text()
	}
	if len(s.Values) > 1 {
		u.title = s.Values[1].Span.Text()
		if u.keyword == "amend" {
			u.name += " " + u.title
		}
	}
	indent := u.text
	head := s.Span.End
	if s.Block != nil {
		head = s.Block.Span.Start + 1
	}
	u.text += c.text[s.Span.Start:head]
	if s.Block == nil {
		u.trail = ended(c.text[head:c.lineEnd(head, end)])
		u.raw = u.lead + u.text + u.trail
		return
	}
	u.opens = true
	brace := s.Block.Span.End - 1
	start := head
	line := c.lineEnd(head, brace)
	first := brace
	if len(s.Block.Statements) > 0 {
		first = s.Block.Statements[0].Span.Start
	}
	if line <= first && strings.HasSuffix(c.text[head:line], "\n") {
		u.trail, start = c.text[head:line], line
	}
	var left *unit
	u.inner, left = c.units(start, brace, s.Block.Statements, indent+"  ")
	if !c.beginsLine(brace) {
		left.text = indent
	}
	behind := c.text[brace+1 : c.lineEnd(brace+1, end)]
	u.closes = &unit{keyword: "}", gap: left.gap, text: left.text + "}", trail: ended(behind)}
	u.closes.raw = u.closes.text + u.closes.trail
	u.trail = ended(u.trail)
	u.raw = u.lead + indent + c.text[s.Span.Start:brace+1] + u.closes.trail
}

// ended gives the rest of a line with its end.
func ended(rest string) string {
	if strings.HasSuffix(rest, "\n") {
		return rest
	}
	return strings.TrimRight(rest, " \t") + "\n"
}

// same reports whether two versions of a unit say the same in the same words: only layout and
// the spelling of units differ. Both may be nil.
func (u *unit) same(other *unit) bool {
	if u == nil || other == nil {
		return u == other
	}
	return u.raw == other.raw || u.spelling() == other.spelling() || u.tidy() == other.tidy()
}

// spelling gives a text that is equal for units between which only the layout differs.
func (u *unit) spelling() string {
	if u.spelt == "" {
		u.spelt = u.whole((*unit).spelling, u.text)
	}
	return u.spelt
}

// tidy gives a text that is equal for units that are the same. It takes several times as long.
func (u *unit) tidy() string {
	if u.general == "" {
		u.general = u.whole((*unit).tidy, u.tidyText())
	}
	return u.general
}

// whole joins what a unit says, with what each inner unit does.
func (u *unit) whole(of func(*unit) string, text string) string {
	var b strings.Builder
	b.WriteString(plainComment(u.lead) + "\x00" + u.says(text) + "\x00" + plainComment(u.trail))
	for _, inner := range u.inner {
		b.WriteString("\x00" + of(inner))
	}
	if u.closes != nil {
		b.WriteString("\x00" + plainComment(u.closes.trail))
	}
	return b.String()
}

var withoutBlanks = strings.NewReplacer(" ", "", "\t", "")

// says gives what the text of a statement says, whatever blanks are between its parts.
func (u *unit) says(text string) string {
	if u.bare == nil {
		return plainComment(text)
	}
	return u.bare.Meaning() + "\x00" + withoutBlanks.Replace(text)
}

// tidyText gives the text of a statement with its units spelt as in tidy text.
func (u *unit) tidyText() string {
	if src, found := lang.NewSource("", []byte(u.text)); u.bare != nil && !found.HasErrors() {
		return lang.Tidy(src)
	}
	return u.text
}

// plainComment gives lines of comment without the blanks around them.
func plainComment(text string) string {
	if strings.TrimSpace(text) == "" {
		return ""
	}
	lines := strings.Split(text, "\n")
	for i := range lines {
		lines[i] = strings.TrimSpace(lines[i])
	}
	return strings.Join(lines, "\n")
}
