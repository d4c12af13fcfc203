package lang

import (
	"strings"
	"unicode"
)

// A Line is one statement on its way into a file: what a program found out, as the file is to
// say it.
type Line struct {
	Keyword string // "" for a line that is only a comment, or empty
	Value   string // as a file writes it, quotes included; may be empty
	Block   []Line // nil for a statement without a block
	Comment string // behind the value
	At      Span   // where the value was found; zero when it was typed or computed
	Adds    bool   // to a text that is there already, in a revision; it does not take its place
}

// Compose writes statements as tidy text, an empty line behind each block, and gives the origin
// of each line of the text.
func Compose(lines []Line) (text string, origins []Span) {
	c := &composer{}
	for _, line := range lines {
		c.write(line)
		if line.Block != nil {
			c.text.WriteString("\n")
		}
	}
	src, ds := NewSource("", []byte(c.text.String()))
	if ds.HasErrors() { // too large, or no text: whoever loads it gets the report
		return c.text.String(), c.found
	}
	text = Tidy(src)
	// Tidying changes white space only, so lines that are not blank keep their order.
	for line := range strings.Lines(text) {
		if strings.TrimSpace(line) == "" {
			origins = append(origins, Span{})
			continue
		}
		origins = append(origins, c.found[0])
		c.found = c.found[1:]
	}
	return text, origins
}

type composer struct {
	text  strings.Builder
	found []Span // origins of the lines that are not blank
}

func (c *composer) write(line Line) {
	statement := line.Keyword + " " + line.Value
	c.text.WriteString(statement)
	for before := range strings.Lines(statement[:strings.LastIndexByte(statement, '\n')+1]) { // a fault: a value has one line
		if strings.TrimSpace(before) != "" {
			c.found = append(c.found, line.At)
		}
	}
	if line.Block != nil {
		c.text.WriteString(" {")
	}
	if line.Comment != "" {
		indent := line.Comment[:len(line.Comment)-len(strings.TrimLeft(line.Comment, " "))]
		c.text.WriteString(" // " + indent + plainLine(line.Comment))
	}
	if line.Keyword != "" || line.Comment != "" {
		c.found = append(c.found, line.At)
	}
	c.text.WriteString("\n")
	if line.Block == nil {
		return
	}
	for _, inner := range line.Block {
		c.write(inner)
	}
	c.found = append(c.found, Span{})
	c.text.WriteString("}\n")
}

// plainLine gives a text in one line, for a comment ends with its line.
func plainLine(text string) string {
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }), " ")
}
