package lang

import (
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// checkGrammar reads a head from every token of a text, by hand and by the tags. Reading by
// hand must give every head without a fault, no other, and the same tree from the same
// tokens. It counts the heads of plain values, and those with an expression.
func checkGrammar(t interface{ Errorf(string, ...any) }, src *Source) (plain, expressions int) {
	for p := newParser(src, true); !p.peek().EOF(); p.lex.Next() {
		start := p.lex.MakeCheckpoint()
		byHand := &head{}
		if !passHead(p.lex, byHand) {
			byHand = nil
		}
		handEnd := p.lex.RawCursor()
		p.lex.LoadCheckpoint(start)
		byTags, err := production[head]().ParseFromLexer(p.lex, upToBlock)
		tagsEnd := p.lex.RawCursor()
		whole := err == nil && endsHead(p.lex.Peek().Type)
		p.lex.LoadCheckpoint(start)
		at := Span{Source: src, Start: p.peek().Pos.Offset}
		switch {
		case byHand == nil && !whole:
		case byHand == nil:
			t.Errorf("%s: the head %+v has no fault, and is not read by hand", at, byTags)
		case !whole:
			t.Errorf("%s: the head %+v is read by hand, and the tags do not read it: %v", at, byHand, err)
		case handEnd != tagsEnd || !reflect.DeepEqual(byHand, byTags):
			t.Errorf("%s: by hand %+v up to token %d, by tags %+v up to token %d", at, byHand, handEnd, byTags, tagsEnd)
		case byHand.Body != nil:
			expressions++
		default:
			plain++
		}
	}
	return plain, expressions
}

func TestHeadsOfEveryFile(t *testing.T) {
	plain, expressions := 0, 0
	for _, text := range append(texts(t), "a 1m..2m 3 \"x\" ..", "a b..c d..", "a 1m.. 2m", "a 1m..2m x 3m", "a ..2m", "a 1m .. 2m..3m",
		"a 1m x 2m x 3m 4m x 5m", "a 1m x 2m x 3m x 4m", "a 1m x 2m..3m", "a 1m x", "a 1:2 3 b", "a 1:2:3", "a 1:", "a 1m x 2m:3", "a 1, 2, 3m", "a 1 b, c", "a \"b\" x \"c\"",
		"fact a = 1", "fact a 1", "need 1 because", "need 1 because 2", "need 1 because \"b\" 2", "fact = a", "fact a =", "a = 1", "need a because b because c") {
		if src, ds := NewSource("text", []byte(text)); !ds.HasErrors() {
			p, e := checkGrammar(t, src)
			plain, expressions = plain+p, expressions+e
		}
	}
	if plain < 500 || expressions < 50 {
		t.Errorf("%d plain heads and %d with an expression were compared, want at least 500 and 50", plain, expressions)
	}
}

func TestHeadsOfRandomText(t *testing.T) {
	operand := rapid.SampledFrom([]string{"a", "1m", "2.39", "f/2.8", "5ft 10in", `"t"`, "4A", ""})
	joined := rapid.Custom(func(t *rapid.T) string {
		joint := rapid.SampledFrom([]string{" x ", ", ", ":", ".."}).Draw(t, "joint")
		return strings.Join(rapid.SliceOfN(operand, 1, 4).Draw(t, "operands"), joint)
	})
	other := rapid.SampledFrom([]string{"need", "fact", "because", "=", "{", "}", "\n", "\n", `"open`, "#", "// note\n"})
	piece := rapid.OneOf(operand, joined, joined, other)
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			src, _ := NewSource("text", []byte("a "+strings.Join(rapid.SliceOfN(piece, 0, 20).Draw(t, "pieces"), " ")))
			checkGrammar(t, src)
		}
	})
}

// A text of many batches of tokens, and lines longer than a batch, are read as their parts are.
func TestBatchesOfTokens(t *testing.T) {
	part := "lens \"a\" {\n  focal 1m..2m \"b\"\n  need (a <\n 2) because \"c\"\n  x y 3\n}\n"
	for _, parts := range []int{1, 2, 100} {
		long := strings.Repeat(" 1 x 2", 10*parts)
		file := mustParse(t, strings.Repeat(part+"d"+long+"\n", parts))
		one := outline(mustParse(t, part+"d"+long).Statements)
		if got, want := outline(file.Statements), strings.TrimSuffix(strings.Repeat(one+"; ", parts), "; "); got != want {
			t.Errorf("%d parts, each as %s, are read as\n%s", parts, one, got)
		}
	}
}
