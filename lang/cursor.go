package lang

import "github.com/alecthomas/participle/v2/lexer"

// cursor goes over the tokens of a text that mean something, without holding them all: a
// copy of it is a place to come back to.
type cursor struct {
	scan  scanner
	token lexer.Token // the one that it stands at
}

func newCursor(text string) cursor {
	c := cursor{scan: scanner{text: text, fresh: true}}
	c.next()
	return c
}

// next goes on to the next token; the last is EOF for ever.
func (c *cursor) next() {
	for {
		c.token, _ = c.scan.Next() // the scanner never fails
		if c.token.Type != tokenBlank && c.token.Type != tokenComment {
			return
		}
	}
}

// untilHeadEnds gives the tokens of a cursor to the grammar: those of one statement up to
// its block, and the one that ends it, at which the cursor is left.
type untilHeadEnds struct {
	from  *cursor
	ended bool
}

// Next implements [lexer.Lexer].
func (u *untilHeadEnds) Next() (lexer.Token, error) {
	token := u.from.token
	switch {
	case u.ended:
		return lexer.EOFToken(token.Pos), nil
	case endsHead(token.Type):
		u.ended = true
	default:
		u.from.next()
	}
	return token, nil
}
