package compare

import (
	"context"
	"fmt"
	"os"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// edits are changes to the demo scenario that any two versions may differ by.
var edits = [][2]string{
	{"carry     2 lenses", "carry     1 lenses"},
	{"deliver   2.39:1", "deliver   1.85:1"},
	{"rent      0 EUR", "rent      200 EUR"},
	{"shot \"4A\"", "shot \"4Z\""},
	{"\"Circle the winch\"", "\"Round the winch\""},
	{"distance  1.6m..2.8m", "distance  1.6m..2.9m"},
	{"distance  12m", "distance  1200cm"},
	{"light     320lx", "light     100lx"},
	{"  prefer    background_blur > 0.5%\n", ""},
	{"scene     5", "scene     55"},
	{"weight    3", "weight    1"},
	{"use demo", "use demo // again"},
}

func version(t *rapid.T, text, name string) *lang.Source {
	for i, edit := range edits {
		if rapid.Bool().Draw(t, fmt.Sprintf("%s %d", name, i)) {
			text = strings.Replace(text, edit[0], edit[1], 1)
		}
	}
	src, found := lang.NewSource(name, []byte(text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	return src
}

// All changes made to the old brief give the plan of the new one; none give that of the
// old; and made one after the other in any version they can be put together.
func TestChangesMakeTheNewBrief(t *testing.T) {
	text, err := os.ReadFile("../../scenarios/night-ferry.scenario")
	if err != nil {
		t.Fatal(err)
	}
	for _, edit := range edits {
		if !strings.Contains(string(text), edit[0]) {
			t.Fatalf("the demo has no %q to edit", edit[0])
		}
	}
	ctx, options := context.Background(), engine.Options{}
	rapid.Check(t, func(t *rapid.T) {
		old := contentOf(brief.PartsOf(version(t, string(text), "old"), brief.Files{}))
		new := contentOf(brief.PartsOf(version(t, string(text), "new"), brief.Files{}))
		p := pair(old, new)
		changes := p.changes()
		made, want := planOf(ctx, old.with(changes), options), planOf(ctx, new.with(nil), options)
		if made == nil || want == nil {
			t.Fatalf("no plan: %v, %v", made, want)
		}
		if made.kit != want.kit || made.camera != want.camera {
			t.Errorf("got %s with %s, want %s with %s", made.kit, made.camera, want.kit, want.camera)
		}
		for _, b := range new.blocks {
			if b.isShot() && made.shots[p.originOf(b)] != want.shots[b] {
				t.Errorf("%s: got %v, want %v", b.key, made.shots[p.originOf(b)], want.shots[b])
			}
		}
		again := pair(new, new)
		if extra := again.changes(); len(extra) > 0 {
			t.Errorf("a brief differs from itself: %v", extra)
		}
	})
}

func TestShrink(t *testing.T) {
	for _, c := range []struct{ all, needs []int }{
		{[]int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}, []int{7}},
		{[]int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9}, []int{0, 4, 9}},
		{[]int{0, 1, 2}, []int{0, 1, 2}},
		{[]int{3}, []int{3}},
	} {
		tries := 0
		got := shrink(c.all, func(set []int) bool {
			tries++
			have := map[int]bool{}
			for _, at := range set {
				have[at] = true
			}
			for _, at := range c.needs {
				if !have[at] {
					return false
				}
			}
			return true
		})
		if diff := cmp.Diff(c.needs, got); diff != "" {
			t.Errorf("of %v (-want +got):\n%s", c.all, diff)
		}
		if tries > 40 {
			t.Errorf("%d tries for %d changes", tries, len(c.all))
		}
	}
}
