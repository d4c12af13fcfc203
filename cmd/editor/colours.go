package editor

import (
	"strings"
	"unicode/utf16"

	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// The kinds of token that a client colours, by their place in [tokenKinds].
const (
	colourKeyword = iota
	colourText
	colourNumber
	colourWord
	colourFact
	colourFunction
	colourComment
	colourSign
)

// tokenKinds names them as the protocol does.
var tokenKinds = []string{"keyword", "string", "number", "enumMember", "variable", "function", "comment", "operator"}

// colours gives the tokens of a document: for each how many lines and characters behind the one before it
// begins, its length, its kind and no more.
func (s *server) colours(d *document, _ *params) (any, error) {
	c := colouring{data: []int{}}
	for place := range d.source.Tokens() {
		switch place.Kind {
		case lang.AtKeyword:
			c.add(place.Span, colourKeyword)
		case lang.AtWord:
			c.add(place.Span, colourWord)
		case lang.AtText:
			if isTemplate(place) {
				c.template(place.Span)
			} else {
				c.add(place.Span, colourText)
			}
		case lang.AtQuantity:
			c.add(place.Span, colourNumber)
		case lang.AtComment:
			c.add(place.Span, colourComment)
		case lang.AtExpression:
			c.expression(place.Span)
		case lang.AtSign:
			if place.Span.Text() != "{" && place.Span.Text() != "}" {
				c.add(place.Span, colourSign)
			}
		}
	}
	return map[string]any{"data": c.data}, nil
}

// colouring writes tokens as the protocol packs them.
type colouring struct {
	data []int
	last position
}

// add adds a span, line by line, since a client need not take a token of several.
func (c *colouring) add(span lang.Span, kind int) {
	at := span.Start
	for line := range strings.Lines(span.Text()) {
		text := strings.TrimRight(line, "\r\n")
		length := 0
		for _, r := range text {
			length += utf16.RuneLen(r)
		}
		if length > 0 {
			begins := positionOf(span.Source, at)
			column := begins.Character
			if begins.Line == c.last.Line {
				column -= c.last.Character
			}
			c.data = append(c.data, begins.Line-c.last.Line, column, length, kind, 0)
			c.last = begins
		}
		at += len(line)
	}
}

// template colours a text with the facts between its braces.
func (c *colouring) template(span lang.Span) {
	from := span.Start
	for part := range braced(span) {
		c.add(lang.Span{Source: span.Source, Start: from, End: part.Start}, colourText)
		c.expression(part)
		from = part.End
	}
	c.add(lang.Span{Source: span.Source, Start: from, End: span.End}, colourText)
}

// expression colours the words and quantities of an expression.
func (c *colouring) expression(span lang.Span) {
	for part := range parts(span) {
		switch text := part.Text(); {
		case wordLength(text) != len(text):
			c.add(part, colourNumber)
		case text == "and" || text == "or" || text == "not":
			c.add(part, colourKeyword)
		case text == "true" || text == "false":
			c.add(part, colourWord)
		case expression.FindFunction(text) != nil:
			c.add(part, colourFunction)
		default:
			c.add(part, colourFact)
		}
	}
}
