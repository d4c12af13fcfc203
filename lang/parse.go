package lang

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
)

// Parse reads the syntax of a source. It recovers at the end of each line, so that one
// run finds every fault; the file then holds the statements that could be read. A file with
// blocks nested past maxNesting is refused whole, and so is one of too many statements and values, or
// of which MaxRecorded statements are of no kind of file: syntax takes a hundred times the memory of text.
//
// The grammar reads each statement up to its block. Blocks and recovery are done here: a
// parse by grammar alone ends at the first fault, and recursion by grammar has no bound.
func Parse(src *Source) (*File, Diagnostics) {
	if found := foreignText(src); found != nil {
		return &File{Source: src, refused: true}, found
	}
	p := newParser(src, true)
	defer p.release()
	statements := p.statements(nil)
	if p.refused {
		return &File{Source: src, refused: true}, p.found
	}
	return &File{Source: src, Edition: p.edition, Statements: statements}, append(p.found, p.checkEdition()...)
}

// piecesOfBlock is how many values a block takes the memory of.
const piecesOfBlock = 8

type parser struct {
	src *Source
	batches
	found   Diagnostics
	depth   int // of the blocks that are open
	refused bool
	begun   bool       // the first statements were read
	edition *Statement // which says the edition; nil when none does
	strange int        // statements at the top with a keyword that no kind of file has
	pieces  int        // statements and values, and the like in blocks
	budget  *Budget

	// flush takes statements outside of blocks off the list, while a long file is read; nil keeps all.
	flush func([]*Statement) []*Statement

	nodes  slab[Statement]
	values slab[Value]
	parts  slab[Part]
}

// newParser makes a parser of a source; fresh says that the source begins with a keyword.
func newParser(src *Source, fresh bool) *parser {
	p := &parser{src: src, budget: src.budget.Or(), batches: batches{scan: scanner{text: src.Text, fresh: fresh}}}
	p.fill()
	return p
}

// refuse gives up on the whole file at a block that is nested too deep: more of the same
// would follow.
func (p *parser) refuse(open *lexer.Token) {
	p.refused = true
	p.found = Diagnostics{{
		Severity: Error, Code: TooDeep, Span: p.span(open),
		Summary: fmt.Sprintf("blocks are nested more than %d deep", maxNesting),
		Detail:  "Close a block with \"}\" before opening more.",
	}}
}

func (p *parser) span(token *lexer.Token) Span {
	return Span{Source: p.src, Start: token.Pos.Offset, End: token.Pos.Offset + len(token.Value)}
}

// statements reads up to the end of the file or the brace that closes open.
func (p *parser) statements(open *lexer.Token) []*Statement {
	var list []*Statement
	for len(p.found) < MaxRecorded && !p.refused {
		switch token := p.peek(); token.Type {
		case tokenEndOfLine:
			p.lex.Next()
		case lexer.EOF:
			if open != nil {
				p.found.Add(Diagnostic{
					Severity: Error, Code: UnclosedBlock, Span: p.span(open),
					Summary: "this block is never closed",
					Detail:  "Add \"}\" on a line of its own where the block ends.",
					Fix:     atEnd(p.src, "}\n"),
				})
			}
			return list
		case tokenClose:
			if open != nil {
				return list
			}
			p.found.Add(Diagnostic{
				Severity: Error, Code: UnexpectedText, Span: p.span(token),
				Summary: "no block is open here to be closed", Detail: "Remove the \"}\".", Fix: Correction{Span: p.span(token)},
			})
			p.lex.Next()
		default:
			before := len(list)
			list = p.lines(list)
			if found := p.budget.checkPieces(p.src.Name, p.pieces); found != nil && !p.refused {
				p.refused, p.found = true, found
			}
			if open == nil && !p.refused {
				p.countStrange(list[before:])
			}
			if open == nil && !p.refused && p.flush != nil {
				list = p.flush(list)
			}
		}
	}
	return list
}

// countStrange gives up on the whole file once too many of the statements at its top mean nothing.
func (p *parser) countStrange(added []*Statement) {
	for _, s := range added {
		if kindOf(s.Keyword.Value) >= 0 {
			continue
		}
		if p.strange++; p.strange == MaxRecorded {
			p.refused = true
			p.found = Diagnostics{{
				Severity: Error, Code: UnknownKeyword, Span: s.Keyword.Span,
				Summary: fmt.Sprintf("%q means nothing in this file, and neither do %d lines before it", clip(s.Keyword.Value), MaxRecorded-1),
				Detail:  "Name a scenario, a catalogue, or a file of rules or choices.",
			}}
			return
		}
	}
}

