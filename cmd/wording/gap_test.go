package wording

import (
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/doctor"
	"glassbrief/engine/enginetest"
)

// Every figure that may be unknown of a lens has words for how to measure it.
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
`)
	r, err := doctor.Examine(t.Context(), s, doctor.Scope{}, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	gaps := 0
	for _, lens := range r.Lenses {
		for _, gap := range lens.Gaps {
			gaps++
			if Measure(gap.Keyword) == "" {
				t.Errorf("no words for %q", gap.Keyword)
			}
		}
	}
	if gaps != len(measures) {
		t.Errorf("got %d gaps of a lens of which nothing is known, want %d", gaps, len(measures))
	}
}
