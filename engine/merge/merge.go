package merge

import (
	"strings"

	"glassbrief/engine/textdiff"
	"glassbrief/lang"
)

// A Version is one of the three texts of a merge.
type Version struct {
	Name string // of the file, for people
	Text string
}

// Options say how a merge is written and what bounds it.
type Options struct {
	Shape        lang.Shape   // of all that may stand at the top of a file
	Ours, Theirs string       // what the sides are called in marks
	Marks        int          // how many characters a mark has; 0 is the usual 7
	Budget       *lang.Budget // nil is one of the usual size
}

// A Result is a merged text.
type Result struct {
	Text      string
	Conflicts []Conflict
	// Unread says why the text is merged by lines: what is wrong with a side. It is nil where the
	// three could be read.
	Unread lang.Diagnostics
}

// A Conflict is a place where both sides change the same.
type Conflict struct {
	Line         int    // of the first mark, in the merged text
	Block, Field string // what it is in, as `shot "4A"` and "distance"; "" where it is in no block, or is more than a field
	Ours, Theirs string // what each side has there, whole lines
}

// usualMarks is how many characters the marks of a conflict have.
const usualMarks = 7

// Merge joins two versions of a text that come from base. Without a conflict the text holds all that
// either side changes.
func Merge(base, ours, theirs Version, o Options) Result {
	if o.Marks == 0 {
		o.Marks = usualMarks
	}
	texts, form := unformed(base.Text, ours.Text, theirs.Text)
	m := &merger{Options: o}
	var r Result
	var units [3][]*unit
	var rest [3]string
	for i, v := range []Version{base, ours, theirs} {
		file, found := parse(Version{v.Name, texts[i]}, o.Budget)
		if found.HasErrors() {
			r.Unread = append(r.Unread, found...)
			continue
		}
		units[i], rest[i] = cut(file)
	}
	if r.Unread == nil {
		m.list(o.Shape, units[0], units[1], units[2])
		m.write(pick(rest[0], rest[1], rest[2]))
	} else {
		m.lines(texts[0], texts[1], texts[2])
	}
	r.Text, r.Conflicts = form.restored(m.out.String(), len(m.conflicts) > 0), m.conflicts
	return r
}

func parse(v Version, budget *lang.Budget) (*lang.File, lang.Diagnostics) {
	src, found := budget.Or().Source(v.Name, v.Text, lang.OfFile)
	if found.HasErrors() {
		return nil, found
	}
	return lang.Parse(src)
}

// merger writes a merged text.
type merger struct {
	Options
	out       strings.Builder
	lineEnds  int // in out
	block     string
	conflicts []Conflict
}

func (m *merger) write(text string) {
	m.out.WriteString(text)
	m.lineEnds += strings.Count(text, "\n")
}

// pick gives what a side changed; where both did, it is ours.
func pick[T comparable](base, ours, theirs T) T {
	if ours == base {
		return theirs
	}
	return ours
}

// block names the block that a unit is or is in.
func (u *unit) block(around string) string {
	if u.opens {
		return strings.TrimSpace(u.keyword + " " + u.name)
	}
	return around
}

// field names the line that a unit is; "" for a block.
func (u *unit) field() string {
	switch {
	case u.opens:
		return ""
	case u.keyword == "":
		return "comment"
	}
	return u.keyword
}

// hunk writes what both sides have between marks.
func (m *merger) hunk(block, field, ours, theirs string) {
	m.conflicts = append(m.conflicts, Conflict{Line: m.lineEnds + 1, Block: block, Field: field, Ours: ours, Theirs: theirs})
	mark := func(sign, label string) { m.write(strings.TrimSpace(strings.Repeat(sign, m.Marks)+" "+label) + "\n") }
	mark("<", m.Ours)
	m.write(ours)
	mark("=", "")
	m.write(theirs)
	mark(">", m.Theirs)
}

