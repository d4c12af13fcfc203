package lang

import (
	"fmt"
	"strings"

	"github.com/alecthomas/participle/v2/lexer"
)

// keywordColumn is the column at which values begin inside a block. A fixed column keeps
// a longer new keyword from moving every other line of the block, and so out of the diff.
const keywordColumn = 10

// Tidy writes a text in its canonical layout: one statement a line, two spaces a level,
// values in a column inside blocks, units in their canonical spelling, at most one empty
// line in a row. It works on tokens and changes nothing else, so comments stay where they
// are and a text with faults inside its lines comes through whole. Tidying twice is the
// same as tidying once.
func Tidy(src *Source) string {
	t := &tidier{src: src}
	scan := &scanner{text: src.Text, fresh: true}
	for {
		token, _ := scan.Next()
		if token.Type == lexer.EOF {
			break
		}
		t.token(token)
	}
	t.endLine()
	return strings.TrimLeft(t.out.String(), "\n")
}

type tidier struct {
	src    *Source
	out    strings.Builder
	line   strings.Builder // the line being written, without its indent
	raw    strings.Builder // the same as it stands in the source
	faulty bool            // the line cannot be laid out, and is left as it stands
	bare   bool            // only carriage returns stand behind the last token of the line
	before lexer.TokenType // the last significant token of the line
	words  int             // significant tokens on the line
	depth  int             // blocks open behind the line
	empty  int             // empty lines since the last line written
	opens  bool            // the line being written opens a block
	closes bool            // the line being written closes a block
	opened bool            // the last line written opened a block
}

func (t *tidier) token(token lexer.Token) {
	switch token.Type {
	case tokenBlank:
		t.raw.WriteString(token.Value)
	case tokenEndOfLine:
		if t.line.Len() == 0 {
			t.empty++
		}
		t.endLine()
	case tokenComment:
		t.faulty = t.faulty || t.bare
		if t.line.Len() > 0 {
			t.line.WriteString("  ")
		}
		t.line.WriteString(strings.TrimRight(token.Value, " \t\r"))
		t.raw.WriteString(token.Value)
	case tokenClose:
		t.endLine()
		t.depth = max(0, t.depth-1)
		t.write(token, token.Value)
		t.closes = true
	case tokenOpen:
		if t.opens || t.closes {
			t.endLine()
		}
		t.write(token, token.Value)
		t.depth++
		t.opens = true
	case tokenInvalid:
		// At either end of a line a carriage return is trimmed away, so it is no fault there.
		if strings.Trim(token.Value, "\r") == "" {
			t.raw.WriteString(token.Value)
			t.bare = t.words > 0
			return
		}
		fallthrough
	default:
		if t.opens || t.closes {
			t.endLine()
		}
		t.write(token, t.spelling(token))
	}
}

func (t *tidier) spelling(token lexer.Token) string {
	start := token.Pos.Offset
	switch token.Type {
	case tokenQuantity:
		return canonicalQuantity(Span{Source: t.src, Start: start, End: start + len(token.Value)})
	case tokenExpression:
		return tidyLines(token.Value, t.depth+1)
	}
	return token.Value
}

// tidyLines indents the further lines of an expression.
func tidyLines(expression string, depth int) string {
	lines := strings.Split(expression, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " \t\r")
		if i > 0 {
			lines[i] = strings.Repeat("  ", depth) + strings.TrimLeft(lines[i], " \t")
		}
	}
	return strings.Join(lines, "\n")
}

// write appends a token to the line with the space that belongs before it.
func (t *tidier) write(token lexer.Token, text string) {
	kind := token.Type
	t.raw.WriteString(token.Value)
	t.faulty = t.faulty || t.bare || kind == tokenInvalid || kind == tokenUnclosedText || t.wouldTurn(token)
	joined := t.before == tokenColon || t.before == tokenDots || kind == tokenColon || kind == tokenComma || kind == tokenDots && t.words > 1
	switch {
	case t.words == 0 || joined:
	case t.words == 1 && t.depth > 0 && kind != tokenOpen:
		t.line.WriteString(strings.Repeat(" ", max(1, keywordColumn-t.line.Len())))
	default:
		t.line.WriteByte(' ')
	}
	t.line.WriteString(text)
	t.before = kind
	t.words++
}

// wouldTurn reports whether a blank behind a word would turn it into a stop. In "T0.0x1" the
// word T0 is no stop only because of what touches it.
func (t *tidier) wouldTurn(token lexer.Token) bool {
	return token.Type == tokenWord && scanPrefixed(token.Value) > 0 && scanPrefixed(t.src.Text[token.Pos.Offset:]) == 0
}

func (t *tidier) endLine() {
	if t.line.Len() == 0 {
		t.raw.Reset()
		t.bare = false
		return
	}
	text, empty := t.line.String(), 0
	if t.faulty {
		text = strings.Trim(t.raw.String(), " \t\r")
	}
	if text == "" { // carriage returns behind a block
		empty = t.empty + 1
	} else {
		depth := t.depth
		if t.opens {
			depth--
		}
		if t.empty > 0 && !t.opened && !t.closes {
			t.out.WriteByte('\n')
		}
		t.out.WriteString(strings.Repeat("  ", depth) + text + "\n")
		t.opened = t.opens
	}
	t.line.Reset()
	t.raw.Reset()
	t.faulty, t.bare = false, false
	t.before, t.words, t.empty = 0, 0, empty
	t.opens, t.closes = false, false
}

// TidyChecked gives the tidy text of a source that can be parsed, for whoever puts it in
// the place of the only copy: that it says the same as before is checked. With errors the
// text is "".
func TidyChecked(src *Source) (string, Diagnostics) {
	before, found := Parse(src)
	if found.HasErrors() {
		return "", found
	}
	tidy := Tidy(src)
	again, faults := NewSource(src.Name, []byte(tidy))
	if !faults.HasErrors() {
		after, faults := Parse(again)
		if !faults.HasErrors() && after.Meaning() == before.Meaning() {
			return tidy, found
		}
	}
	return "", Diagnostics{{
		Severity: Error, Code: InternalFault, Span: Span{Source: src},
		Summary: fmt.Sprintf("%q would not say the same when tidied", src.Name),
		Detail:  "It is left as it is. Please report it with the file.",
	}}
}
