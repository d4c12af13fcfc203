package expression

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"glassbrief/lang"
)

// words are the words that have a meaning of their own in an expression.
var words = []string{"and", "or", "not", "true", "false"}

// operators are the signs that expressions may use, longer ones before their beginnings.
var operators = []string{"<=", ">=", "==", "!=", "&&", "||", "+", "-", "*", "/", "<", ">", "!", "?", ":", "(", ")", ","}

// remedy is what to do about something that rules may not use.
type remedy struct {
	detail  string
	instead string
}

const (
	useBetween = "Test for a range with between(x, low, high), or with low <= x <= high."
	noTexts    = "Facts are numbers and truths; there are no texts to compare with."
	noLists    = "There are no lists. Compare each value, and join the comparisons with and or or."
	noBindings = "Define a fact of its own for a part that is used twice: fact name = expression."
)

// refusedWords are the words of expr that rules may not use.
var refusedWords = map[string]remedy{
	"in":         {detail: useBetween},
	"matches":    {detail: noTexts},
	"contains":   {detail: noTexts},
	"startsWith": {detail: noTexts},
	"endsWith":   {detail: noTexts},
	"let":        {detail: noBindings},
	"if":         {detail: "Choose between two values with condition ? value : value."},
	"else":       {detail: "Choose between two values with condition ? value : value."},
	"nil":        {detail: "Ask whether a fact is known with known(fact), or give a value in its place with or_else(fact, value)."},
	"because":    {detail: "A reason stands behind the whole expression, outside all brackets."},
}

// refusedSigns are the signs that rules may not use, longer ones before their beginnings.
var refusedSigns = []struct {
	sign string
	remedy
}{
	{"=>", remedy{instead: ">="}},
	{"=<", remedy{instead: "<="}},
	{"≥", remedy{instead: ">="}},
	{"≤", remedy{instead: "<="}},
	{"−", remedy{instead: "-"}},
	{"×", remedy{instead: "*"}},
	{"=", remedy{detail: "Compare truths with ==, and numbers with <, > or between(x, low, high)."}},
	{"..", remedy{detail: useBetween}},
	{"**", remedy{detail: "There are no powers. Multiply a value by itself."}},
	{"^", remedy{detail: "There are no powers. Multiply a value by itself."}},
	{"%", remedy{detail: "It means percent and stands behind a number, as in 40%. There is no remainder."}},
	{"??", remedy{detail: "Give a value in place of an unknown fact with or_else(fact, value)."}},
	{"?.", remedy{detail: "A fact has no parts: write its whole name."}},
	{".", remedy{detail: "A fact has no parts: write its whole name."}},
	{"::", remedy{detail: "Write the name of the function alone."}},
	{";", remedy{detail: noBindings}},
	{"|", remedy{instead: "or"}},
	{"&", remedy{instead: "and"}},
	{"/*", remedy{detail: "A comment begins with // and ends with its line."}},
	{"[", remedy{detail: noLists}},
	{"]", remedy{detail: noLists}},
	{"{", remedy{detail: "Group with round brackets. Braces belong around facts in the text of a reason."}},
	{"}", remedy{detail: "Group with round brackets. Braces belong around facts in the text of a reason."}},
	{"#", remedy{detail: "A comment begins with //."}},
	{"$", remedy{detail: "Write the name of the fact alone."}},
}

// A reading is the text of an expression, rewritten for expr. Every quantity is a plain
// float literal in SI units, comments are gone, and every name is known or replaced.
type reading struct {
	span     lang.Span
	names    *Vocabulary
	out      strings.Builder
	places   []place               // for each rune of out
	literals map[int]lang.Quantity // by the rune of out at which they begin; not Known when already reported
	opens    []int                 // bytes of the brackets that are open
	ds       lang.Diagnostics
	broken   bool // something was refused that the parser would misread
	deep     bool // reading stopped at the limit of nesting
}

// place is a piece of the source, in bytes from the start of the expression.
type place struct{ start, end int }

// sparePlaces keeps the memory of what was read.
var sparePlaces = sync.Pool{New: func() any { return new([]place) }}

// release lets the memory of the places be used again.
func (r *reading) release() { sparePlaces.Put(&r.places) }

// unknownCall replaces the name of an unknown function, which expr might take for one of
// its own.
const unknownCall = "unknown_function"

