package audit

import (
	"math"
	"slices"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/why"
	"glassbrief/lang"
)

// sunny is a brief of a bright deck and a shade beside it; its catalogue has filters or none.
func sunny(t *testing.T, filters string) *brief.Scenario {
	t.Helper()
	const text = `use "kit.catalog"
scenario "Sunny" {
  camera "Body"
  rig "Sled"
}
shot "deck" {
  subject person 1.78m
  frame full
  distance 3m
  move hold
  light 100000lx
}
shot "shade" {
  subject person 1.78m
  frame full
  distance 3m
  move hold
  light 800lx
}
`
	return enginetest.ReadWith(t, text, `mount "Slim" {
  flange 18mm
  throat 52mm
}
camera "Body" {
  mount "Slim"
  mode "Full" 36mm x 24mm
  iso 800
  iso_range 200..12800
  mass 900g
}
rig "Sled" {
  payload 0.5kg..4kg
  wobble 0.2deg
  isolation 70%
}
lens "Wide 24" {
  have owned
  mount "Slim"
  focal 24mm
  pupil thin
  aperture f/1.4..f/11
  transmission T1.5
  close_focus 0.2m
  circle 46mm
  focus manual
  mass 500g
  length 70mm
  distortion -1%
  thread 77mm
}
`+filters)
}

// Where no filter is there, the producer hears which one to bring, and not that all is well;
// with that filter in the catalogue all is.
func TestMissingFilterIsAskedFor(t *testing.T) {
	s := sunny(t, "")
	r := run(t, s, s.Limits)
	want := r.find(t, "deck").Filter
	if r.Suits || want == nil || want.Lens != "Wide 24" || want.Thread != 77e-3 || !(want.Over > 1.0/3) {
		t.Fatalf("got suits %v and the filter %+v, want one for Wide 24 with a thread of 77 mm", r.Suits, want)
	}
	if r.find(t, "shade").Filter != nil || len(r.Filters) != 1 || r.Filters[0].Stops != want.Stops || !slices.Equal(r.IDs(r.Filters[0].Shots), []string{"deck"}) {
		t.Errorf("got the filters %+v, want that of the deck alone", r.Filters)
	}
	for stops := 1.0; stops <= 10; stops++ {
		with := *s
		with.Catalogue = s.Catalogue.WithFilter(why.ND(lang.NewQuantity(77e-3, lang.Length), stops))
		does := run(t, &with, s.Limits).Suits
		if named := stops >= want.Least && stops <= want.Most; does != named {
			t.Errorf("with an ND of %v stops: suits %v, and %v to %v are said to do", stops, does, want.Least, want.Most)
		}
	}
}

// A filter that the catalogue has, and that is enough, is not asked for.
func TestFilterThatIsThereIsNotAskedFor(t *testing.T) {
	s := sunny(t, "filter \"ND 6\" {\n  kind nd\n  thread 77mm\n  strength 6 stops\n}\n")
	if r := run(t, s, s.Limits); !r.Suits || r.Filters != nil || r.TooBright != nil {
		t.Errorf("got suits %v, filters %+v and %v too bright, want nothing missing", r.Suits, r.Filters, r.TooBright)
	}
}

// A missing lens that needs a filter is asked for with its thread.
func TestWindowNamesTheThread(t *testing.T) {
	s := sunny(t, "filter \"ND 6\" {\n  kind nd\n  thread 77mm\n  strength 6 stops\n}\n")
	for _, lens := range s.Catalogue.Lenses.All() {
		lens.Have.Kind, lens.Thread = catalog.Owned, catalog.Thread{}
	}
	r := run(t, s, s.Limits)
	if w := r.find(t, "deck").Window; w == nil || w.Thread != 77e-3 {
		t.Fatalf("got the window %+v, want one of a lens with a thread of 77 mm", w)
	}
	if r.Specifications[0].Thread != 77e-3 {
		t.Errorf("got the specification %+v, want the thread of 77 mm in it", r.Specifications[0])
	}
}

// The fewest filters serve all shots: each in the range of all that it is for.
func TestFewestFilters(t *testing.T) {
	want := func(thread, least, most, best float64) ShotVerdict {
		return ShotVerdict{Filter: &why.FilterWant{Lens: "L", Thread: thread, Least: least, Most: most, Stops: best}}
	}
	shots := []ShotVerdict{want(77e-3, 3, 5, 4), {}, want(77e-3, 5, 9, 6), want(77e-3, 6, 10, 9), want(67e-3, 1, 10, 3)}
	got := fewestFilters(shots)
	if len(got) != 3 {
		t.Fatalf("got %d filters, want 3: %+v", len(got), got)
	}
	served := 0
	for _, f := range got {
		for _, i := range f.Shots {
			served++
			if w := shots[i].Filter; math.Abs(w.Thread-f.Thread) > 1e-9 || f.Stops < w.Least || f.Stops > w.Most {
				t.Errorf("%v stops on %v m does not serve shot %d: %+v", f.Stops, f.Thread, i, w)
			}
		}
	}
	if served != 4 {
		t.Errorf("got %d shots served, want 4", served)
	}
}
