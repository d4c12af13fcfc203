package lang

import (
	"io"
	"strings"
	"unicode/utf8"

	"github.com/alecthomas/participle/v2/lexer"
)

// The kinds of token. Blanks and comments are tokens too: the grammar passes them over,
// and the formatter works on all of them, so that no comment can be lost.
const (
	tokenBlank lexer.TokenType = lexer.EOF - 1 - iota
	tokenComment
	tokenEndOfLine
	tokenWord
	tokenText
	tokenQuantity
	tokenDots
	tokenTimes
	tokenColon
	tokenComma
	tokenOpen
	tokenClose
	tokenAssign
	tokenExpression
	tokenBecause
	tokenUnclosedText
	tokenInvalid
)

var tokenNames = map[string]lexer.TokenType{
	"EOF": lexer.EOF, "Blank": tokenBlank, "Comment": tokenComment, "EndOfLine": tokenEndOfLine,
	"Word": tokenWord, "Text": tokenText, "Quantity": tokenQuantity, "Dots": tokenDots,
	"Times": tokenTimes, "Colon": tokenColon, "Comma": tokenComma, "Open": tokenOpen, "Close": tokenClose,
	"Assign": tokenAssign, "Expression": tokenExpression, "Because": tokenBecause,
	"UnclosedText": tokenUnclosedText, "Invalid": tokenInvalid,
}

// expressionKeywords open a statement whose rest is an expression.
var expressionKeywords = map[string]bool{
	"need": true, "prefer": true, "veto": true, "limit": true, "lack": true, "score": true, "fact": true, "when": true,
}

// definition is the lexer of the language in the form that participle takes.
type definition struct{}

func (definition) Symbols() map[string]lexer.TokenType { return tokenNames }

func (definition) Lex(_ string, r io.Reader) (lexer.Lexer, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	return &scanner{text: string(text), fresh: true}, nil
}

// awaits reports whether the tokens so far call for this kind of token next.
func (s *scanner) awaits(kind lexer.TokenType) bool { return len(s.next) > 0 && s.next[0] == kind }

// scanner cuts a text into tokens that together are the whole text. It never fails:
// what the language does not use comes out as an Invalid token.
type scanner struct {
	text  string
	at    lexer.Position // only Offset matters; places for people come from Source
	fresh bool           // at the start of a statement
	next  []lexer.TokenType
}

// Next gives the next token, and an EOF token at the end for ever.
func (s *scanner) Next() (lexer.Token, error) {
	rest := s.text[s.at.Offset:]
	if rest == "" {
		return lexer.EOFToken(s.at), nil
	}
	kind, length := s.scan(rest)
	token := lexer.Token{Type: kind, Value: rest[:length], Pos: s.at}
	s.at.Offset += length
	return token, nil
}

func (s *scanner) scan(rest string) (lexer.TokenType, int) {
	switch c := rest[0]; c {
	case ' ', '\t':
		return tokenBlank, blanks(rest)
	case '\n':
		s.fresh, s.next = true, nil
		return tokenEndOfLine, 1
	case '\r':
		if strings.HasPrefix(rest, "\r\n") {
			s.fresh, s.next = true, nil
			return tokenEndOfLine, 2
		}
	}
	if strings.HasPrefix(rest, "//") {
		return tokenComment, lineLength(rest)
	}
	if s.awaits(tokenExpression) {
		if n := scanExpression(rest); n > 0 {
			s.next = s.next[1:]
			return tokenExpression, n
		}
		s.next = nil
	}
	if s.awaits(tokenWord) {
		s.next = nil
		if n := scanNumberOfScene(rest); n > 0 {
			return tokenWord, n
		}
	}
	switch c := rest[0]; c {
	case '"':
		s.fresh = false
		return scanText(rest)
	case '{':
		s.fresh = true
		return tokenOpen, 1
	case '}':
		s.fresh = true
		return tokenClose, 1
	case ':':
		return tokenColon, 1
	case ',':
		// In "1,5" it would be a decimal comma, which must not turn into a list.
		if digits(rest[1:]) == 0 {
			return tokenComma, 1
		}
	case '=':
		if s.awaits(tokenAssign) {
			s.next = s.next[1:]
		}
		return tokenAssign, 1
	}
	if strings.HasPrefix(rest, "..") {
		return tokenDots, 2
	}
	fresh := s.fresh
	s.fresh = false
	if !fresh {
		if n := scanDate(rest); n > 0 {
			return tokenWord, n
		}
		if n := ScanQuantity(rest); n > 0 {
			return tokenQuantity, n
		}
		if rest[0] == 'x' && digits(rest[1:]) > 0 {
			return tokenTimes, 1 // "36mmx24mm"
		}
	}
	if n := scanName(rest); n > 0 {
		return s.word(rest[:n], fresh), n
	}
	n := s.invalid(rest)
	if strings.Trim(rest[:n], "\r") == "" { // tidying takes it away, and what follows must mean the same without it
		s.fresh = fresh
	}
	return tokenInvalid, n
}

// word decides by its place what a word is: some keywords call for an expression next.
func (s *scanner) word(word string, fresh bool) lexer.TokenType {
	switch {
	case fresh && word == "fact":
		s.next = []lexer.TokenType{tokenAssign, tokenExpression}
	case fresh && expressionKeywords[word]:
		s.next = []lexer.TokenType{tokenExpression}
	case fresh && word == "scene":
		s.next = []lexer.TokenType{tokenWord}
	case !fresh && word == "because":
		return tokenBecause
	case !fresh && word == "x":
		return tokenTimes
	}
	return tokenWord
}

