package lang

import (
	"strings"
	"testing"
)

type editionFile struct {
	Uses []Text `lang:"use"`
	Name Text   `lang:"scenario"`
}

// What stands on the first line and what is found there; the rest of the file has a fault of its own.
func TestEdition(t *testing.T) {
	const rest = "use \"a\"\nscenario 2m\n"
	of := "takes a quoted text here"
	for _, c := range []struct{ name, text, at, says, then string }{
		{"none", "", "", "", of},
		{"this one", "glassbrief 1\n", "", "", of},
		{"behind comments and empty lines", "\n// a remark\n\n  glassbrief 1 // this one\n", "", "", of},
		{"a newer one", "glassbrief 2\n", "2", "is of edition 2, and this program reads up to edition 1", ""},
		{"a newer one with a point", "// so\nglassbrief 1.1\n", "1.1", "is of edition 1.1", ""},
		{"a newer one with what nobody knows yet", "glassbrief 3 \"x\" 4qq\n<> {\n", "3", "is of edition 3", ""},
		{"a newer one with a block", "glassbrief 2 {\n", "2", "is of edition 2", ""},
		{"no number", "glassbrief\n", "", "lacks a plain number", of},
		{"a text", "glassbrief \"1\"\n", "\"1\"", "is a quoted text", of},
		{"a length", "glassbrief 1m\n", "1m", "a plain number is wanted here", of},
		{"no edition", "glassbrief 0\n", "0", "is not possible", of},
		{"two", "glassbrief 1 2\n", "2", "nothing more", of},
		{"a block", "glassbrief 1 {\n}\n", "{", "takes no block", of},
		{"twice", "glassbrief 1\nglassbrief 2\n", "glassbrief", "stands before all else", of},
	} {
		t.Run(c.name, func(t *testing.T) {
			src, _ := NewSource("test", []byte(c.text+rest))
			file, found := Parse(src)
			found = append(found, Decode(file, &editionFile{})...).Sorted()
			var parts struct {
				Uses  []Text `lang:"use"`
				Names []Text `lang:"scenario"`
			}
			if again := DecodeParts(src, &parts, func() {}).Sorted(); len(again) != len(found) || len(found) > 0 && again[0].Summary != found[0].Summary {
				t.Errorf("in parts got %v, want %v", again, found)
			}
			for _, want := range []string{c.says, c.then} {
				if want == "" {
					continue
				}
				if len(found) == 0 || !strings.Contains(found[0].Summary, want) || found[0].Severity != Error || found[0].Detail == "" {
					t.Fatalf("got %v, want %q first", found, want)
				}
				if want == c.says && found[0].Span.Text() != c.at {
					t.Errorf("got %q at %q, want it at %q", want, found[0].Span.Text(), c.at)
				}
				found = found[1:]
			}
			if len(found) > 0 {
				t.Errorf("nothing more is wanted than %q and %q, got %v", c.says, c.then, found)
			}
		})
	}
}

// The line is no statement of the file, and tidying keeps it.
func TestEditionIsKept(t *testing.T) {
	src, _ := NewSource("test", []byte("// a remark\n  glassbrief   1   // this one\n\n\n\nuse \"a\"\n"))
	file, found := Parse(src)
	if found != nil || file.Edition == nil || len(file.Statements) != 1 {
		t.Fatalf("got %v, the edition %v and %d statements", found, file.Edition, len(file.Statements))
	}
	tidy, found := TidyChecked(src)
	if want := "// a remark\nglassbrief 1  // this one\n\nuse \"a\"\n"; found != nil || tidy != want {
		t.Errorf("got %q and %v, want %q", tidy, found, want)
	}
	bare, _ := NewSource("test", []byte("use \"a\"\n"))
	if without, _ := Parse(bare); without.Meaning() == file.Meaning() {
		t.Error("a file without the line means the same to what checks a tidied text")
	}
}