// read cuts the text of span into tokens and judges each. The result is fit for the
// parser unless it is broken.
func read(span lang.Span, names *Vocabulary) *reading {
	r := &reading{span: span, names: names, literals: map[int]lang.Quantity{}, places: (*sparePlaces.Get().(*[]place))[:0]}
	text := span.Text()
	if len(text) > lang.MaxExpressionBytes {
		r.refuse(0, len(text), lang.ExpressionTooLong,
			fmt.Sprintf("the expression holds %d bytes, and %d are the most", len(text), lang.MaxExpressionBytes),
			"Split it: define facts of their own for its parts.")
		return r
	}
	if strings.TrimSpace(text) == "" {
		r.refuse(0, len(text), lang.MissingValue, "an expression is missing here",
			"Write a comparison such as near_limit < 2m, or a number.")
		return r
	}
	signs := 0 // prefixes in a row
	for at := 0; at < len(text) && !r.deep; {
		rest := text[at:]
		c, size := utf8.DecodeRuneInString(rest)
		switch {
		case unicode.IsSpace(c):
			r.copy(at, size)
			at += size
			continue
		case strings.HasPrefix(rest, "//"):
			comment, _, _ := strings.Cut(rest, "\n")
			at += len(comment)
			continue
		}
		length, prefix := r.token(at, rest)
		if signs++; !prefix {
			signs = 0
		}
		if signs+len(r.opens) > lang.MaxExpressionNesting {
			r.deep = true
			r.refuse(at, length, lang.TooDeep,
				fmt.Sprintf("brackets and signs are nested more than %d deep here", lang.MaxExpressionNesting),
				"Define facts of their own for the inner parts.")
		}
		at += length
	}
	if n := len(r.opens); n > 0 && !r.deep {
		r.refuse(r.opens[n-1], 1, lang.BadExpression, "this bracket is not closed", "Write ) where the group ends.")
	}
	return r
}

// token takes the token that rest begins with, at byte at of the expression. A prefix is
// a sign or word that nests what follows it.
func (r *reading) token(at int, rest string) (length int, prefix bool) {
	if n := lang.ScanQuantity(rest); n > 0 && rest[0] != '-' {
		return r.quantity(at, rest, n), false
	}
	if n := wordLength(rest); n > 0 {
		r.word(at, rest[:n], rest[n:])
		return n, rest[:n] == "not"
	}
	if n := quotedLength(rest); n > 0 {
		r.notAllowed(at, n, remedy{detail: noTexts})
		return n, false
	}
	for _, refused := range refusedSigns {
		if strings.HasPrefix(rest, refused.sign) && !slices.Contains(operators, rest[:min(2, len(rest))]) {
			r.notAllowed(at, len(refused.sign), refused.remedy)
			return len(refused.sign), false
		}
	}
	for _, operator := range operators {
		if strings.HasPrefix(rest, operator) {
			r.copy(at, len(operator))
			r.bracket(at, operator)
			return len(operator), strings.Contains("+-!", operator)
		}
	}
	_, size := utf8.DecodeRuneInString(rest)
	r.refuse(at, size, lang.InvalidCharacter, fmt.Sprintf("%q has no meaning in an expression", rest[:size]),
		"Expressions hold facts, quantities, functions and operators.")
	return size, false
}

// bracket keeps count of brackets.
func (r *reading) bracket(at int, sign string) {
	switch {
	case sign == "(":
		r.opens = append(r.opens, at)
	case sign == ")" && len(r.opens) == 0:
		r.refuse(at, 1, lang.BadExpression, "no bracket is open here", "Take this bracket out, or open one before it.")
	case sign == ")":
		r.opens = r.opens[:len(r.opens)-1]
	}
}

// quantity takes a number with its unit, n bytes long at the most: a fraction without a
// unit is a division, and what looks like a unit behind a stroke may be a fact.
func (r *reading) quantity(at int, rest string, n int) int {
	if head, tail, found := strings.Cut(rest[:n], "/"); found && allDigits(head) && allDigits(tail) {
		n = len(head)
	}
	q, fault := lang.ReadQuantity(r.span.Sub(at, at+n))
	if stroke := strings.LastIndexByte(rest[:n], '/'); fault != nil && fault.Code == lang.UnknownUnit && stroke > 0 {
		if _, isFact := r.names.Lookup(rest[stroke+1 : stroke+1+wordLength(rest[stroke+1:])]); isFact {
			n = stroke
			q, fault = lang.ReadQuantity(r.span.Sub(at, at+n))
		}
	}
	switch run := wordLength(rest[n:]); {
	case run > 0 && fault == nil && q.Unit == "":
		n += run
		r.report(at, n, lang.BadNumber, fmt.Sprintf("%q is neither a number nor a name", short(rest[:n])),
			"Write a number in plain digits, and an operator between a number and a name.", "")
		q = lang.Quantity{}
	case fault != nil:
		r.ds.Add(*fault)
	case math.IsInf(q.Value, 0):
		r.report(at, n, lang.BadNumber, fmt.Sprintf("%q is too large to be held", short(rest[:n])), "Write a smaller number.", "")
		q = lang.Quantity{}
	}
	start := len(r.places)
	r.literals[start] = q
	// expr takes any number with an exponent for a float. The blank separates it from what
	// follows.
	r.write(strconv.FormatFloat(q.Value, 'e', -1, 64)+" ", place{at, at + n})
	return n
}

