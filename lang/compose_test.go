package lang_test

import (
	"strings"
	"testing"

	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestComposeIsTidyWithComments(t *testing.T) {
	text, origins := lang.Compose([]lang.Line{
		{Comment: "first\nand second line"},
		{Keyword: "use", Value: `"a.catalog"`},
		{},
		{Keyword: "shot", Value: `"1"`, Comment: "behind", Block: []lang.Line{
			{Keyword: "distance", Value: "2 m", Comment: "by tape"},
			{Comment: "inside"},
		}},
		{Keyword: "shot", Value: `"2"`, Block: []lang.Line{}},
	})
	want := `// first and second line
use "a.catalog"

shot "1" {  // behind
  distance  2m  // by tape
  // inside
}

shot "2" {
}
`
	if diff := cmp.Diff(want, text); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if want := strings.Count(text, "\n"); len(origins) != want {
		t.Errorf("got %d origins, want one for each of %d lines", len(origins), want)
	}
}

// A value that holds the end of a line is a fault for whoever loads the text, and its lines have one origin.
func TestComposeOfAValueInTwoLines(t *testing.T) {
	src, _ := lang.NewSource("list", []byte("a\nb"))
	at := lang.Span{Source: src, End: 3}
	text, origins := lang.Compose([]lang.Line{{Keyword: "lens", Value: "\"a\n\nb\"", At: at, Block: []lang.Line{{Keyword: "mass", Value: "1kg"}}}})
	if want := strings.Count(text, "\n"); len(origins) != want {
		t.Fatalf("got %d origins, want one for each of %d lines:\n%s", len(origins), want, text)
	}
	if origins[0] != at || origins[2] != at || origins[3] != (lang.Span{}) {
		t.Errorf("got the origins %v for\n%s", origins, text)
	}
}

// What is composed is tidy already, whatever a comment holds.
func TestComposedTextIsTidy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		comment := rapid.StringMatching(`[ a-z{}"/\n\t\r]*`)
		text, _ := lang.Compose([]lang.Line{
			{Comment: comment.Draw(t, "above")},
			{Keyword: "a", Value: `"b"`, Comment: comment.Draw(t, "behind"), Block: []lang.Line{
				{Keyword: "c", Value: "12mm", Comment: comment.Draw(t, "within")}, {Comment: comment.Draw(t, "alone")},
			}},
		})
		src, ds := lang.NewSource("composed", []byte(text))
		if ds != nil {
			t.Fatal(ds)
		}
		if file, ds := lang.Parse(src); ds != nil || len(file.Statements) != 1 || len(file.Statements[0].Block.Statements) != 1 {
			t.Fatalf("%v in\n%s", ds, text)
		}
		if tidy := lang.Tidy(src); tidy != text {
			t.Errorf("tidying changes\n%q to\n%q", text, tidy)
		}
	})
}
