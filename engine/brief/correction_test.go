package brief_test

import (
	"testing"

	"glassbrief/lang"
)

// Every correction of every faulty text takes its own finding away and brings no other. With the finding
// others may go that follow from it.
func TestCorrections(t *testing.T) {
	made, safe := map[lang.Code]int{}, 0
	eachChunk(t, func(t *testing.T, name, chunk string, above int) {
		found := loadChunk(t, name, chunk)
		for _, d := range found {
			c, ok := d.Correction()
			if !ok {
				continue
			}
			made[d.Code]++
			if c.Safe {
				safe++
			}
			text, done := lang.Correct(c.Span.Source, []lang.Correction{c})
			if len(done) != 1 || text == c.Span.Source.Text {
				t.Errorf("line %d: the correction of %q changes nothing", above+d.Span.Position().Line, said(d))
				continue
			}
			after := loadChunk(t, name, text)
			if added, gone := without(after, found), without(found, after); len(added) > 0 || !gone[finding{d.Code, d.Summary}] {
				t.Errorf("line %d: %q: %s: gone are %v, added %v", above+d.Span.Position().Line, c.Title(), said(d), gone, added)
			}
		}
	})
	for _, code := range []lang.Code{
		lang.UnknownKeyword, lang.UnknownWord, lang.UnknownUnit, lang.UnknownName, lang.MissingUnit, lang.MissingValue, lang.ExtraValue, lang.WrongKind, lang.OutOfRange,
		lang.BadInterval, lang.DuplicateField, lang.InvalidCharacter, lang.UnclosedText, lang.UnclosedBlock, lang.UnexpectedText, lang.NotAllowed, lang.Improbable,
	} {
		if made[code] == 0 {
			t.Errorf("no text has a correction of %s", code)
		}
		delete(made, code)
	}
	if len(made) > 0 {
		t.Errorf("the list of this test lacks %v", made)
	}
	if safe < 10 {
		t.Errorf("%d corrections are safe, want 10 or more", safe)
	}
}

type finding struct {
	code    lang.Code
	summary string
}

// without gives the findings of a that b has less often.
func without(a, b lang.Diagnostics) map[finding]bool {
	count, rest := map[finding]int{}, map[finding]bool{}
	for _, d := range b {
		count[finding{d.Code, d.Summary}]++
	}
	for _, d := range a {
		of := finding{d.Code, d.Summary}
		if count[of]--; count[of] < 0 {
			rest[of] = true
		}
	}
	return rest
}
