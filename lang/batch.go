package lang

import (
	"sync"

	"github.com/alecthomas/participle/v2/lexer"
)

// batches gives the tokens of a text to participle, without blanks and comments, some lines
// at a time, so that memory never holds all tokens of a large file. A batch ends where a
// head ends, so that the grammar never meets the end of one.
//
// A [lexer.PeekingLexer] reads all its tokens when it is made. The list that its Range gives
// is the one that it reads, so one PeekingLexer serves all batches.
type batches struct {
	scan scanner
	batch
}

// batch is some tokens and what reads them.
type batch struct {
	lex   *lexer.PeekingLexer
	start lexer.Checkpoint // before the first token of lex
	list  []lexer.Token    // the tokens that lex reads
}

// spareBatches keeps the memory of texts that are read.
var spareBatches = sync.Pool{New: func() any { return new(batch) }}

// release lets the memory of the tokens be used again.
func (b *batches) release() {
	spare := b.batch
	b.batch = batch{}
	spareBatches.Put(&spare)
}

const (
	// enough tokens make a batch.
	enough = 280
	// room is the first length of the list: append makes it 319 long at this length, and
	// more than a usual line is left behind enough.
	room = 318
)

// resize gives the list another length.
func (b *batches) resize(length int) {
	lex, err := lexer.Upgrade(&padding{length})
	if err != nil { // padding never fails
		panic(err)
	}
	b.lex, b.start, b.list = lex, lex.MakeCheckpoint(), lex.Range(0, lexer.RawCursor(length))
}

// padding gives tokens that are to be replaced.
type padding struct{ left int }

// Next implements [lexer.Lexer].
func (p *padding) Next() (lexer.Token, error) {
	if p.left == 0 {
		return lexer.EOFToken(lexer.Position{}), nil
	}
	p.left--
	return lexer.Token{Type: tokenEndOfLine}, nil
}

// fill scans the next batch.
func (b *batches) fill() {
	if b.lex == nil {
		b.batch = *spareBatches.Get().(*batch)
	}
	if b.lex == nil {
		b.resize(min(room, len(b.scan.text)+2))
	}
	tokens := b.list[:0]
	for ended := false; !ended; {
		token, _ := b.scan.Next() // the scanner never fails
		if token.Type != tokenBlank && token.Type != tokenComment {
			tokens = append(tokens, token)
			ended = token.EOF() || len(tokens) >= enough && endsHead(token.Type)
		}
	}
	tokens = append(tokens, lexer.EOFToken(b.scan.at))
	if len(tokens) > len(b.list) {
		b.resize(2 * len(tokens))
		copy(b.list, tokens)
	}
	b.lex.LoadCheckpoint(b.start)
}

// peek gives the next token; the last is EOF for ever.
func (b *batches) peek() *lexer.Token {
	if b.lex.Peek().EOF() && b.scan.at.Offset < len(b.scan.text) {
		b.fill()
	}
	return b.lex.Peek()
}