// lines reads the next statements and appends them to list, or reports a fault and skips
// the line. A block that follows belongs to the last of them. The block of a faulty line is
// read too, so that the faults inside it are found.
func (p *parser) lines(list []*Statement) []*Statement {
	list, last := p.heads(list)
	if !p.begun {
		p.begun = true
		if list = p.takeEdition(list); p.refused {
			return nil
		}
	}
	open := *p.peek()
	if open.Type != tokenOpen {
		return list
	}
	if p.depth == maxNesting {
		p.refuse(&open)
		return nil
	}
	block := p.block(&open)
	if last != nil {
		last.Block = block
		last.Span = last.Span.To(block.Span)
	}
	return list
}

// block reads a block with its braces.
func (p *parser) block(open *lexer.Token) *Block {
	p.depth++
	p.lex.Next()
	block := &Block{Statements: p.statements(open)}
	p.pieces += piecesOfBlock
	p.depth--
	if p.refused {
		return block
	}
	end := *p.peek() // the closing brace, or the end of the file
	block.Span = p.span(open).To(p.span(&end))
	if end.Type == tokenClose {
		p.lex.Next()
	}
	if after := p.peek(); after.Type == tokenOpen || !endsHead(after.Type) {
		p.reportUnexpected(after)
		p.skipLine()
	}
	return block
}

// heads reads statements up to their blocks, appends them to list, and gives the last. It
// reports a faulty line and makes a statement of its keyword alone, if it has one, so that
// the field is not reported as missing too.
func (p *parser) heads(list []*Statement) (all []*Statement, last *Statement) {
	keyword := *p.peek()
	start := p.lex.MakeCheckpoint()
	if read, err := grammar().ParseFromLexer(p.lex, upToBlock); err == nil {
		for i := range read.Sound.heads {
			last = p.build(&read.Sound.heads[i])
			list = append(list, last)
		}
		read.release()
		return list, last
	}
	p.lex.LoadCheckpoint(start)
	if _, err := ofFaults().ParseFromLexer(p.lex, upToBlock); err != nil {
		p.reportRefused(err, &keyword)
	} else {
		p.reportUnexpected(p.lex.Peek())
	}
	p.skipLine()
	if keyword.Type != tokenWord {
		return list, nil
	}
	last = p.newStatement(&keyword)
	last.faulty = true
	return append(list, last), last
}

func (p *parser) newStatement(keyword *lexer.Token) *Statement {
	statement := &p.nodes.take(1)[0]
	statement.Keyword = Word{Value: keyword.Value, Span: p.span(keyword)}
	statement.Span = statement.Keyword.Span
	return statement
}

// skipLine goes on to the end of the line, or to a brace that opens or closes a block.
func (p *parser) skipLine() {
	for !endsHead(p.lex.Peek().Type) {
		p.lex.Next()
	}
}

// reportRefused reports the token at which the grammar failed, or first if the error names
// none.
func (p *parser) reportRefused(err error, first *lexer.Token) {
	var unexpected *participle.UnexpectedTokenError
	if errors.As(err, &unexpected) {
		first = &unexpected.Unexpected
	}
	p.reportUnexpected(first)
}