// word takes a name, a function or a word operator; rest is what follows it.
func (r *reading) word(at int, word, rest string) {
	refused, isRefused := refusedWords[word]
	_, isFact := r.names.Lookup(word)
	function := FindFunction(word)
	called := strings.HasPrefix(strings.TrimLeft(rest, " \t\r\n"), "(")
	here := place{at, at + len(word)}
	switch {
	case isRefused:
		r.notAllowed(at, len(word), refused)
	case slices.Contains(words, word), isFact && !called, function != nil && called:
		r.write(word, here)
	case isFact:
		r.report(at, len(word), lang.BadExpression, fmt.Sprintf("%q is a fact, and only functions take values in brackets", word),
			"Write an operator between the fact and the bracket.", "")
		r.write(unknownCall, here)
	case function != nil:
		r.report(at, len(word), lang.BadExpression, fmt.Sprintf("%q is a function and takes its values in brackets", word),
			fmt.Sprintf("Write it as %s.", function.Signature()), "")
		r.write(word, here)
	case called:
		r.unknown(at, word, "function")
		r.write(unknownCall, here)
	default:
		r.unknown(at, word, "fact")
		r.write(word, here)
	}
}

func (r *reading) unknown(at int, word, what string) {
	detail := "An expression reads the facts and functions of the vocabulary, and the facts that its file defines before it."
	if _, isUnit := lang.FindUnit(word); isUnit {
		detail = "A unit stands behind a number, as in 2m."
	}
	r.report(at, len(word), lang.UnknownName, fmt.Sprintf("the %s %q is not defined", what, short(word)),
		detail, lang.Nearest(word, r.names.spellings()))
}

func (r *reading) notAllowed(at, length int, remedy remedy) {
	text := r.span.Sub(at, at+length).Text()
	r.broken = true
	if remedy.detail == "" {
		remedy.detail = fmt.Sprintf("Expressions have %q for it.", remedy.instead)
	}
	r.ds.Add(lang.Diagnostic{
		Severity: lang.Error, Code: lang.NotAllowed, Span: r.span.Sub(at, at+length),
		Summary: fmt.Sprintf("expressions do not use %q", short(text)), Detail: remedy.detail,
		Instead: remedy.instead, Spelling: remedy.instead != "", // another spelling of a sign that there is
	})
}

// refuse reports a fault after which the text must not reach the parser.
func (r *reading) refuse(at, length int, code lang.Code, summary, detail string) {
	r.broken = true
	r.report(at, length, code, summary, detail, "")
}

func (r *reading) report(at, length int, code lang.Code, summary, detail, instead string) {
	r.reportAt(r.span.Sub(at, at+length), code, summary, detail, instead)
}

func (r *reading) reportAt(span lang.Span, code lang.Code, summary, detail, instead string) {
	r.ds.Add(lang.Diagnostic{
		Severity: lang.Error, Code: code, Span: span, Summary: summary, Detail: detail, Instead: instead,
	})
}

// copy writes length bytes of the source as they are.
func (r *reading) copy(at, length int) {
	for _, c := range r.span.Sub(at, at+length).Text() {
		size := utf8.RuneLen(c)
		r.write(string(c), place{at, at + size})
		at += size
	}
}

// write appends text that replaces one piece of the source.
func (r *reading) write(text string, from place) {
	r.out.WriteString(text)
	for range utf8.RuneCountInString(text) {
		r.places = append(r.places, from)
	}
}

// source gives the piece of the source from which runes from..to of the rewritten text
// come. Past the end it gives the empty piece at the end of the expression.
func (r *reading) source(from, to int) lang.Span {
	if from >= len(r.places) {
		end := len(strings.TrimRightFunc(r.span.Text(), unicode.IsSpace))
		return r.span.Sub(end, end)
	}
	to = min(max(to, from+1), len(r.places))
	return r.span.Sub(r.places[from].start, r.places[to-1].end)
}

// wordLength gives the length of the name that text begins with, or 0.
func wordLength(text string) int {
	n := 0
	for i, c := range text {
		if c != '_' && !unicode.IsLetter(c) && (i == 0 || !unicode.IsDigit(c)) {
			break
		}
		n = i + utf8.RuneLen(c)
	}
	return n
}

// quotedLength gives the length of the quoted text that text begins with, to the end of
// its line if it is not closed, or 0.
func quotedLength(text string) int {
	if strings.IndexByte("\"'`", text[0]) < 0 {
		return 0
	}
	line, _, _ := strings.Cut(text, "\n")
	if n := strings.IndexByte(line[1:], line[0]); n >= 0 {
		return n + 2
	}
	return len(line)
}

func allDigits(text string) bool {
	return text != "" && strings.Trim(text, "0123456789.") == ""
}

// short gives text fit for one line of a message.
func short(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	if runes := []rune(text); len(runes) > 48 {
		return string(runes[:47]) + "…"
	}
	return text
}
