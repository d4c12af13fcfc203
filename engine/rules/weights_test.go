package rules_test

import (
	"fmt"
	"strings"
	"testing"

	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// A weight goes to the criterion in force, of which all else stays, and to no set made before.
func TestWeights(t *testing.T) {
	source := func(name, text string) *lang.Source {
		src, found := lang.NewSource(name, []byte(text))
		if found.HasErrors() {
			t.Fatal(found)
		}
		return src
	}
	weighed := func(sources ...*lang.Source) string {
		set, found := rules.Standard().Extend(sources...)
		if len(found) > 0 {
			t.Fatal(found)
		}
		var all []string
		for i, c := range set.Criteria() {
			if standard := rules.Standard().Criteria(); i >= len(standard) || c.Weight != standard[i].Weight || c.Weighed.Known() || c.Span != standard[i].Span {
				all = append(all, fmt.Sprintf("%s %g from %s by %s", c.Name, c.Weight, c.Span.Source.Name, strings.Split(c.Weighed.String(), ":")[0]))
			}
		}
		return strings.Join(all, "; ")
	}
	const criterion = "criterion \"light\" {\n  score 1\n}\n"
	for _, c := range []struct {
		name string
		in   []*lang.Source
		want string
	}{
		{"one", []*lang.Source{source("a", "weight \"depth-of field\" 0.5\n")}, "depth of field 0.5 from standard.rules by a"},
		{"the later of two files", []*lang.Source{source("a", "weight \"light\" 5\n"), source("b", "weight \"light\" 7\n")}, "light 7 from standard.rules by b"},
		{"a criterion of the file", []*lang.Source{source("a", "weight \"light\" 5\n"+criterion)}, "light 5 from a by a"},
		{"a criterion of an earlier file, which says its own", []*lang.Source{source("a", "criterion \"own\" {\n  weight 2\n  score 1\n}\n"), source("b", "weight \"own\" 5\n")}, "own 5 from a by b"},
		{"a criterion that comes in the place of the weighed one", []*lang.Source{source("a", "weight \"light\" 5\n"), source("b", criterion)}, "light 1 from b by "},
	} {
		if got := weighed(c.in...); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
	if got := weighed(); got != "" {
		t.Errorf("the standard criteria changed: %s", got)
	}
}
