package lang

import (
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// The grammar of one statement up to its block, for participle. Every alternative is
// told apart by its first token (lookahead 1). Literals are captured as text with the
// place of their own struct: a place captured into a token field would be that of the
// blank before it.

type head struct {
	Pos     lexer.Position
	Keyword string   `parser:"@Word"`
	Values  []*value `parser:"@@*"`
	Body    *body    `parser:"@@?"`
}

type body struct {
	Expression *formula `parser:"Assign? @@"`
	Because    *literal `parser:"( Because @@ )?"`
}

type value struct {
	First *literal   `parser:"( @@"`
	Sizes []*literal `parser:"  ( ( Times @@ )+"`
	Ratio *literal   `parser:"  | Colon @@"`
	List  []*literal `parser:"  | ( Comma @@ )+"`
	Dots  *dots      `parser:"  | @@ )? )"`
	Until *literal   `parser:"| Dots @@"`
}

// form says how the parts of a value that has a first one are joined.
func (v *value) form() Form {
	switch {
	case v.Sizes != nil:
		return SizeOf
	case v.Ratio != nil:
		return RatioOf
	case v.List != nil:
		return ListOf
	case v.Dots != nil:
		return IntervalOf
	}
	return Single
}

type dots struct {
	Pos  lexer.Position
	Last *literal `parser:"Dots @@?"`
}

type literal struct {
	Pos      lexer.Position
	Text     string `parser:"  @Text"`
	Quantity string `parser:"| @Quantity"`
	Word     string `parser:"| @Word"`
}

type formula struct {
	Pos  lexer.Position
	Text string `parser:"@Expression"`
}

type values struct {
	Values []*value `parser:"@@*"`
}

var (
	headParser   = sync.OnceValue(build[head])
	valuesParser = sync.OnceValue(build[values])
)

func build[G any]() *participle.Parser[G] {
	return participle.MustBuild[G](
		participle.Lexer(definition{}),
		participle.UseLookahead(1),
	)
}
