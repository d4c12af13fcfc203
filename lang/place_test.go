package lang

import (
	"fmt"
	"strings"
	"testing"
)

var placeKinds = map[PlaceKind]string{
	AtKeyword: "keyword", AtValue: "value", AtWord: "word", AtText: "text", AtQuantity: "quantity",
	AtExpression: "expression", AtComment: "comment", AtSign: "sign",
}

// Each text marks the place with "|"; the answer is the blocks, the keyword, the tokens
// before, the kind, and the token.
func TestPlace(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"|", "  []: keyword "},
		{"us|e demo", "  []: keyword use"},
		{"use|", "  []: keyword use"},
		{"use |", " use []: value "},
		{"use | demo", " use []: value "},
		{"use |demo", " use []: word demo"},
		{"use de|", " use []: word de"},
		{"use \"kit|", " use []: text \"kit"},
		{"use \"kit|.catalog\"", " use []: text \"kit.catalog\""},
		{"use \"kit.catalog\"|", " use [\"kit.catalog\"]: value "},
		{"// he|re", "  []: comment // here"},
		{"shot \"1\" {|", "shot  []: keyword "},
		{"shot \"1\" |{", " shot [\"1\"]: sign {"},
		{"shot \"1\" {\n  |\n}", "shot  []: keyword "},
		{"shot \"1\" {\n  fra|\n}", "shot  []: keyword fra"},
		{"shot \"1\" {\n  frame |\n}", "shot frame []: value "},
		{"shot \"1\" {\n  frame close..|\n}", "shot frame [close ..]: value "},
		{"shot \"1\" {\n  frame close..me|\n}", "shot frame [close ..]: word me"},
		{"shot \"1\" {\n  distance 1.6|m..2m\n}", "shot distance []: quantity 1.6m"},
		{"shot \"1\" {\n  distance 1.6m..|2m\n}", "shot distance [1.6m ..]: quantity 2m"},
		{"shot \"1\" {\n  distance 1.6m..2m|\n}", "shot distance [1.6m ..]: quantity 2m"},
		{"shot \"1\" {\n  need |\n}", "shot need []: expression "},
		{"shot \"1\" {\n  need near_|limit < 2m\n}", "shot need []: expression near_limit < 2m"},
		{"shot \"1\" {\n  need near_limit < |\n}", "shot need [near_limit <]: expression "},
		{"shot \"1\" {\n  need a because |\n}", "shot need [a because]: value "},
		{"fact one = | // why", " fact [one =]: expression "},
		{"expect shot \"4A\" lens \"Wi|de 18\"", " expect [shot \"4A\" lens]: text \"Wide 18\""},
		{"shot \"1\" { weight 2 }\n|", "  []: keyword "},
		{"}\n}\nuse| x", "  []: keyword use"},
		{"case \"a\" {\n  given {\n    x |", "case given x []: value "},
	} {
		t.Run(c.text, func(t *testing.T) {
			before, after, _ := strings.Cut(c.text, "|")
			src, ds := NewSource("test", []byte(before+after))
			if ds.HasErrors() {
				t.Fatal(ds)
			}
			p := src.At(len(before))
			var blocks, values []string
			for _, block := range p.Blocks {
				blocks = append(blocks, block.Keyword.Value)
			}
			for _, value := range p.Values {
				values = append(values, value.Text())
			}
			got := fmt.Sprintf("%s %s [%s]: %s %s", strings.Join(blocks, " "), p.Keyword.Value, strings.Join(values, " "), placeKinds[p.Kind], p.Span.Text())
			if got != c.want {
				t.Errorf("got  %q\nwant %q", got, c.want)
			}
		})
	}
}

func FuzzPlace(f *testing.F) {
	f.Add("shot \"1\" {\n  need (a <\n 12%) because \"x\"\n}\n// end", 20)
	f.Add("}}{ {fact a = \"", 8)
	f.Fuzz(func(t *testing.T, text string, offset int) {
		src, ds := NewSource("fuzz", []byte(text))
		if ds.HasErrors() || offset < 0 || offset > len(src.Text) {
			return
		}
		p := src.At(offset)
		if p.Kind == 0 || p.Span.Start > offset || p.Span.End < offset {
			t.Errorf("offset %d is said to stand at %d..%d (%s)", offset, p.Span.Start, p.Span.End, placeKinds[p.Kind])
		}
	})
}
