package lang

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// things is a file of which every statement may be repeated.
type things struct {
	Lenses []struct {
		Name  Text     `lang:",label"`
		Focal Quantity `lang:"focal,required,dim=length,own"`
	} `lang:"lens"`
	Mounts []struct {
		Name Text `lang:",label"`
	} `lang:"mount"`
}

// A long file that is read part by part says what it says when it is read whole, and its faults are
// the same.
func TestDecodeParts(t *testing.T) {
	pieces := []string{
		"lens \"%d\" {\n focal 18mm\n}\n", "mount \"%d\"\n", "lens \"%d\" {\n}\n", "lenz \"%d\"\n", "shot \"%d\" {\n}\n", "lens {\n focal 3kg\n",
		"}\n", "= %d\n", "\n// remark\n",
	}
	rapid.Check(t, func(t *rapid.T) {
		usual := rapid.SampledFrom([]int{0, 1, 4}).Draw(t, "usual") // repeated most, so that there are several parts
		var text strings.Builder
		for i := range rapid.SampledFrom([]int{0, 1, partLength - 1, partLength, partLength + 1, 3 * partLength}).Draw(t, "length") {
			piece := pieces[usual]
			if rapid.IntRange(0, 60).Draw(t, "other") == 0 {
				piece = rapid.SampledFrom(pieces).Draw(t, "piece")
			}
			if strings.Contains(piece, "%d") {
				piece = fmt.Sprintf(piece, i)
			}
			text.WriteString(piece)
		}
		src, ds := NewSource("a.catalog", []byte(text.String()))
		if ds.HasErrors() {
			t.Fatal(ds)
		}
		var want, part, got things
		syntax, found := Parse(src)
		found = append(found, Decode(syntax, &want)...)
		again := DecodeParts(src, &part, func() {
			got.Lenses, got.Mounts = append(got.Lenses, part.Lenses...), append(got.Mounts, part.Mounts...)
		})
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("got %v, want %v", got, want)
		}
		same := func(a, b Diagnostic) bool { return a.Code == b.Code && a.Span == b.Span && a.Summary == b.Summary }
		if a, b := again.Sorted(), found.Sorted(); !slices.EqualFunc(a, b, same) {
			t.Fatalf("got %v, want %v", a, b)
		}
	})
}
