package engine

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// filterCatalogue reads a catalogue of filters with one lens and one camera.
func filterCatalogue(t testing.TB, thread, builtIn, filters string) (*catalog.Catalogue, *catalog.Camera, *catalog.Lens) {
	t.Helper()
	text := fmt.Sprintf("mount \"Near\" {\n flange 18mm\n}\ncamera \"Body\" {\n mount \"Near\"\n mode \"All\" 24mm x 16mm\n iso 800\n%s\n}\n"+
		"lens \"Only\" {\n mount \"Near\"\n focal 30mm\n pupil thin\n thread %s\n}\n%s", builtIn, thread, filters)
	source, diagnostics := lang.NewSource("filters.catalog", []byte(text))
	if diagnostics != nil {
		t.Fatal(diagnostics)
	}
	c, found := catalog.Load(source)
	if found.HasErrors() {
		t.Fatalf("%v in\n%s", found, text)
	}
	return c, c.Cameras.All()[0], c.Lenses.All()[0]
}

func filterText(name, kind string, lines ...string) string {
	return fmt.Sprintf("filter %q {\n kind %s\n %s\n}\n", name, kind, strings.Join(lines, "\n "))
}

// Whatever filters there are: each piece fits on the one before it, none is there twice, no two
// are turned, and the strength is that of all of them.
func TestFiltersFitOnOneAnother(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		threads := rapid.SliceOfN(rapid.SampledFrom([]int{62, 67, 72, 77}), 1, 6).Draw(rt, "threads")
		var text strings.Builder
		for i, thread := range threads {
			size := fmt.Sprintf("thread %dmm", thread)
			if rapid.Bool().Draw(rt, "in other units") {
				size = fmt.Sprintf("thread %.1fcm", float64(thread)/10)
			}
			switch rapid.IntRange(0, 3).Draw(rt, "kind") {
			case 0:
				text.WriteString(filterText(fmt.Sprintf("Ring %d", i), "step-up", size, fmt.Sprintf("front %dmm", thread+5)))
			case 1:
				low := rapid.IntRange(1, 4).Draw(rt, "low")
				text.WriteString(filterText(fmt.Sprintf("Turning %d", i), "nd", size, fmt.Sprintf("strength %d stops..%d stops", low, low+rapid.IntRange(1, 4).Draw(rt, "range"))))
			default:
				text.WriteString(filterText(fmt.Sprintf("ND %d", i), "nd", size, fmt.Sprintf("strength %d stops", rapid.IntRange(1, 10).Draw(rt, "strength"))))
			}
		}
		builtIn := rapid.SampledFrom([]string{"", "built_in_nd 2, 4, 6 stops"}).Draw(rt, "built in")
		c, camera, lens := filterCatalogue(t, rapid.SampledFrom([]string{"67mm", "none", "72mm"}).Draw(rt, "lens"), builtIn, text.String())
		set := newFilterSets(c, camera).of(lens)
		if f := set.list[0]; f.Put != nil || f.Stops != 0 || f.BuiltIn != 0 {
			t.Fatalf("the first way is %+v, want no filter", f)
		}
		for i, f := range set.list {
			thread, turned, stops := lens.Thread.Diameter.OrNaN(), 0, f.BuiltIn
			low, high := f.BuiltIn, f.BuiltIn
			seen := map[*catalog.Filter]bool{}
			for _, piece := range f.All() {
				if !(math.Abs(piece.Thread.Value-thread) < 1e-4) {
					rt.Errorf("%q does not go on %g mm", piece.Name.Value, thread*1e3)
				}
				thread = piece.Front.Or(piece.Thread.Value)
				if seen[piece] {
					rt.Errorf("%q is there twice", piece.Name.Value)
				}
				seen[piece] = true
				if piece.Kind.Value == catalog.FilterND {
					low, high = low+piece.Strength.Low.Value, high+piece.Strength.High.Value
					if piece.Strength.Low.Value < piece.Strength.High.Value {
						turned++
					}
				}
				stops = f.Stops
			}
			if len(f.Put) > 2 || turned > 1 || f.Turned != (turned == 1) {
				rt.Errorf("%d filters, of which %d are turned, and turned is %t", len(f.Put), turned, f.Turned)
			}
			if f.Stops < low-1e-9 || f.Stops > high+1e-9 || stops != f.Stops {
				rt.Errorf("%g stops of filters that take %g to %g", f.Stops, low, high)
			}
			if f.BuiltIn > 0 && !slices.Contains(camera.BuiltInNDs(), f.BuiltIn) {
				rt.Errorf("%g stops are not built in", f.BuiltIn)
			}
			if set.long.At(i).Stops != f.Stops || set.wide.At(i).Stops != f.Stops || set.long.At(i).Cross != 0 || set.wide.At(i).Cross != f.cross {
				rt.Errorf("the search is told %+v and %+v of %+v", set.wide.At(i), set.long.At(i), f)
			}
		}
	})
}

