package codepage

import (
	"strings"
	"testing"

	"glassbrief/lang"
)

// Every code has a page with sentences, in the order of the table, and there is no page of another.
// That the texts do what they say is tested in cmd, by the verbs.
func TestEveryCodeHasAPage(t *testing.T) {
	rest := pagesText
	for _, row := range lang.Codes() {
		p, ok := Of(row.Code)
		if !ok {
			t.Errorf("%s has no page", row.Code)
			continue
		}
		if !strings.HasSuffix(p.About, ".") || (p.Wrong == p.Right) != (row.Code == lang.InternalFault) {
			t.Errorf("%s: about %q, wrong %q, right %q", row.Code, p.About, p.Wrong, p.Right)
		}
		if strings.Contains(p.Wrong+p.Right, "//=") || strings.Contains(p.Wrong+p.Right, "//-") {
			t.Errorf("%s: a mark is left in %q", row.Code, p.Wrong+p.Right)
		}
		_, after, found := strings.Cut(rest, "\n== "+string(row.Code))
		if !found {
			t.Errorf("the page of %s stands out of order", row.Code)
			continue
		}
		rest = after
	}
	if got, want := strings.Count(pagesText, "\n== "), len(lang.Codes()); got != want {
		t.Errorf("there are %d pages, want %d", got, want)
	}
	if _, ok := Of("missing"); ok {
		t.Error("there is a page of no code")
	}
}

func TestTexts(t *testing.T) {
	if got, want := Full("a ⟨( × 3⟩b⟨NUL × 2⟩"), "a (((b\x00\x00"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := Whole("shot \"2\" {\n}\n"); strings.Count(got, "shot ") != 1 || !strings.HasPrefix(got, "use demo\n\nscenario ") || !strings.HasSuffix(got, "shot \"2\" {\n}\n") {
		t.Errorf("got %q", got)
	}
}