// entity merges one unit.
func (m *merger) entity(shape lang.Shape, e *entity) {
	b, o, t := e.base, e.ours, e.theirs
	whole := func(u *unit) { m.write(u.gap + u.raw) }
	switch {
	case o == nil && t == nil:
	case b == nil && t == nil:
		whole(o)
	case b == nil && o == nil:
		whole(t)
	case o == nil: // our side took it out
		if !t.same(b) {
			m.hunk(t.block(m.block), t.field(), "", t.gap+t.raw)
		}
	case t == nil:
		if !o.same(b) {
			m.hunk(o.block(m.block), o.field(), o.gap+o.raw, "")
		}
	default:
		m.both(shape, b, o, t)
	}
}

// both merges a unit that both sides have; base may be nil.
func (m *merger) both(shape lang.Shape, b, o, t *unit) {
	if b == nil {
		m.write(o.gap)
	} else {
		m.write(pick(b.gap, o.gap, t.gap))
	}
	blocks := o.opens && t.opens && (b == nil || b.opens) // the layout in a block is merged line by line
	switch {
	case b != nil && o.raw == b.raw, o.raw == t.raw:
		m.write(t.raw)
	case b != nil && t.raw == b.raw, !blocks && o.same(t):
		m.write(o.raw)
	case !blocks && o.same(b):
		m.write(t.raw)
	case !blocks && t.same(b):
		m.write(o.raw)
	case o.opens != t.opens || b != nil && b.opens != o.opens:
		m.hunk(o.block(m.block), o.field(), o.raw, t.raw)
	default:
		if b == nil {
			b = &unit{opens: o.opens, closes: &unit{}}
		}
		m.lines(b.lead, o.lead, t.lead)
		if o.keyword == "" {
			m.lines(b.text, o.text, t.text)
			return
		}
		m.line(b, o, t)
		if o.opens {
			around := m.block
			m.block = o.block(around)
			m.list(shape[o.keyword].Inner, b.inner, o.inner, t.inner)
			m.write(pick(b.closes.gap, o.closes.gap, t.closes.gap))
			m.line(b.closes, o.closes, t.closes)
			m.block = around
		}
	}
}

// line merges the line of a statement, or of the head or the brace of a block: first what it says, then
// the comment behind it.
func (m *merger) line(b, o, t *unit) {
	said := func(u *unit) string { return u.says(u.tidyText()) }
	text, ok := settle(b.text, o.text, t.text, said(b), said(o), said(t))
	trail, too := settle(b.trail, o.trail, t.trail, plainComment(b.trail), plainComment(o.trail), plainComment(t.trail))
	switch {
	case ok && too:
		m.write(text + trail)
	case ok:
		m.hunk(o.block(m.block), o.field(), text+o.trail, text+t.trail)
	default:
		m.hunk(o.block(m.block), o.field(), o.text+o.trail, t.text+t.trail)
	}
}

// settle takes what one side changes, by what three texts say; ok is false where both change it and
// not to the same.
func settle(base, ours, theirs, saysBase, saysOurs, saysTheirs string) (text string, ok bool) {
	switch {
	case saysOurs == saysTheirs:
		return pick(base, ours, theirs), true
	case saysOurs == saysBase:
		return theirs, true
	case saysTheirs == saysBase:
		return ours, true
	}
	return "", false
}

// lines merges texts by lines.
func (m *merger) lines(base, ours, theirs string) {
	switch {
	case ours == base, ours == theirs:
		m.write(theirs)
		return
	case theirs == base:
		m.write(ours)
		return
	}
	for _, s := range stretches(textdiff.Lines(base), textdiff.Lines(ours), textdiff.Lines(theirs)) {
		if settled, ok := s.settle(); ok {
			m.write(strings.Join(settled, ""))
			continue
		}
		start, end := s.common()
		join := func(list []string) string { return strings.Join(list, "") }
		m.write(join(s.ours[:start]))
		m.hunk(m.block, "", join(s.ours[start:len(s.ours)-end]), join(s.theirs[start:len(s.theirs)-end]))
		m.write(join(s.ours[len(s.ours)-end:]))
	}
}
