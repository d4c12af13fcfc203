package lang

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/alecthomas/participle/v2/lexer"
)

// seed adds small texts that together hold every kind of token, value and fault: a fuzzer
// that begins with whole files makes few executions. TestEveryText reads those.
func seed(f *testing.F) {
	f.Helper()
	for _, text := range []string{
		"use demo // the built-in one\n",
		"camera \"A\" or \"B\", \"C\"\n",
		"shot \"1\" {\n  distance 5ft 10in..2 m\n}\n// end",
		"frame 36mm x 24mm\ndeliver 2.39:1\nscene 4A\n",
		"need (a <\n 12%) because \"x\"\n",
		"fact b = c + 1/50s\nveto not known(d)\n",
		"at 52.37N 4.90E on 2027-05-03 18:40 Europe/Amsterdam",
		"a \"unclosed\nb 1,5 # {{{ }}} \r\n",
		"= f/2.8 T3.1 EV-2 1 1/3 stops ..2m x : ..",
		"lens \"L\" { focal 24, 28 , 35mm } rest",
		"\rneed!\n",
	} {
		f.Add(text)
	}
}

// texts reads every file of the repository that is written in the language.
func texts(t testing.TB) []string {
	t.Helper()
	var all []string
	err := filepath.WalkDir("..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		switch filepath.Ext(path) {
		case ".scenario", ".catalog", ".rules":
			text, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			all = append(all, string(text))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func FuzzLex(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		scan := &scanner{text: text, fresh: true}
		var whole strings.Builder
		for {
			token, err := scan.Next()
			if err != nil {
				t.Fatal(err)
			}
			if token.Type == lexer.EOF {
				break
			}
			if token.Value == "" {
				t.Fatalf("empty token of kind %d at %d", token.Type, token.Pos.Offset)
			}
			whole.WriteString(token.Value)
		}
		if whole.String() != text {
			t.Fatalf("the tokens are not the text:\n%q\n%q", whole.String(), text)
		}
	})
}

func FuzzParse(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		src, ds := NewSource("fuzz", []byte(text))
		checkSpans(t, src, ds)
		if ds.HasErrors() {
			return
		}
		file, ds := Parse(src)
		checkSpans(t, src, ds)
		checkSyntax(t, file)
		checkGrammar(t, src)
	})
}

func FuzzDecode(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		src, ds := NewSource("fuzz", []byte(text))
		if ds.HasErrors() {
			return
		}
		file, _ := Parse(src)
		var target testFile
		checkSpans(t, src, Decode(file, &target))
	})
}

func FuzzTidy(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, text string) {
		src, ds := NewSource("fuzz", []byte(text))
		if ds.HasErrors() {
			return
		}
		checkTidy(t, src)
	})
}

// checkTidy holds tidying to its three promises: twice is once, comments stay, and a
// text without faults keeps its meaning.
func checkTidy(t *testing.T, src *Source) {
	t.Helper()
	once := tidyText(src.Text)
	if twice := tidyText(once); twice != once {
		t.Errorf("tidy is not idempotent:\n%q\n%q", once, twice)
	}
	if got, want := comments(once), comments(src.Text); got != want {
		t.Errorf("comments changed:\n%q\n%q", got, want)
	}
	file, ds := Parse(src)
	if len(ds) > 0 {
		return
	}
	tidied, ds := NewSource("tidied", []byte(once))
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	again, ds := Parse(tidied)
	if len(ds) > 0 {
		t.Fatalf("the tidied text has faults: %v\n%s", ds, once)
	}
	if got, want := squeeze(outline(again.Statements)), squeeze(outline(file.Statements)); got != want {
		t.Errorf("meaning changed:\n%s\n%s", got, want)
	}
}

// squeeze takes out blanks, which expressions carry over lines with another indent.
func squeeze(text string) string { return strings.Join(strings.Fields(text), "") }

func comments(text string) string {
	var all []string
	scan := &scanner{text: text, fresh: true}
	for {
		token, _ := scan.Next()
		switch token.Type {
		case lexer.EOF:
			return strings.Join(all, "\n")
		case tokenComment:
			all = append(all, strings.TrimRight(token.Value, " \t\r"))
		}
	}
}

func checkSpans(t *testing.T, src *Source, ds Diagnostics) {
	t.Helper()
	for _, d := range ds {
		if d.Span.Source != src || d.Span.Start < 0 || d.Span.Start > d.Span.End || d.Span.End > len(src.Text) {
			t.Errorf("%s: span %d..%d lies outside the %d bytes of its source", d.Code, d.Span.Start, d.Span.End, len(src.Text))
		}
		if d.Summary == "" || d.Severity == 0 {
			t.Errorf("diagnostic without summary or severity: %+v", d)
		}
	}
}

// checkSyntax holds every node to its place: inside its parent, and on its own text.
func checkSyntax(t *testing.T, file *File) {
	t.Helper()
	var check func(list []*Statement, within Span)
	check = func(list []*Statement, within Span) {
		for _, s := range list {
			if s.Span.Start < within.Start || s.Span.End > within.End {
				t.Errorf("%q lies outside its parent", s.Keyword.Value)
			}
			if got := s.Keyword.Span.Text(); got != s.Keyword.Value {
				t.Errorf("keyword %q points at %q", s.Keyword.Value, got)
			}
			for _, v := range s.Values {
				for _, part := range v.Parts {
					switch at := part.Span.Text(); part.Kind {
					case WordPart:
						if at != part.Text {
							t.Errorf("word %q points at %q", part.Text, at)
						}
					case TextPart:
						if !strings.HasPrefix(at, `"`) || unquote(at) != part.Text {
							t.Errorf("text %q points at %q", part.Text, at)
						}
					case NumberPart:
						if ScanQuantity(at) != len(at) {
							t.Errorf("quantity points at %q", at)
						}
					}
				}
			}
			if s.Block != nil {
				check(s.Block.Statements, s.Block.Span)
			}
		}
	}
	check(file.Statements, Span{Source: file.Source, End: len(file.Source.Text)})
}

// TestEveryText holds every file of the repository to the same promises as the fuzzers.
func TestEveryText(t *testing.T) {
	for _, text := range texts(t) {
		src, ds := NewSource("text", []byte(text))
		if ds.HasErrors() {
			continue
		}
		file, ds := Parse(src)
		checkSpans(t, src, ds)
		checkSyntax(t, file)
		checkTidy(t, src)
	}
}
