package lang

import "strings"

// A File is the syntax of one source: its statements in order. Comments are not part of
// the syntax; [Tidy] keeps them by working on tokens.
type File struct {
	Source     *Source
	Edition    *Statement // the line that says the edition, not among Statements; nil when there is none
	Statements []*Statement
	refused    bool // it was not read at all, which is reported
}

// A Statement is "keyword values… [block]", or "keyword [name =] expression [because text]".
type Statement struct {
	Keyword    Word
	Values     []Value
	Expression *Expression // nil unless given
	Block      *Block      // nil unless given
	Span       Span        // the whole statement with its block
	faulty     bool        // its line could not be read, which is reported
}

// A Block is the statements between two braces.
type Block struct {
	Statements []*Statement
	Span       Span // with the braces
}

// A Word is a bare word, such as a keyword.
type Word struct {
	Value string
	Span  Span
}

// A Text is a quoted text with its escapes resolved.
type Text struct {
	Value string
	Span  Span // with the quotes
}

// Inner gives the span between the quotes. Its bytes are those of the file, escapes
// included, so that a place inside the text can be pointed at.
func (t Text) Inner() Span { return t.Span.Sub(1, t.Span.End-t.Span.Start-1) }

// An Expression is the raw text of an expression and its place. It is checked against a
// vocabulary by package expression.
type Expression struct {
	Span    Span
	Because Text // the reason given with it; zero if there is none
}

// Known reports whether an expression was given.
func (e Expression) Known() bool { return e.Span.Known() }

// A Form says how the parts of a value are joined.
type Form uint8

const (
	Single     Form = iota + 1 // a
	IntervalOf                 // a..b, with either end possibly left out
	SizeOf                     // a x b [x c]
	RatioOf                    // a:b
	ListOf                     // a, b [, c…]
)

// A Value is one value of a statement.
type Value struct {
	Form  Form
	Parts []Part
	Span  Span
}

// A PartKind says what a [Part] holds.
type PartKind uint8

const (
	Absent     PartKind = iota // the open end of an interval
	BadPart                    // something already reported
	TextPart                   // Text holds the resolved text
	WordPart                   // Text holds the word
	NumberPart                 // Quantity holds the quantity
)

// A Part is one operand of a value.
type Part struct {
	Kind     PartKind
	Text     string
	Quantity Quantity
	Span     Span
}

// bad reports whether any part was already reported as wrong.
func (v Value) bad() bool {
	for _, part := range v.Parts {
		if part.Kind == BadPart {
			return true
		}
	}
	return false
}

// describe names the value's kind for a message.
func (v Value) describe() string {
	switch v.Form {
	case IntervalOf:
		return "an interval"
	case SizeOf:
		return "a size"
	case RatioOf:
		return "a ratio"
	case ListOf:
		return "a list"
	}
	switch part := v.Parts[0]; part.Kind {
	case TextPart:
		return "a quoted text"
	case WordPart:
		return "a word"
	case NumberPart:
		return part.Quantity.Dim.String()
	}
	return "a value"
}

// Quote writes text as the language quotes it.
func Quote(text string) string {
	if !strings.ContainsAny(text, `\"`) {
		return `"` + text + `"` // making a replacer takes longer than all else
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

// Unquote undoes [Quote]. It is false when quoted is not exactly one quoted text.
func Unquote(quoted string) (text string, ok bool) {
	if !strings.HasPrefix(quoted, `"`) {
		return "", false
	}
	if kind, n := scanText(quoted); kind != tokenText || n != len(quoted) {
		return "", false
	}
	return unquote(quoted), true
}

func unquote(quoted string) string {
	inner := quoted[1 : len(quoted)-1]
	if strings.IndexByte(inner, '\\') < 0 {
		return inner
	}
	var b strings.Builder
	for i := 0; i < len(inner); i++ {
		if inner[i] == '\\' && i+1 < len(inner) {
			i++
		}
		b.WriteByte(inner[i])
	}
	return b.String()
}
