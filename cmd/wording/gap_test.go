package wording

import (
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/doctor"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/plausible"
)

// Every figure that may be assumed, and every one that nothing stands in for, has words for how to
// find it out.
func TestMeasureKnowsEveryFigure(t *testing.T) {
	keywords := map[brief.Owner][]string{
		brief.OfShot: {"light"}, brief.OfFilter: {"strength"}, brief.OfRig: {"payload"}, brief.OfLens: {"aperture", "projection"},
		brief.OfCamera: keywordsOf(plausible.Cameras), brief.OfMount: keywordsOf(plausible.Mounts), brief.OfAdapter: keywordsOf(plausible.Adapters),
	}
	keywords[brief.OfRig] = append(keywords[brief.OfRig], keywordsOf(plausible.Rigs)...)
	keywords[brief.OfLens] = append(keywords[brief.OfLens], keywordsOf(plausible.Lenses)...)
	for of, all := range keywords {
		for _, keyword := range all {
			if measures[of][keyword] == "" {
				t.Errorf("no words for %q of a %s", keyword, of)
			}
		}
	}
}

func keywordsOf[T any](rows []plausible.Row[T]) []string {
	var all []string
	for i := range rows {
		all = append(all, rows[i].Keyword)
	}
	return all
}

// Whatever doctor asks for of equipment of which nothing is known has words.
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
`, `mount "M" { }
mount "Deep" { }
adapter "A" { from "Deep" to "M" }
camera "Body" {
  mount "M"
  mode "Whole" 36mm x 24mm
}
rig "Sled" { payload ..3kg }
filter "Grey" {
  kind nd
  thread 77mm
}
lens "Unknown" {
  mount "M"
  focal 35mm
}
lens "Wide" {
  mount "Deep"
  focal 14mm
  aperture f/2.8
  focus auto
  close_focus 5cm
}
`)
	r, err := doctor.Examine(t.Context(), s, doctor.Scope{}, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	asked, ofUnknown := map[brief.Owner]map[string]bool{}, map[string]bool{}
	for _, a := range r.Ask() {
		if Measure(a.Of, a.Keyword) == "" {
			t.Errorf("no words for %q of a %s", a.Keyword, a.Of)
		}
		if asked[a.Of] == nil {
			asked[a.Of] = map[string]bool{}
		}
		asked[a.Of][a.Keyword] = true
		if a.Of == brief.OfLens && a.Name == "Unknown" {
			ofUnknown[a.Keyword] = true
		}
	}
	lens, _ := s.Stated.Lenses.Lookup("Unknown")
	for _, field := range catalog.Fields(lens) {
		// What was measured of a lens stands in place of its distortion and falloff, and only a macro is
		// asked for its magnification.
		if wanted := !field.Known() && field.Keyword != "correction" && field.Keyword != "magnification"; wanted != ofUnknown[field.Keyword] {
			t.Errorf("%s is asked for: %t, want %t", field.Keyword, ofUnknown[field.Keyword], wanted)
		}
	}
	for of, all := range measures {
		for keyword := range all {
			if !asked[of][keyword] {
				t.Errorf("%q of a %s is not asked for, though it is not known", keyword, of)
			}
		}
	}
}