// invalid takes a whole run of characters that begin no token, so that a file of nothing
// else gives one finding and not thousands.
func (s *scanner) invalid(rest string) int {
	n := 0
	for n < len(rest) {
		r, size := utf8.DecodeRuneInString(rest[n:])
		known := strings.ContainsRune(" \t\n\"{}:=,", r) || r < utf8.RuneSelf && isWordPart(r)
		if n > 0 && (known || strings.HasPrefix(rest[n:], "..") || strings.HasPrefix(rest[n:], "//")) {
			break
		}
		n += size
	}
	return n
}

// scanWord gives the length of an ASCII word: letters, digits, "_" and inner "-".
func scanWord(text string) int {
	n := 0
	for n < len(text) {
		c := text[n]
		switch {
		case isLetter(c), n > 0 && c >= '0' && c <= '9':
			n++
			continue
		case n > 0 && c == '-' && n+1 < len(text) && text[n+1] < utf8.RuneSelf && isWordPart(rune(text[n+1])):
			n++
			continue
		}
		break
	}
	return n
}

// scanName gives the length of a word, or of words joined by "/" as the names of time
// zones are: "Europe/Amsterdam".
func scanName(text string) int {
	n := scanWord(text)
	for n > 0 && strings.HasPrefix(text[n:], "/") {
		next := scanWord(text[n+1:])
		if next == 0 {
			break
		}
		n += 1 + next
	}
	return n
}

// scanNumberOfScene gives the length of a scene number. It is a name: 4A is not four
// amperes, nor 4m four metres.
func scanNumberOfScene(text string) int {
	n := 0
	for n < len(text) && !strings.HasPrefix(text[n:], "..") {
		r, size := utf8.DecodeRuneInString(text[n:])
		if !isWordPart(r) && !strings.ContainsRune("-.)", r) {
			break
		}
		n += size
	}
	return n
}

// scanDate gives the length of a date like "2027-05-03", which is a word to the grammar.
func scanDate(text string) int {
	n := 0
	for i, length := range [...]int{4, 2, 2} {
		if i > 0 {
			if !strings.HasPrefix(text[n:], "-") {
				return 0
			}
			n++
		}
		if digits(text[n:]) != length {
			return 0
		}
		n += length
	}
	if r, _ := utf8.DecodeRuneInString(text[n:]); isWordPart(r) {
		return 0
	}
	return n
}

// scanText takes a quoted text; inside, \" stands for a quote and \\ for a backslash.
func scanText(rest string) (lexer.TokenType, int) {
	for n := 1; n < len(rest); n++ {
		switch rest[n] {
		case '\\':
			n += escaped(rest[n+1:])
		case '"':
			return tokenText, n + 1
		case '\n', '\r':
			return tokenUnclosedText, n
		}
	}
	return tokenUnclosedText, len(rest)
}

// escaped gives the number of bytes that a backslash before text escapes: none at the end
// of a line, because a quoted text ends with its line.
func escaped(text string) int {
	if text == "" || text[0] == '\n' || text[0] == '\r' {
		return 0
	}
	return 1
}

func lineLength(text string) int {
	n := strings.IndexByte(text, '\n')
	if n < 0 {
		return len(text)
	}
	if n > 0 && text[n-1] == '\r' {
		n--
	}
	return n
}

// scanExpression takes an expression: to the end of the line, to a comment, or to the
// word "because", whichever is first. A bracket left open or an operator at the end of
// the line carries it on to the next line, unless that line is empty, closes the block
// or begins a statement of its own. Trailing blanks are left out.
func scanExpression(text string) int {
	depth, end := 0, 0 // end is behind the last character that belongs to the expression
	for n := 0; n < len(text); {
		switch c := text[n]; {
		case c == '"' || c == '\'' || c == '`':
			n += quotedLength(text[n:])
			end = n
			continue
		case strings.HasPrefix(text[n:], "//"):
			if depth == 0 && !endsInOperator(text[:end]) {
				return end
			}
			n += lineLength(text[n:])
			continue
		case c == '\n':
			if depth == 0 && !endsInOperator(text[:end]) || !carriesOn(text[n+1:]) {
				return end
			}
		case c == '(' || c == '[' || c == '{':
			depth++
		case c == ')' || c == ']' || c == '}':
			if c == '}' && depth == 0 {
				return end
			}
			depth = max(0, depth-1)
		case isLetter(c):
			word := scanWord(text[n:])
			if text[n:n+word] == "because" && depth == 0 {
				return end
			}
			n += word
			end = n
			continue
		}
		if c := text[n]; c != ' ' && c != '\t' && c != '\n' && c != '\r' {
			end = n + 1
		}
		n++
	}
	return end
}

func isLetter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_' }

// quotedLength takes a quoted piece of an expression, or the rest of its line.
func quotedLength(text string) int {
	for n := 1; n < len(text) && text[n] != '\n'; n++ {
		switch text[n] {
		case '\\':
			n += escaped(text[n+1:])
		case text[0]:
			return n + 1
		}
	}
	return lineLength(text)
}

func endsInOperator(text string) bool {
	if text == "" {
		return false
	}
	if strings.IndexByte("+-*/<>=&|?:,!", text[len(text)-1]) >= 0 {
		return true
	}
	for _, word := range []string{"and", "or", "not"} {
		if head, ok := strings.CutSuffix(text, word); ok && (head == "" || !isWordPart(rune(head[len(head)-1]))) {
			return true
		}
	}
	return false
}

// carriesOn reports whether the line that text begins with may continue an expression.
func carriesOn(text string) bool {
	line := strings.TrimSpace(text[:lineLength(text)])
	if line == "" || line[0] == '}' {
		return false
	}
	word := line[:scanWord(line)]
	return !expressionKeywords[word]
}
