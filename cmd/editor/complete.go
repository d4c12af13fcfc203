package editor

import (
	"fmt"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/sun"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A completion is one thing that may be written at a place.
type completion struct {
	Label         string   `json:"label"`
	Kind          int      `json:"kind"`
	Detail        string   `json:"detail,omitempty"`
	Documentation *markup  `json:"documentation,omitempty"`
	SortText      string   `json:"sortText"`
	FilterText    string   `json:"filterText"`
	TextEdit      textEdit `json:"textEdit"`
}

// The kinds of completion, as the protocol numbers them.
const (
	kindFunction = 3
	kindField    = 5
	kindVariable = 6
	kindUnit     = 11
	kindValue    = 12
	kindKeyword  = 14
)

// complete lists what may stand at an offset, in the order in which a reader expects it.
func (s *server) complete(d *document, offset int) any {
	place := d.source.At(offset)
	c := completer{document: d, server: s, place: place, replace: place.Span, list: []completion{}}
	c.replace.End = offset // what stands behind the cursor stays
	switch place.Kind {
	case lang.AtKeyword:
		c.keywords()
	case lang.AtExpression:
		c.within(offset)
		c.expression()
	case lang.AtText:
		if strings.HasSuffix(place.Span.Text(), `"`) && place.Span.End > offset {
			c.replace.End = place.Span.End
		}
		if c.inBraces(offset) {
			c.facts(nil)
		} else {
			c.names()
		}
	case lang.AtWord, lang.AtValue, lang.AtQuantity:
		c.words()
		c.names()
		c.units()
	}
	return map[string]any{"isIncomplete": false, "items": c.list}
}

type completer struct {
	*document
	server  *server
	place   lang.Place
	replace lang.Span // what a completion takes the place of
	list    []completion
}

func (c *completer) add(kind int, label, text, detail, about string) {
	item := completion{
		Label: label, Kind: kind, Detail: detail, SortText: fmt.Sprintf("%04d", len(c.list)),
		FilterText: text, TextEdit: textEdit{rangeOf(c.replace), text},
	}
	if about != "" {
		of := markdown(about)
		item.Documentation = &of
	}
	c.list = append(c.list, item)
}

// within makes the word before the cursor, of an expression or a text, what is replaced.
func (c *completer) within(offset int) {
	text := c.source.Text[:offset]
	start := strings.LastIndexFunc(text, func(r rune) bool { return r != '_' && (r < 'a' || r > 'z') && (r < '0' || r > '9') }) + 1
	c.replace = lang.Span{Source: c.source, Start: max(start, c.place.Span.Start), End: offset}
}

// inBraces reports whether the cursor stands behind a brace that is open in a text, and
// makes the word behind it what is replaced.
func (c *completer) inBraces(offset int) bool {
	before := c.source.Text[c.place.Span.Start:offset]
	if strings.LastIndexByte(before, '{') <= strings.LastIndexByte(before, '}') {
		return false
	}
	c.within(offset)
	return true
}

// keywords offers the statements that the block takes.
func (c *completer) keywords() {
	b := blockOf(c.kind, c.place.Block())
	if b == nil {
		return
	}
	for i := range b.Fields {
		f := &b.Fields[i]
		c.add(kindField, f.Keyword, f.Keyword, f.Takes, f.About)
	}
}

// words offers the words that the statement takes at this place.
func (c *completer) words() {
	f := blockOf(c.kind, c.place.Block()).field(c.place.Keyword.Value)
	if f == nil {
		return
	}
	words := f.Words
	first := len(c.place.Values) == 0
	switch f.Keyword {
	case "frame":
		if first || c.place.Last().Text() == ".." {
			words = brief.FramingWords()
		}
	case "move":
		words = brief.Moves()
		if !first {
			words = []string{"low mode", "run"}
		}
	case "light":
		words = exposure.LevelNames()
		if !first {
			words = sun.Skies()
		}
	case "subject":
		if first {
			words = brief.SubjectKinds()
		}
	case "distance":
		if first {
			words = []string{"within"}
		}
	case "given":
		if first {
			c.facts(nil)
		} else {
			words = []string{"true", "false", "unknown"}
		}
	case "expect":
		words = map[bool][]string{true: {"kit", "shot"}}[first]
		if c.place.Block() == "case" {
			words = map[bool][]string{true: {"veto", "no veto", "limit", "score", "skip", "unknown"}}[first]
			break
		}
		if len(c.place.Values) == 2 && c.place.Values[0].Text() == "shot" {
			words = []string{"lens"}
		}
	case "chose":
		if strings.HasPrefix(c.place.Last().Text(), `"`) {
			words = []string{"over", "in shot"}
		}
	case "order":
		words = []string{"free", "free in scene", "free in place"}
	case "use":
		words = []string{"demo"}
	}
	for _, word := range words {
		c.add(kindValue, word, word, "", "")
	}
}

// names offers the names of equipment and shots that may stand here.
func (c *completer) names() {
	kind := c.nameKind(c.place)
	of, ok := shelves[kind]
	if !ok {
		return
	}
	scenario := c.server.lookAt(c.document, c.place)
	for _, name := range of.names(scenario) {
		c.add(kindValue, name, lang.Quote(name), kind, of.find(scenario, kind, name, c.server.Printer).text)
	}
}

// units offers units behind a number that has none yet.
func (c *completer) units() {
	text := c.place.Span.Text()
	number := strings.TrimRight(text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ/%")
	if c.place.Kind != lang.AtQuantity || number == "" {
		return
	}
	c.replace.Start += len(number)
	for _, dim := range []lang.Dimension{lang.Length, lang.Mass, lang.Time, lang.Angle, lang.Speed, lang.AngularSpeed, lang.Rate, lang.Illuminance, lang.Stops} {
		for _, name := range lang.UnitNames(dim) {
			if unit, ok := lang.FindUnit(name); ok {
				c.add(kindUnit, name, map[bool]string{true: " "}[unit.Spaced]+name, unit.Dim.String(), "")
			}
		}
	}
}

// expression offers facts, functions and the words of expressions.
func (c *completer) expression() {
	c.facts(func(function *expression.Function) {
		c.add(kindFunction, function.Signature(), function.Name+"(", "", function.Meaning)
	})
	for _, word := range []string{"and", "or", "not", "true", "false"} {
		c.add(kindKeyword, word, word, "", "")
	}
}

// facts offers the facts, and the functions where there is something to add them with.
func (c *completer) facts(addFunction func(*expression.Function)) {
	vocabulary := c.server.look(c.document).Rules.Names()
	for i := range vocabulary.Len() {
		name := vocabulary.Name(i)
		detail := "yes or no"
		if name.Kind == expression.Number {
			detail = name.Dim.String()
		}
		c.add(kindVariable, name.Name, name.Name, detail, name.Meaning)
	}
	if addFunction == nil {
		return
	}
	functions := expression.Functions()
	for i := range functions {
		addFunction(&functions[i])
	}
}
