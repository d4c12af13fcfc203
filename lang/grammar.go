package lang

import (
	"slices"
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar of a statement up to its block, for participle. The first token tells every
// alternative apart, so a lookahead of 1 is enough.

// head is a statement up to its block.
type head struct {
	Keyword lexer.Token `parser:"@Word"`
	Values  values      `parser:"@@"`
	Body    *body       `parser:"@@?"`
}

type values struct {
	List []value `parser:"@@*"`
}

// value is one value. In its tokens operands alternate with what joins them; either end of
// an interval may be missing.
type value struct {
	Tokens []lexer.Token `parser:"@( (Text|Quantity|Word) ( ( Times (Text|Quantity|Word) )+ | Colon (Text|Quantity|Word) | ( Comma (Text|Quantity|Word) )+ | Dots (Text|Quantity|Word)? )? | Dots (Text|Quantity|Word) )"`
}

type body struct {
	Expression lexer.Token  `parser:"Assign? @Expression"`
	Because    *lexer.Token `parser:"( Because @(Text|Quantity|Word) )?"`
}

// lines is the root of the grammar of a file without a fault: consecutive lines of heads.
type lines struct {
	Sound *soundLines `parser:"@@"`
}

// release lets the memory of the heads be used again.
func (l *lines) release() { spareHeads.Put(&l.Sound.heads) }

// soundLines are lines of heads without a fault. They are read by hand, because the tags of
// head take several times as long for the same tree.
type soundLines struct {
	heads []head
}

var spareHeads = sync.Pool{New: func() any { return new([]head) }}

// Parse implements [participle.Parseable].
func (l *soundLines) Parse(lex *lexer.PeekingLexer) error {
	l.heads = (*spareHeads.Get().(*[]head))[:0]
	for {
		start := lex.MakeCheckpoint()
		for pass(lex, tokenEndOfLine) {
		}
		n := len(l.heads)
		l.heads = slices.Grow(l.heads, 1)[:n+1]
		if !passHead(lex, &l.heads[n]) {
			l.heads = l.heads[:n]
			lex.LoadCheckpoint(start)
			break
		}
	}
	if len(l.heads) == 0 {
		spareHeads.Put(&l.heads)
		return participle.NextMatch
	}
	return nil
}

// passHead reads a head into h, or reports that the next head has a fault.
func passHead(lex *lexer.PeekingLexer, h *head) bool {
	h.Keyword, h.Values.List, h.Body = *lex.Peek(), h.Values.List[:0], nil
	if !pass(lex, tokenWord) {
		return false
	}
	for !endsHead(lex.Peek().Type) {
		if next := lex.Peek().Type; next == tokenAssign || next == tokenExpression {
			h.Body = passBody(lex)
			return h.Body != nil && endsHead(lex.Peek().Type)
		}
		start := lex.RawCursor()
		if !passValue(lex) {
			return false
		}
		h.Values.List = append(h.Values.List, value{lex.Range(start, lex.RawCursor())})
	}
	return true
}

func passBody(lex *lexer.PeekingLexer) *body {
	pass(lex, tokenAssign)
	b := &body{Expression: *lex.Peek()}
	if !pass(lex, tokenExpression) {
		return nil
	}
	if pass(lex, tokenBecause) {
		reason := *lex.Peek()
		if b.Because = &reason; !passLiteral(lex) {
			return nil
		}
	}
	return b
}

func passValue(lex *lexer.PeekingLexer) bool {
	if !passLiteral(lex) {
		return pass(lex, tokenDots) && passLiteral(lex)
	}
	switch joint := lex.Peek().Type; joint {
	case tokenTimes, tokenComma:
		for pass(lex, joint) {
			if !passLiteral(lex) {
				return false
			}
		}
	case tokenColon:
		lex.Next()
		return passLiteral(lex)
	case tokenDots:
		lex.Next()
		passLiteral(lex)
	}
	return true
}

func passLiteral(lex *lexer.PeekingLexer) bool {
	return pass(lex, tokenText) || pass(lex, tokenQuantity) || pass(lex, tokenWord)
}

// pass consumes the next token if it is of the kind.
func pass(lex *lexer.PeekingLexer, kind lexer.TokenType) bool {
	if lex.Peek().Type != kind {
		return false
	}
	lex.Next()
	return true
}

// endsHead reports whether a kind of token ends a head: the end of a line, or a brace.
func endsHead(kind lexer.TokenType) bool {
	return kind == tokenEndOfLine || kind == lexer.EOF || kind == tokenOpen || kind == tokenClose
}

// The grammar of sound lines, and that of the tags, which says where a fault is. Making the latter
// takes longer than reading most files.
var (
	grammar  = sync.OnceValue(built[lines])
	ofFaults = sync.OnceValue(built[head])
)

func built[G any]() *participle.Parser[G] {
	return participle.MustBuild[G](participle.Lexer(definition{}), participle.UseLookahead(1))
}

// upToBlock lets the grammar end before a block, which it does not read.
var upToBlock = participle.AllowTrailing(true)

// production gives a parser for one type of the grammar.
func production[P any]() *participle.Parser[P] {
	part, err := participle.ParserForProduction[P](ofFaults())
	if err != nil { // the type is no part of the grammar
		panic(err)
	}
	return part
}
