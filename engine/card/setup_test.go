package card

import (
	"testing"

	"glassbrief/engine/floor"
)

func TestKeysAreUnique(t *testing.T) {
	seen := map[string]bool{}
	group := ""
	groups := map[string]bool{}
	for _, r := range Setup() {
		if seen[r.Key] {
			t.Errorf("two rows have the key %q", r.Key)
		}
		seen[r.Key] = true
		// The rows of a group stand together: an object is made of them in one go.
		now, _ := r.Path()
		if now != group && groups[now] {
			t.Errorf("%q stands apart from its group", r.Key)
		}
		group = now
		groups[now] = true
	}
	if len(seen) < 60 {
		t.Errorf("got %d rows, want at least 60", len(seen))
	}
}

// A swap has a line of its own, and a line of the set-up has values.
func TestLinesHaveValues(t *testing.T) {
	var has [Lines]bool
	has[SwapLine] = true
	for _, r := range Setup() {
		has[r.Line] = true
	}
	for line, ok := range has {
		if !ok {
			t.Errorf("line %d has no value", line)
		}
	}
}

func TestPath(t *testing.T) {
	for key, want := range map[string][2]string{"near_m": {"", "near_m"}, "rig.mass_kg": {"rig", "mass_kg"}} {
		r := Row[floor.Swap]{Key: key}
		if group, key := r.Path(); group != want[0] || key != want[1] {
			t.Errorf("%s: got %q and %q, want %q", r.Key, group, key, want)
		}
	}
}
