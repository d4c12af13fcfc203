package catalog_test

import (
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

func TestFiltersFor(t *testing.T) {
	const shelf = `
filter "ND 67" { kind nd
thread 67mm }
filter "ND 77" { kind nd
thread 77mm }
filter "ND 82" { kind nd
thread 82mm }
filter "Polar 67" { kind polar
thread 67mm }
filter "Ring" { kind step-up
thread 6.7cm
front 77mm }
filter "Ring to nowhere" { kind step-up
thread 67mm }
`
	src, _ := lang.NewSource("test", []byte(shelf))
	c, ds := catalog.Load(src)
	if ds.HasErrors() {
		t.Fatal(ds)
	}
	for _, x := range []struct {
		name   string
		thread float64
		kind   string
		want   []string
	}{
		{"by itself and on a ring", 0.067, catalog.FilterND, []string{"ND 67", "ND 77 on Ring"}},
		{"no ring goes down", 0.077, catalog.FilterND, []string{"ND 77"}},
		{"of a kind", 0.067, catalog.FilterPolar, []string{"Polar 67"}},
		{"nothing fits", 0.058, catalog.FilterND, nil},
	} {
		var got []string
		for _, way := range c.FiltersFor(x.thread, x.kind) {
			name := way.Filter.Name.Value
			if way.Ring != nil {
				name += " on " + way.Ring.Name.Value
			}
			got = append(got, name)
		}
		if diff := cmp.Diff(x.want, got); diff != "" {
			t.Errorf("%s: differs (-want +got):\n%s", x.name, diff)
		}
	}
}
