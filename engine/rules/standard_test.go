package rules_test

import (
	"os"
	"testing"

	"glassbrief/engine/facts"
	"glassbrief/engine/rules"
	"glassbrief/lang"
)

// The standard criteria do what their cases say, and the cases say something of all that
// the criteria hold.
func TestStandardCriteria(t *testing.T) {
	const path = "../../testdata/rules/standard-cases.rules"
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	src, found := lang.NewSource(path, text)
	if found.HasErrors() {
		t.Fatal(found)
	}
	standard := rules.StandardSource()
	if _, found := rules.Load(facts.Vocabulary(), standard); len(found) > 0 { // in the program, reasons are checked when they are said
		t.Fatal(found)
	}
	set, found := rules.Standard().Extend(src)
	if len(found) > 0 {
		t.Fatal(found)
	}
	coverage := set.Coverage(standard)
	for _, c := range set.Cases() {
		for _, d := range set.Test(&c, coverage) {
			t.Error(d)
		}
	}
	for _, p := range coverage.Points() {
		if !p.Touched {
			t.Errorf("%v: no case shows of %s %s", p.Span, p.Of, p.Text)
		}
	}
}
