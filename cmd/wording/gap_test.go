package wording

import (
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/doctor"
	"glassbrief/engine/enginetest"
)

// Every figure that may be unknown of a lens has words for how to measure it, and is asked for: of
// two lenses of which next to nothing is known, one is a macro.
func TestMeasureKnowsEveryGap(t *testing.T) {
	s := enginetest.ReadWith(t, `use "kit.catalog"
scenario "Bare" {
  camera "Body"
  rig "Sled"
}
shot "1" {
  subject person 1.7m
  frame medium
  distance 2m
}
`, `mount "M" { flange 20mm }
camera "Body" {
  mount "M"
  mode "Whole" 36mm x 24mm
  iso 800
}
rig "Sled" { payload 1kg..3kg }
lens "Unknown" {
  mount "M"
  focal 35mm
}
lens "Macro" {
  mount "M"
  focal 35mm
  close_focus 12cm
}
`)
	r, err := doctor.Examine(t.Context(), s, doctor.Scope{}, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	asked := map[string]bool{}
	for _, lens := range r.Lenses {
		for _, gap := range lens.Gaps {
			asked[gap.Keyword] = true
			if Measure(gap.Keyword) == "" {
				t.Errorf("no words for %q", gap.Keyword)
			}
			if gap.Keyword == "magnification" && lens.Name.Value != "Macro" {
				t.Errorf("the magnification of %q is asked for, which is no macro", lens.Name.Value)
			}
		}
	}
	lens, _ := s.Stated.Lenses.Lookup("Unknown")
	for _, field := range catalog.Fields(lens) {
		// What was measured of a lens stands in place of its distortion and falloff.
		if wanted := !field.Known() && field.Keyword != "correction"; wanted != asked[field.Keyword] {
			t.Errorf("%s is asked for: %t, want %t", field.Keyword, asked[field.Keyword], wanted)
		}
	}
}
