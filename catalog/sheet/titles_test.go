package sheet

import (
	"slices"
	"testing"
)

// Each title means one column of its kind, and what a crew's list of lenses has is known in
// every language.
func TestTitlesMeanOneColumn(t *testing.T) {
	for _, k := range append(slices.Clone(kinds()), kindOf(ShotKind)) {
		owner := map[string]string{}
		for _, c := range k.columns {
			for _, list := range c.words {
				for _, title := range words(list) {
					if earlier, taken := owner[title]; taken && earlier != c.keyword {
						t.Errorf("the title %q of a %s means %q and %q", title, k.keyword, earlier, c.keyword)
					}
					owner[title] = c.keyword
					if phraseOf(title) != title {
						t.Errorf("no title of a sheet is ever read as %q of a %s", title, k.keyword)
					}
				}
			}
			for i, list := range c.words {
				if list == "" && c.keyword != "correction" && c.keyword != noteColumn {
					t.Errorf("%q of a %s has no title in language %d", c.keyword, k.keyword, i)
				}
			}
		}
	}
}
