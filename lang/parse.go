package lang

import (
	"errors"
	"fmt"
	"strings"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// Parse reads the syntax of a source. It recovers at the end of each line, so that one
// run finds every fault; the file then holds the statements that could be read. A file with
// blocks nested past [MaxNesting] is refused whole.
//
// A statement up to its block is read by plainHead, or by participle where it is more than
// plain values. Blocks and recovery are done here: a
// parse by grammar alone ends at the first fault, and recursion by grammar has no bound.
func Parse(src *Source) (*File, Diagnostics) {
	p := &parser{src: src, at: newCursor(src.Text)}
	statements := p.statements(nil)
	if p.refused {
		return &File{Source: src, refused: true}, p.found
	}
	return &File{Source: src, Statements: statements}, p.found
}

type parser struct {
	src     *Source
	at      cursor
	found   Diagnostics
	depth   int // of the blocks that are open
	refused bool

	plain  []plain // of the statement being read; kept to be used again
	heads  slab[Statement]
	values slab[Value]
	parts  slab[Part]
}

// refuse gives the file up for a block that is nested too deep: it is no scenario, and more
// of the same would follow.
func (p *parser) refuse(open *lexer.Token) {
	p.refused = true
	p.found = Diagnostics{{
		Severity: Error, Code: TooDeep, Span: p.span(open),
		Summary: fmt.Sprintf("blocks are nested more than %d deep", MaxNesting),
		Detail:  "Close a block with \"}\" before opening more.",
	}}
	p.at = cursor{token: lexer.EOFToken(open.Pos)}
}

func (p *parser) span(token *lexer.Token) Span {
	return Span{Source: p.src, Start: token.Pos.Offset, End: token.Pos.Offset + len(token.Value)}
}

// statements reads up to the end of the file or the brace that closes open.
func (p *parser) statements(open *lexer.Token) []*Statement {
	var list []*Statement
	for len(p.found) < MaxRecorded && !p.refused {
		switch token := p.at.token; token.Type {
		case tokenEndOfLine:
			p.at.next()
		case lexer.EOF:
			if open != nil {
				p.found.Add(Diagnostic{
					Severity: Error, Code: UnclosedBlock, Span: p.span(open),
					Summary: "this block is never closed",
					Detail:  "Add \"}\" on a line of its own where the block ends.",
				})
			}
			return list
		case tokenClose:
			if open != nil {
				return list
			}
			p.found.Add(Diagnostic{
				Severity: Error, Code: UnexpectedText, Span: p.span(&token),
				Summary: "no block is open here to be closed", Detail: "Remove the \"}\".",
			})
			p.at.next()
		default:
			if statement := p.statement(); statement != nil {
				list = append(list, statement)
			}
		}
	}
	return list
}

// statement reads one statement with its block, or reports a fault and skips the line;
// the block of a faulty line is read all the same, so that its own faults are found.
func (p *parser) statement() *Statement {
	statement := p.plainHead()
	if statement == nil {
		statement = p.head()
	}
	open := p.at.token
	if open.Type != tokenOpen {
		return statement
	}
	if p.depth == MaxNesting {
		p.refuse(&open)
		return nil
	}
	p.depth++
	p.at.next()
	block := &Block{Statements: p.statements(&open), Span: p.span(&open)}
	p.depth--
	end := p.at.token // the closing brace, or the end of the file
	block.Span = block.Span.To(p.span(&end))
	if end.Type == tokenClose {
		p.at.next()
	}
	if after := &p.at.token; after.Type != tokenEndOfLine && after.Type != lexer.EOF && after.Type != tokenClose {
		p.reportUnexpected(after)
		p.skipLine()
	}
	if statement != nil {
		statement.Block = block
		statement.Span = statement.Span.To(block.Span)
	}
	return statement
}

// head reads a statement up to its block by the grammar. Of a faulty line it reports the
// fault and gives the keyword alone, so that nobody misses the field; nil without one.
func (p *parser) head() *Statement {
	keyword := p.at.token
	lex, err := lexer.Upgrade(&untilHeadEnds{from: &p.at})
	if err != nil { // the scanner never fails
		panic(err)
	}
	parsed, err := headParser().ParseFromLexer(lex, participle.AllowTrailing(true))
	switch next := lex.Peek(); {
	case err != nil:
		p.reportHead(err, &keyword)
	case !endsHead(next.Type):
		p.reportUnexpected(next)
	default:
		return p.build(parsed)
	}
	if keyword.Type != tokenWord {
		return nil
	}
	statement := p.newStatement(keyword.Value, p.span(&keyword))
	statement.faulty = true
	return statement
}

func (p *parser) newStatement(keyword string, span Span) *Statement {
	statement := &p.heads.take(1)[0]
	statement.Keyword = Word{Value: keyword, Span: span}
	statement.Span = span
	return statement
}

func endsHead(kind lexer.TokenType) bool {
	return kind == tokenEndOfLine || kind == lexer.EOF || kind == tokenOpen || kind == tokenClose
}

// skipLine goes on to the end of the line, or to a brace that opens or closes a block.
func (p *parser) skipLine() {
	for !endsHead(p.at.token.Type) {
		p.at.next()
	}
}

// reportHead says what is wrong with the tokens that the grammar refused, from first on.
func (p *parser) reportHead(err error, first *lexer.Token) {
	var unexpected *participle.UnexpectedTokenError
	if errors.As(err, &unexpected) {
		token := unexpected.Unexpected
		p.reportUnexpected(&token)
		return
	}
	p.reportUnexpected(first)
}

// reportUnexpected says what is wrong with a token that fits nowhere.
func (p *parser) reportUnexpected(token *lexer.Token) {
	d := Diagnostic{Severity: Error, Code: UnexpectedText, Span: p.span(token)}
	shown := clip(token.Value)
	switch token.Type {
	case tokenUnclosedText:
		d.Code, d.Summary = UnclosedText, "this text has no closing quote"
		d.Detail = "Close it with \" on the same line; inside a text, a quote is written \\\"."
	case tokenInvalid:
		d.Code, d.Summary = InvalidCharacter, fmt.Sprintf("%q has no meaning here", shown)
		d.Detail = "Remove it, or put text between quotes."
		switch {
		case shown == "#":
			d.Detail = "Comments begin with \"//\"."
		case shown == ",":
			d.Detail = "Decimals are written with a point, as \"1.5\"; behind a comma of a list stands a space, as \"2, 4 stops\"."
		case strings.HasPrefix(shown, "“"), strings.HasPrefix(shown, "”"):
			d.Detail = "Text stands between straight quotes, \"like this\"."
		}
	case lexer.EOF, tokenEndOfLine:
		d.Code, d.Summary = MissingValue, "something is missing at the end of this line"
		d.Detail = "A value is wanted behind what stands here."
		d.Span.End = d.Span.Start
	case tokenQuantity:
		d.Summary = fmt.Sprintf("%q stands where a keyword must stand", shown)
		d.Detail = "A line begins with a word that says what it is about."
	case tokenText:
		d.Summary = fmt.Sprintf("the text %s stands where a keyword must stand", shown)
		d.Detail = "A line begins with a word that says what it is about."
	case tokenTimes, tokenColon, tokenBecause:
		d.Code, d.Summary = MissingValue, fmt.Sprintf("%q joins what stands on its two sides, and one is missing", shown)
		d.Detail = "Write both, as \"36mm x 24mm\", \"2.39:1\" or an expression and its reason."
	case tokenComma:
		d.Code, d.Summary = MissingValue, "a comma stands between two single values of a list"
		d.Detail = "Write one on each side, as \"24, 28, 35mm\"."
	case tokenExpression:
		d.Summary = "an expression does not belong here"
		d.Detail = "Write a keyword before it, as \"need\"."
	case tokenOpen:
		d.Summary = "a block needs a keyword before its brace"
		d.Detail = "Write what the block is, as shot \"1A\" {."
	default:
		d.Summary = fmt.Sprintf("%q does not belong here", shown)
		d.Detail = "A line is a keyword and its values; a new fact needs a line of its own."
	}
	p.found.Add(d)
}

// clip shortens a text for a message.
func clip(text string) string {
	const most = 24
	runes := []rune(text)
	if len(runes) <= most {
		return text
	}
	return string(runes[:most-1]) + "…"
}

// build turns the grammar's nodes into syntax, reading quantities on the way.
func (p *parser) build(h *head) *Statement {
	keyword := Span{Source: p.src, Start: h.Pos.Offset, End: h.Pos.Offset + len(h.Keyword)}
	statement := p.newStatement(h.Keyword, keyword)
	statement.Values = p.values.take(len(h.Values))
	for i, v := range h.Values {
		built := p.value(v)
		statement.Values[i] = built
		statement.Span = statement.Span.To(built.Span)
	}
	if h.Body != nil {
		at := h.Body.Expression.Pos.Offset
		statement.Expression.Span = Span{Source: p.src, Start: at, End: at + len(h.Body.Expression.Text)}
		statement.Span = statement.Span.To(statement.Expression.Span)
		if h.Body.Because != nil {
			statement.Expression.Because = p.text(h.Body.Because)
			statement.Span = statement.Span.To(statement.Expression.Because.Span)
		}
	}
	return statement
}

func (p *parser) literalSpan(l *literal) Span {
	start := l.Pos.Offset
	return Span{Source: p.src, Start: start, End: start + len(l.Text) + len(l.Quantity) + len(l.Word)}
}

// text reads a literal that must be a quoted text.
func (p *parser) text(l *literal) Text {
	part := p.part(l)
	if part.Kind != TextPart {
		p.found.Add(Diagnostic{
			Severity: Error, Code: WrongKind, Span: part.Span,
			Summary: "a quoted text is wanted behind \"because\"", Detail: "Put the reason between quotes.",
		})
	}
	return Text{Value: part.Text, Span: part.Span}
}

func (p *parser) value(v *value) Value {
	if v.First == nil {
		parts := p.parts.take(2)
		parts[1] = p.part(v.Until)
		start := parts[1].Span.Start
		parts[0] = Part{Kind: Absent, Span: Span{Source: p.src, Start: start, End: start}}
		return Value{Form: IntervalOf, Parts: parts, Span: Span{Source: p.src, Start: start - 2, End: parts[1].Span.End}}
	}
	built := Value{Form: v.form()}
	switch built.Form {
	case Single:
		built.Parts = p.parts.take(1)
	case SizeOf:
		built.Parts = p.parts.take(1 + len(v.Sizes))
		for i, l := range v.Sizes {
			built.Parts[1+i] = p.part(l)
		}
	case RatioOf:
		built.Parts = p.parts.take(2)
		built.Parts[1] = p.part(v.Ratio)
	case ListOf:
		built.Parts = p.parts.take(1 + len(v.List))
		for i, l := range v.List {
			built.Parts[1+i] = p.part(l)
		}
	case IntervalOf:
		built.Parts = p.parts.take(2)
		if v.Dots.Last != nil {
			built.Parts[1] = p.part(v.Dots.Last)
		} else {
			at := v.Dots.Pos.Offset
			built.Parts[1] = Part{Kind: Absent, Span: Span{Source: p.src, Start: at, End: at + 2}}
		}
	}
	built.Parts[0] = p.part(v.First)
	built.Span = built.Parts[0].Span.To(built.Parts[len(built.Parts)-1].Span)
	return built
}

func (p *parser) part(l *literal) Part {
	span := p.literalSpan(l)
	switch {
	case l.Word != "":
		return Part{Kind: WordPart, Text: l.Word, Span: span}
	case l.Text != "":
		return Part{Kind: TextPart, Text: unquote(l.Text), Span: span}
	}
	q, d := ReadQuantity(span)
	if d != nil {
		p.found.Add(*d)
		return Part{Kind: BadPart, Span: span}
	}
	return Part{Kind: NumberPart, Quantity: q, Span: span}
}

// parseValues reads a text that is values alone, without a keyword.
func parseValues(src *Source) ([]Value, Diagnostics) {
	p := &parser{src: src}
	raw := &scanner{text: src.Text}
	lex, err := lexer.Upgrade(raw, tokenBlank, tokenComment)
	if err != nil { // the scanner never fails
		panic(err)
	}
	parsed, err := valuesParser().ParseFromLexer(lex, participle.AllowTrailing(true))
	if err != nil {
		p.reportHead(err, lex.Peek())
		return nil, p.found
	}
	if next := lex.Peek(); next.Type != lexer.EOF {
		p.reportUnexpected(next)
		return nil, p.found
	}
	values := make([]Value, len(parsed.Values))
	for i, v := range parsed.Values {
		values[i] = p.value(v)
	}
	return values, p.found
}
