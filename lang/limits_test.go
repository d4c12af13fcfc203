package lang

import (
	"strings"
	"testing"
	"time"

	"glassbrief/lang/langtest"
)

func TestHostileText(t *testing.T) {
	for _, c := range []struct {
		name, text string
		code       Code
	}{
		{"a million open braces", strings.Repeat("{", 1_000_000), LineTooLong},
		{"a million open braces on lines", strings.Repeat("a {\n", 1_000_000), TooDeep},
		{"a million brackets on lines", strings.Repeat("(\n", 1_000_000), InvalidCharacter},
		{"fifty megabytes of x", strings.Repeat("x", 50_000_000), TooLarge},
		{"one long line", strings.Repeat("x", maxLineBytes+1), LineTooLong},
		{"NUL", "use \"a\x00b\"", NotText},
		{"invalid UTF-8", "use \"a\xff\"", NotText},
	} {
		t.Run(c.name, func(t *testing.T) {
			var ds Diagnostics
			took := langtest.Clock(langtest.Processor).Time(func() {
				var src *Source
				if src, ds = NewSource("hostile", []byte(c.text)); !ds.HasErrors() {
					_, ds = Parse(src)
				}
			})
			if took > langtest.Allowed(time.Second) {
				t.Errorf("took %v, and a second is the most", took)
			}
			if len(ds) == 0 || ds[0].Code != c.code {
				t.Fatalf("got %v, want %s first", ds, c.code)
			}
			if len(ds) > MaxRecorded {
				t.Errorf("%d diagnostics were kept", len(ds))
			}
		})
	}
}

func TestByteOrderMarkIsDropped(t *testing.T) {
	src, ds := NewSource("mark", []byte("\xef\xbb\xbfweight 2"))
	if ds != nil || src.Text != "weight 2" {
		t.Errorf("got %q, %v", src.Text, ds)
	}
}

func TestPositions(t *testing.T) {
	src, _ := NewSource("file", []byte("a\r\néxé y\n"))
	for _, c := range []struct {
		offset int
		want   Position
	}{
		{0, Position{1, 1}}, {3, Position{2, 1}}, {5, Position{2, 2}}, {9, Position{2, 5}}, {11, Position{3, 1}}, {99, Position{3, 1}},
	} {
		if got := src.Position(c.offset); got != c.want {
			t.Errorf("Position(%d) = %v, want %v", c.offset, got, c.want)
		}
	}
	if line, start := src.Line(2); line != "éxé y" || start != 3 {
		t.Errorf("Line(2) = %q, %d", line, start)
	}
}