func TestFiltersThatGoTogether(t *testing.T) {
	nd := func(name string, thread int, strength string) string {
		return filterText(name, "nd", fmt.Sprintf("thread %dmm", thread), "strength "+strength)
	}
	ring := filterText("Ring", "step-up", "thread 67mm", "front 77mm")
	for _, c := range []struct {
		name, thread, builtIn, filters string
		want                           []string // the pieces of each way, with its stops
		pieces                         float64  // that the last of them counts
	}{
		{"none", "67mm", "", "", []string{" 0"}, 0},
		{"none that fits", "62mm", "", nd("A", 67, "3 stops"), []string{" 0"}, 0},
		{"two", "67mm", "", nd("A", 67, "3 stops") + nd("B", 67, "6 stops"), []string{" 0", "A 3", "B 6", "A B 9"}, 2},
		{"two on one ring", "67mm", "", ring + nd("A", 77, "3 stops") + nd("B", 77, "6 stops"), []string{" 0", "Ring A 3", "Ring B 6", "Ring A B 9"}, 2.25},
		{"two in other units", "67mm", "", nd("A", 67, "3 stops") + filterText("B", "nd", "thread 6.7cm", "strength 6 stops"), []string{" 0", "A 3", "B 6", "A B 9"}, 2},
		{"two, the larger on a ring before the smaller", "67mm", "", nd("A", 77, "3 stops") + ring + nd("B", 67, "6 stops"), []string{" 0", "Ring A 3", "B 6", "B Ring A 9"}, 2.25},
		{"two on two rings", "67mm", "", ring + filterText("Other", "step-up", "thread 77mm", "front 82mm") + nd("A", 77, "3 stops") + nd("B", 82, "6 stops"),
			[]string{" 0", "Ring A 3", "Ring A Other B 9"}, 2.5},
		{"in thirds", "67mm", "", nd("A", 67, "2 stops..3 stops"), []string{" 0", "A 2", "A 2.333", "A 2.667", "A 3"}, 1},
		{"two that turn", "67mm", "", nd("A", 67, "2 stops..2.5 stops") + nd("B", 67, "2 stops..2.5 stops"), []string{" 0", "A 2", "A 2.333", "A 2.5", "B 2", "B 2.333", "B 2.5"}, 1},
		{"built in", "67mm", "built_in_nd 2, 4 stops", nd("A", 67, "3 stops"), []string{" 0", "A 3", " 2", "A 5", " 4", "A 7"}, 1.25},
		{"no thread", "none", "built_in_nd 2 stops", nd("A", 67, "3 stops"), []string{" 0", " 2"}, 0.25},
	} {
		t.Run(c.name, func(t *testing.T) {
			catalogue, camera, lens := filterCatalogue(t, c.thread, c.builtIn, c.filters)
			set := newFilterSets(catalogue, camera).of(lens)
			var got []string
			for _, f := range set.list {
				var names []string
				for _, piece := range f.All() {
					names = append(names, piece.Name.Value)
				}
				got = append(got, fmt.Sprintf("%s %.4g", strings.Join(names, " "), f.Stops))
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("got %q, want %q", got, c.want)
			}
			if last := set.list[len(set.list)-1]; last.pieces() != c.pieces {
				t.Errorf("the last counts %g pieces, want %g", last.pieces(), c.pieces)
			}
		})
	}
}
