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
	Amends bool // it changes single lines of an item that is there already
	Lines  []Line
	At     lang.Span // where the name was found; zero when it was typed or computed
}

// A Line is one statement of a draft.
type Line struct {
	Keyword string
	Value   string    // as a file writes it, quotes included; may be empty
	Block   []Line    // nil for a statement without a block
	At      lang.Span // where the value was found; zero when it was typed or computed
	Adds    bool      // to a text that an item has, in a revision; it does not take its place
}

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
	var raw strings.Builder
	var found []lang.Span
	for _, d := range drafts {
		if d.Amends {
			raw.WriteString(amendKeyword + " ")
		}
		raw.WriteString(d.Kind + " " + lang.Quote(d.Name) + " {\n")
		found = append(writeLines(&raw, d.Lines, append(found, d.At)), lang.Span{})
		raw.WriteString("}\n\n")
	}
	src, ds := lang.NewSource("", []byte(raw.String()))
	if ds.HasErrors() { // too large, or no text: whoever loads it gets the report
		return raw.String(), found
	}
	text = lang.Tidy(src)
	// Tidying changes white space only, so lines that are not blank keep their order.
	for line := range strings.Lines(text) {
		if strings.TrimSpace(line) == "" {
			origins = append(origins, lang.Span{})
			continue
		}
		origins = append(origins, found[0])
		found = found[1:]
	}
	return text, origins
}

func writeLines(b *strings.Builder, lines []Line, found []lang.Span) []lang.Span {
	for _, line := range lines {
		b.WriteString(line.Keyword + " " + line.Value)
		found = append(found, line.At)
		if line.Block != nil {
			b.WriteString(" {\n")
			found = append(writeLines(b, line.Block, found), lang.Span{})
			b.WriteString("}")
		}
		b.WriteString("\n")
	}
	return found
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
