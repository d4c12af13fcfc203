package catalog

import (
	"strings"

	"glassbrief/lang"
)

// A Draft is an item on its way into a file: what an import, a form or a measurement
// found out, as the statements of its block. Its text is read, checked and taken over
// like any other, so that there is one way into a catalogue.
type Draft struct {
	Kind   string // keyword of the block, as "lens"
	Name   string
	Title  string // of a shot: what happens in it
	Amends bool   // it changes single lines of an item that is there already
	Lines  []Line
	At     lang.Span // where the name was found; zero when it was typed or computed
}

// A Line is one statement of a draft.
type Line = lang.Line

// NoteJoint stands between the remarks of an item that come from several cells.
const NoteJoint = "; "

// FullName gives the name of an item by its maker and model, without naming the maker twice.
func FullName(maker, model string) string {
	if maker == "" || strings.HasPrefix(strings.ToLower(model), strings.ToLower(maker)) {
		return model
	}
	return maker + " " + model
}

// Compose writes drafts as tidy text, and gives the origin of each line of the text.
func Compose(drafts []Draft) (text string, origins []lang.Span) {
	lines := make([]Line, len(drafts))
	for i, d := range drafts {
		lines[i] = d.Statement()
	}
	return lang.Compose(lines)
}

// Statement gives the draft as the statement that a file has of it.
func (d Draft) Statement() Line {
	keyword := d.Kind
	if d.Amends {
		keyword = amendKeyword + " " + d.Kind
	}
	name := lang.Quote(d.Name)
	if d.Title != "" {
		name += " " + lang.Quote(d.Title)
	}
	return Line{Keyword: keyword, Value: name, Block: append([]Line{}, d.Lines...), At: d.At}
}

// Relocate moves findings from lines of composed text to the origins of those lines.
func Relocate(found lang.Diagnostics, composed *lang.Source, origins []lang.Span) lang.Diagnostics {
	move := func(span lang.Span) lang.Span {
		if span.Source != composed {
			return span
		}
		if line := span.Position().Line; line <= len(origins) && origins[line-1].Known() {
			return origins[line-1]
		}
		return span
	}
	moved := make(lang.Diagnostics, len(found))
	for i, d := range found {
		d.Span = move(d.Span)
		related := make([]lang.Related, len(d.Related))
		for j, r := range d.Related {
			related[j] = lang.Related{Span: move(r.Span), Note: r.Note}
		}
		d.Related = related
		moved[i] = d
	}
	return moved
}
