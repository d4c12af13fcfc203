package doctor_test

import (
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine/doctor"
	"glassbrief/lang"
)

func TestUpkeep(t *testing.T) {
	const filters = `filter "Grey 77" { kind nd
 thread 77mm }
filter "Grey 95" { kind nd
 thread 95mm }
filter "Ring" { kind step-up
 thread 82mm
 front 95mm }
`
	thread := func(name, with string) string {
		return strings.Replace(lens(name, 24+len(name)), "thread 77mm", with, 1)
	}
	for _, c := range []struct {
		what, text string
		says       []string
	}{
		{"all in order", lens("A", 24) + lens("B", 35) + filters, nil},
		{"one name in two spellings", lens("Wide 24", 24) + lens("wide-24", 25), []string{`"Wide 24" and "wide-24" have one name`}},
		{"one lens under two names", lens("A", 24) + lens("B", 24), []string{`"A" and "B" are described alike`}},
		{"two lenses of which little is known", lens("A", 24, "aperture", "transmission", "mass") + lens("B", 24, "aperture", "transmission", "mass"), nil},
		{"no camera", strings.Replace(lens("A", 24), `"Near"`, `"Other"`, 1), []string{`"A" goes onto no camera`}},
		{"a thread without filter", thread("A", "thread 67mm") + thread("BB", "thread 67mm") + filters, []string{`no filter "nd" fits the thread of 67 mm`}},
		{"a thread with a ring", thread("A", "thread 82mm") + filters, nil},
		{"no thread", thread("A", "thread none") + filters, nil},
		{"no filters at all", thread("A", "thread 67mm"), nil},
	} {
		src, ds := lang.NewSource("kit.catalog", []byte(equipment+c.text))
		if ds != nil {
			t.Fatal(ds)
		}
		loaded, ds := catalog.Load(src)
		if ds.HasErrors() {
			t.Fatalf("%s: %v", c.what, ds)
		}
		found := doctor.Upkeep(loaded)
		var got []string
		for _, d := range found {
			got = append(got, d.Summary)
			if d.Severity != lang.Warning || d.Code != lang.Upkeep || !d.Span.Known() || d.Detail == "" {
				t.Errorf("%s: a finding without place or remedy: %+v", c.what, d)
			}
		}
		if !slices.EqualFunc(got, c.says, strings.HasPrefix) {
			t.Errorf("%s: got %q, want %q", c.what, got, c.says)
		}
	}
}
