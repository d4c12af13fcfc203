package learn_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"glassbrief/engine/learn"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

func groupsOf(t *testing.T, text string) []learn.Group {
	t.Helper()
	src, found := lang.NewSource("a.choices", []byte(text))
	groups, ds := learn.Read(src)
	if found = append(found, ds...); found.HasErrors() {
		t.Fatal(found)
	}
	return groups
}

func saidOf(s *learn.Said) string {
	if s == nil {
		return "-"
	}
	return s.Taken()
}

func TestChanged(t *testing.T) {
	const old = `choices "a.scenario" {
  chose "W" in shot "1"
  chose "W" over "N" in shot "2"
  chose "N" over "Z" in shot "2"
  chose "Z" in shot "3"
}
choices "b.scenario" {
  chose "W" in shot "1"
}
`
	for _, test := range []struct {
		name, new string
		want      []string
	}{
		{"the order, and a block in two", `choices "b.scenario" { chose "W" in shot "1" }
choices "./a.scenario" { chose "Z" in shot "3"
  chose "N" over "Z" in shot "2" }
choices "a.scenario" { chose "W" over "N" in shot "2"
  chose "W" in shot "1" }
`, nil},
		{"another lens, other rivals, one more and two less", `choices "a.scenario" { chose "T" in shot "1"
  chose "N" in shot "2"
  chose "N" in shot "4" }
`, []string{
			`a.scenario 1: "W" -> "T"`, `a.scenario 2: "N" over "Z" -> "N"`, `a.scenario 4: - -> "N"`,
			`a.scenario 2: "W" over "N" -> -`, `a.scenario 3: "Z" -> -`, `b.scenario 1: "W" -> -`,
		}},
	} {
		t.Run(test.name, func(t *testing.T) {
			var got []string
			for _, c := range learn.Changed(groupsOf(t, old), groupsOf(t, test.new)) {
				got = append(got, fmt.Sprintf("%s %s: %s -> %s", c.Scenario, c.Shot, saidOf(c.Old), saidOf(c.New)))
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("differs (-want +got):\n%s", diff)
			}
		})
	}
}

// The old choices without those that change, and with what they change to, are the new ones.
func TestChangedLeadsFromOldToNew(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 3))
	for range langtest.Cases(300) {
		list := func() (said []string) {
			for range r.IntN(8) {
				line := fmt.Sprintf("chose %q", string(rune('A'+r.IntN(3))))
				if r.IntN(2) == 0 {
					line += fmt.Sprintf(" over %q", string(rune('X'+r.IntN(2))))
				}
				if line += fmt.Sprintf(" in shot \"%d\"", r.IntN(3)); !slices.Contains(said, line) {
					said = append(said, line)
				}
			}
			return said
		}
		text := func(said []string) string { return "choices \"a.scenario\" {\n" + strings.Join(said, "\n") + "\n}\n" }
		old, new := list(), list()
		now := slices.Clone(old)
		for _, c := range learn.Changed(groupsOf(t, text(old)), groupsOf(t, text(new))) {
			if c.Old != nil {
				now = slices.DeleteFunc(now, func(line string) bool { return line == c.Old.String() })
			}
			if c.New != nil {
				now = append(now, c.New.String())
			}
			if c.Old != nil && c.New != nil && (c.Old.Shot.Value != c.New.Shot.Value || c.Old.String() == c.New.String()) {
				t.Errorf("%s is said to change into %s", c.Old, c.New)
			}
		}
		slices.Sort(now)
		slices.Sort(new)
		if !slices.Equal(now, new) {
			t.Fatalf("from %q the changes lead to %q, want %q", old, now, new)
		}
	}
}