// reportUnexpected says what is wrong with a token that fits nowhere.
func (p *parser) reportUnexpected(token *lexer.Token) {
	d := Diagnostic{Severity: Error, Code: UnexpectedText, Span: p.span(token)}
	if token.Type == tokenInvalid || token.Type == tokenUnclosedText {
		if known := foreignSpelling(d.Span); known != nil {
			p.found.Add(*known)
			return
		}
	}
	shown := clip(token.Value)
	switch token.Type {
	case tokenUnclosedText:
		d.Code, d.Summary = UnclosedText, "this text has no closing quote"
		d.Detail = "Close it with \" on the same line; inside a text, a quote is written \\\"."
		text, _, _ := strings.Cut(token.Value, "//") // a remark is likelier than a text with two strokes
		end := d.Span.Start + len(strings.TrimRight(text, " \t\r"))
		d.Fix = Correction{Span: Span{Source: p.src, Start: end, End: end}, Text: `"`}
	case tokenInvalid:
		d.Code, d.Summary = InvalidCharacter, fmt.Sprintf("%q has no meaning here", shown)
		d.Detail = "Remove it, or put text between quotes."
		before, after := d.Span.around()
		switch {
		case shown == "#":
			d.Detail = "Comments begin with \"//\"."
			if isBlank(before) {
				d.Instead, d.Spelling = "//", true
			}
		case strings.TrimRight(shown, "\r") == ";" && endsLine(after) && len(strings.Fields(before)) > 1:
			d.Detail = "A statement ends with its line. Remove it."
			d.Fix = Correction{Span: d.Span.Sub(0, 1), Safe: true}
		case shown == ",":
			d.Detail = "Decimals are written with a point, as \"1.5\"; behind a comma of a list stands a space, as \"2, 4 stops\"."
		case strings.HasPrefix(shown, "“"), strings.HasPrefix(shown, "”"):
			d.Detail = "Text stands between straight quotes, \"like this\"."
			if end := strings.IndexAny(after, "“”\""); end >= 0 && !isBlank(before) {
				_, mark := utf8.DecodeRuneInString(after[end:])
				d.Fix = Correction{Span: d.Span, Text: Quote(after[:end]), Safe: true}
				d.Fix.Span.End += end + mark
			}
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
		if _, after := d.Span.around(); endsLine(after) {
			d.Fix = Correction{Span: d.Span}
		}
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

// build turns a head into a statement and reads its quantities.
func (p *parser) build(h *head) *Statement {
	statement := p.newStatement(&h.Keyword)
	statement.Values = p.buildValues(&h.Values)
	p.pieces++
	for i := range statement.Values {
		p.pieces += len(statement.Values[i].Parts)
	}
	if n := len(statement.Values); n > 0 {
		statement.Span.End = statement.Values[n-1].Span.End
	}
	if h.Body != nil {
		expression := &Expression{Span: p.span(&h.Body.Expression)}
		statement.Span.End = expression.Span.End
		if h.Body.Because != nil {
			expression.Because = p.reason(h.Body.Because)
			statement.Span.End = expression.Because.Span.End
		}
		statement.Expression = expression
	}
	return statement
}

// reason reads what stands behind "because".
func (p *parser) reason(token *lexer.Token) Text {
	part := p.part(token)
	if part.Kind != TextPart {
		p.found.Add(Diagnostic{
			Severity: Error, Code: WrongKind, Span: part.Span,
			Summary: "a quoted text is wanted behind \"because\"", Detail: "Put the reason between quotes.",
		})
	}
	return Text{Value: part.Text, Span: part.Span}
}

func (p *parser) buildValues(read *values) []Value {
	built := p.values.take(len(read.List))
	for i := range built {
		built[i] = p.value(read.List[i].Tokens)
	}
	return built
}

var formOf = map[lexer.TokenType]Form{tokenDots: IntervalOf, tokenTimes: SizeOf, tokenColon: RatioOf, tokenComma: ListOf}

// value builds a value from its tokens.
func (p *parser) value(tokens []lexer.Token) Value {
	built := Value{Form: Single, Span: p.span(&tokens[0]).To(p.span(&tokens[len(tokens)-1]))}
	last := tokens[len(tokens)-1]
	switch {
	case len(tokens) == 1:
		built.Parts = p.parts.take(1)
		built.Parts[0] = p.part(&tokens[0])
	case tokens[0].Type == tokenDots:
		built.Form, built.Parts = IntervalOf, p.parts.take(2)
		built.Parts[1] = p.part(&last)
		start := built.Parts[1].Span.Start
		built.Parts[0] = Part{Kind: Absent, Span: Span{Source: p.src, Start: start, End: start}}
	default:
		built.Form, built.Parts = formOf[tokens[1].Type], p.parts.take(1+len(tokens)/2)
		for i := 0; i < len(tokens); i += 2 {
			built.Parts[i/2] = p.part(&tokens[i])
		}
		if last.Type == tokenDots {
			built.Parts[1] = Part{Kind: Absent, Span: p.span(&last)}
		}
	}
	return built
}

func (p *parser) part(token *lexer.Token) Part {
	part := Part{Kind: BadPart, Span: p.span(token)}
	switch token.Type {
	case tokenWord:
		part.Kind, part.Text = WordPart, token.Value
	case tokenText:
		part.Kind, part.Text = TextPart, unquote(token.Value)
	default:
		q, d := ReadQuantity(part.Span)
		if d != nil {
			p.found.Add(*d)
			break
		}
		part.Kind, part.Quantity = NumberPart, q
	}
	return part
}

// ParseValues reads the values of a statement from a text of their own, without its keyword.
func ParseValues(name, text string) ([]Value, Diagnostics) {
	src, ds := NewSource(name, []byte(text))
	if ds.HasErrors() {
		return nil, ds
	}
	return parseValues(src)
}

// parseValues reads a text of values without a keyword.
func parseValues(src *Source) ([]Value, Diagnostics) {
	p := newParser(src, false)
	defer p.release()
	read, err := production[values]().ParseFromLexer(p.lex, upToBlock)
	switch next := p.lex.Peek(); {
	case err != nil:
		p.reportRefused(err, next)
	case !next.EOF():
		p.reportUnexpected(next)
	default:
		return p.buildValues(read), p.found
	}
	return nil, p.found
}
