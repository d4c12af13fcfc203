package lang

import (
	"iter"
	"slices"

	"github.com/alecthomas/participle/v2/lexer"
)

// A PlaceKind says what stands at a place, or what may be written there.
type PlaceKind uint8

const (
	AtKeyword    PlaceKind = iota + 1 // the first word of a statement
	AtValue                           // the blank behind a keyword or value
	AtWord                            // a word that is a value
	AtText                            // a quoted text, closed or not
	AtQuantity                        // a quantity
	AtExpression                      // an expression; Span is all of it
	AtComment                         // a comment
	AtSign                            // a brace, an operator or what is no token
)

// A Head is a statement up to its block.
type Head struct {
	Keyword Word
	Values  []Span // the tokens behind the keyword, in order
}

// A Place says what stands at an offset of a text, for editors. It is made from tokens,
// so that it holds in a text that is still being written.
type Place struct {
	Blocks []Head // the statements whose blocks are open, outermost first
	Head          // of the statement, up to the place
	Kind   PlaceKind
	Span   Span // the token, empty where there is none
}

// Block gives the keyword of the innermost block, or "" at the top of the file.
func (p Place) Block() string {
	if len(p.Blocks) == 0 {
		return ""
	}
	return p.Blocks[len(p.Blocks)-1].Keyword.Value
}

// Last gives the last token before the place in its statement, or the zero span.
func (p Place) Last() Span {
	if len(p.Values) == 0 {
		return Span{}
	}
	return p.Values[len(p.Values)-1]
}

// At gives the place of a byte offset. Where two tokens touch, the second counts. Right
// behind a token that no other touches, that token counts, so that a word being written
// is found.
func (s *Source) At(offset int) Place {
	scan := &scanner{text: s.Text, fresh: true}
	at := Place{Kind: AtKeyword, Span: Span{Source: s, Start: offset, End: offset}}
	var found *Place
	for {
		fresh := scan.fresh
		token, _ := scan.Next()
		span := Span{Source: s, Start: token.Pos.Offset, End: token.Pos.Offset + len(token.Value)}
		gap := token.Type == tokenBlank || token.Type == tokenEndOfLine || token.Type == lexer.EOF
		if gap && found != nil || span.Start > offset {
			break
		}
		if span.End > offset && !gap || span.End == offset && touches(token.Type) {
			here := at
			here.Blocks, here.Values = slices.Clip(at.Blocks), slices.Clip(at.Values)
			here.Span, here.Kind = span, placeKind(token.Type, fresh)
			found = &here
		}
		if token.Type == lexer.EOF || span.End > offset {
			break
		}
		at.pass(token.Type, span, fresh)
		if scan.awaits(tokenExpression) {
			at.Kind = AtExpression
		}
	}
	if found != nil {
		return *found
	}
	return at
}

// Tokens gives the place of every token of the text but blanks and ends of lines, in order. A place holds
// until the next is given.
func (s *Source) Tokens() iter.Seq[Place] {
	return func(yield func(Place) bool) {
		scan := &scanner{text: s.Text, fresh: true}
		at := Place{Kind: AtKeyword}
		for {
			fresh := scan.fresh
			token, _ := scan.Next()
			if token.Type == lexer.EOF {
				return
			}
			span := Span{Source: s, Start: token.Pos.Offset, End: token.Pos.Offset + len(token.Value)}
			if token.Type != tokenBlank && token.Type != tokenEndOfLine {
				here := at
				here.Span, here.Kind = span, placeKind(token.Type, fresh)
				if !yield(here) {
					return
				}
			}
			at.pass(token.Type, span, fresh)
		}
	}
}

// pass moves the place behind a token.
func (p *Place) pass(kind lexer.TokenType, span Span, fresh bool) {
	switch kind {
	case tokenBlank, tokenComment:
	case tokenEndOfLine:
		p.Head, p.Kind = Head{}, AtKeyword
	case tokenOpen:
		p.Blocks = append(slices.Clip(p.Blocks), p.Head)
		p.Head, p.Kind = Head{}, AtKeyword
	case tokenClose:
		p.Blocks = p.Blocks[:max(0, len(p.Blocks)-1)]
		p.Head, p.Kind = Head{}, AtKeyword
	default:
		if kind == tokenWord && fresh {
			p.Head = Head{Keyword: Word{Value: span.Text(), Span: span}}
			p.Kind = AtValue
			return
		}
		p.Values = append(p.Values, span)
		p.Kind = AtValue
		if kind == tokenExpression {
			p.Kind = AtExpression
		}
	}
}

// touches reports whether a place behind a token still belongs to it.
func touches(kind lexer.TokenType) bool {
	switch kind {
	case tokenWord, tokenQuantity, tokenExpression, tokenUnclosedText, tokenBecause, tokenTimes, tokenComment:
		return true
	}
	return false
}

func placeKind(kind lexer.TokenType, fresh bool) PlaceKind {
	switch kind {
	case tokenWord, tokenBecause, tokenTimes:
		if fresh {
			return AtKeyword
		}
		return AtWord
	case tokenText, tokenUnclosedText:
		return AtText
	case tokenQuantity:
		return AtQuantity
	case tokenExpression:
		return AtExpression
	case tokenComment:
		return AtComment
	}
	return AtSign
}
