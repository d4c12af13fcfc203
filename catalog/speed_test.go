package catalog_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"
	"github.com/google/go-cmp/cmp"
)

// The same syntax as of catalogues, as one writes it for participle with its stateful
// lexer: rules well ordered, few groups, lookahead 1. Nothing of it is checked or decoded.
type (
	plainFile struct {
		Statements []*plainStatement `parser:"( EndOfLine | @@ )*"`
	}
	plainStatement struct {
		Pos     lexer.Position
		Keyword string            `parser:"@Word"`
		Values  []*plainValue     `parser:"@@*"`
		Block   []*plainStatement `parser:"( Open ( EndOfLine | @@ )* Close )?"`
	}
	plainValue struct {
		Pos   lexer.Position
		First string   `parser:"@( Text | Quantity | Word )"`
		Last  string   `parser:"( Dots @Quantity"`
		Sizes []string `parser:"| ( Times @Quantity )+ )?"`
	}
)

var statefulParser = sync.OnceValue(func() *participle.Parser[plainFile] {
	return participle.MustBuild[plainFile](participle.Lexer(lexer.MustSimple([]lexer.SimpleRule{
		{Name: "Blank", Pattern: `[ \t]+`},
		{Name: "EndOfLine", Pattern: `\r?\n`},
		{Name: "Quantity", Pattern: `(?:f/|T)?-?[0-9]+(?:\.[0-9]+)?(?: [0-9]+/[0-9]+)?(?: ?(?:stops|EUR)|[a-z%]+)?`},
		{Name: "Times", Pattern: `x\b`},
		{Name: "Word", Pattern: `[a-zA-Z_][a-zA-Z0-9_-]*`},
		{Name: "Text", Pattern: `"(?:\\.|[^"\\\n])*"`},
		{Name: "Dots", Pattern: `\.\.`},
		{Name: "Open", Pattern: `\{`},
		{Name: "Close", Pattern: `\}`},
		{Name: "Comment", Pattern: `//[^\n]*`},
	})), participle.Elide("Blank", "Comment"), participle.UseLookahead(1))
})

// many writes a catalogue of a number of lenses as a hire house has them.
func many(lenses int) string {
	var b strings.Builder
	b.WriteString("mount \"Deep bayonet\" {\n  flange    45mm\n}\n\n")
	for i := range lenses {
		fmt.Fprintf(&b, `lens "Lens %d" { // of the hire house
  about     "On shelf %d"
  have      rent %d EUR
  mount     "Deep bayonet"
  focal     %dmm..%dmm
  aperture  f/2.8..f/22
  transmission T3.1
  close_focus 38cm
  circle    43.5mm
  focus     manual
  mass      %dg
  length    110mm
  diameter  85mm
  thread    77mm
  balance   40mm
  distortion -1.5%%
  falloff   1 1/3 stops
}

`, i, i%40, 10+i%50, 18+i%20, 40+i%60, 300+i%900)
	}
	return b.String()
}

// outline writes a tree as text: keywords, values and blocks.
func (s *plainStatement) outline() string {
	text := s.Keyword
	for _, v := range s.Values {
		text += " " + v.First
		if v.Last != "" {
			text += ".." + v.Last
		}
	}
	for _, inner := range s.Block {
		text += "\n  " + inner.outline()
	}
	return text
}

func outline(s *lang.Statement) string {
	text := s.Keyword.Value
	for _, v := range s.Values {
		text += " " + v.Span.Text()
	}
	if s.Block != nil {
		for _, inner := range s.Block.Statements {
			text += "\n  " + outline(inner)
		}
	}
	return text
}

func TestStatefulGrammarReadsTheSame(t *testing.T) {
	text := many(3)
	file, err := statefulParser().ParseString("", text)
	if err != nil {
		t.Fatal(err)
	}
	ours, ds := lang.Parse(source(t, "many", text))
	if ds != nil {
		t.Fatal(ds)
	}
	var want, got []string
	for _, s := range file.Statements {
		want = append(want, s.outline())
	}
	for _, s := range ours.Statements {
		got = append(got, outline(s))
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("the two ways to read a catalogue differ (-stateful +ours):\n%s", diff)
	}
}

// lensesPerMB is how many lenses of many make a megabyte.
const lensesPerMB = 2815

func loadMany(t testing.TB, text string) {
	t.Helper()
	src, ds := lang.NewSource("many", []byte(text))
	if ds != nil {
		t.Fatal(ds)
	}
	if _, ds := catalog.Load(src); len(ds) > 0 {
		t.Fatal(ds)
	}
}

func parseStateful(t testing.TB, text string) {
	t.Helper()
	if _, err := statefulParser().ParseString("", text); err != nil {
		t.Fatal(err)
	}
}

// loadings are the ways to read 1 MB and 4 MB of catalogue.
func loadings(t testing.TB) (small, large langtest.Way, text string) {
	t.Helper()
	little, text := many(lensesPerMB), many(4*lensesPerMB)
	if mb := float64(len(text)) / (1 << 20); mb < 3.9 || mb > 4.1 {
		t.Fatalf("the large catalogue has %.2f MB, want 4", mb)
	}
	return langtest.Way{Name: "1MB", Do: func() { loadMany(t, little) }}, langtest.Way{Name: "4MB", Do: func() { loadMany(t, text) }}, text
}

// Work that grows with the square would make 4 MB take 16 times as long as 1 MB. The bound
// lies where neither a shared cache nor the race detector reaches it; that of BenchmarkLoad
// is the one to keep.
func TestLoadingScales(t *testing.T) {
	small, large, _ := loadings(t)
	r := langtest.NewRace(langtest.Processor, small, large)
	for range 3 {
		if r.Round(); r.Ratio("4MB", "1MB") <= 4.5 {
			break
		}
	}
	if got := r.Ratio("4MB", "1MB"); got > 9 {
		t.Errorf("4 MB take %.2f times as long as 1 MB, want about 4", got)
	}
}

// BenchmarkLoad reads, decodes and checks a catalogue, of which participle with its
// stateful lexer only makes a tree.
func BenchmarkLoad(b *testing.B) {
	small, large, text := loadings(b)
	r := langtest.NewRace(langtest.Processor, small, large,
		langtest.Way{Name: "stateful", Do: func() { parseStateful(b, text) }})
	langtest.Hold(b, r.Round, r.AtMost("4MB", "1MB", 4.5), r.AtMost("4MB", "stateful", 0.30))
}
