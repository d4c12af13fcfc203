package rig_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/rig"

	"pgregory.net/rapid"
)

const stances = `use demo
scenario "Stances" {
camera "House body B"
rig "Short sled"
accessories 350g 60mm x 120mm
}
shot "upright" {
subject person 1.7m
frame medium
distance 2m
light 800lx
}
shot "low" {
subject person 1.7m
frame medium
distance 2m
light 800lx
move follow 1m/s low mode
}
shot "legs" {
subject person 1.7m
frame medium
distance 2m
light 800lx
support legs
}
`

// What a change takes does not depend on the order in which set-ups are trimmed together, all that
// can be trimmed with the same plates have the same, and no plates fewer than those do for all. The
// bounds hold.
func TestTogether(t *testing.T) {
	s := enginetest.Read(t, stances, brief.Files{})
	var all []*rig.Setup
	stands := map[*rig.Setup]*brief.Shot{}
	for _, lens := range s.Catalogue.Lenses.All() {
		fitting, err := s.Catalogue.Fit(lens, s.Cameras[0])
		if err != nil {
			continue
		}
		for _, filters := range [][]*catalog.Filter{nil, s.Catalogue.Filters.All()[:1]} {
			for _, shot := range s.Shots {
				u := rig.New(s, s.Cameras[0], shot, lens, fitting, filters)
				all, stands[u] = append(all, u), shot
			}
		}
	}
	if len(all) < 30 {
		t.Fatalf("%d set-ups say little", len(all))
	}
	changes := 0
	rapid.Check(t, func(rt *rapid.T) {
		some := rapid.SliceOfNDistinct(rapid.SampledFrom(all), 2, 6, func(u *rig.Setup) *rig.Setup { return u }).Draw(rt, "set-ups")
		trim, turned := rig.Together(s.Rig, some), rig.Together(s.Rig, rapid.Permutation(some).Draw(rt, "turned"))
		plates := map[bool][]int{}
		for _, from := range some {
			for _, to := range some {
				got, again := trim.Between(from, to), turned.Between(from, to)
				if fmt.Sprint(got) != fmt.Sprint(again) {
					rt.Errorf("%s to %s: got %+v, and %+v in another order", from.Lens, to.Lens, got, again)
				}
				lens := from.Lens != to.Lens
				least := rig.Least(stands[from], stands[to], lens)
				most := rig.Most(stands[from], stands[to], lens, !slices.Equal(from.Filters, to.Filters))
				if got.Minutes < least || got.Minutes > most {
					rt.Errorf("%s to %s: got %g min, bounded by %g and %g", from.Lens, to.Lens, got.Minutes.Value(), least.Value(), most.Value())
				}
				if got.Minutes > 0 {
					changes++
				}
			}
			if n, _, ok := trim.Of(from); ok {
				plates[from.Inverted] = append(plates[from.Inverted], n)
			}
		}
		for inverted, counts := range plates {
			if slices.Min(counts) != slices.Max(counts) {
				t.Logf("low mode %t: no plates do for all of %v", inverted, counts)
				continue
			}
			fewer := counts[0] - 2
			does := fewer >= 0
			for _, u := range some {
				if _, _, ok := trim.Of(u); ok && u.Inverted == inverted {
					_, within := u.Sled.Within(u.OnStage(), max(0, fewer), s.Drop.Low, s.Drop.High)
					does = does && within
				}
			}
			if does {
				rt.Errorf("low mode %t: %d plates, and %d would do for all", inverted, counts[0], fewer)
			}
		}
	})
	if changes == 0 {
		t.Error("nothing changed")
	}
}

// A set-up of which nothing is known of the trim takes all steps.
func TestUnknownTrimTakesEveryStep(t *testing.T) {
	s := enginetest.Read(t, stances, brief.Files{})
	setup := func(name string) *rig.Setup {
		lens, _ := s.Catalogue.Lenses.Lookup(name)
		fitting, err := s.Catalogue.Fit(lens, s.Cameras[0])
		if err != nil {
			t.Fatal(err)
		}
		return rig.New(s, s.Cameras[0], s.Shots[0], lens, fitting, nil)
	}
	from, to := setup("Wide 18"), setup("Old 28") // of which nobody knows where it balances
	trim := rig.Together(s.Rig, []*rig.Setup{from, to})
	got := trim.Between(from, to)
	want := rig.ForLens + rig.ForPlates + rig.ForPost + rig.ForShift + rig.ForDrop
	if to.Adapter != from.Adapter {
		want += rig.ForAdapter
	}
	if got.Known || got.Minutes != want || !math.IsNaN(got.Post) || !math.IsNaN(got.Tilt) {
		t.Errorf("got %+v, want %g min and nothing known", got, want.Value())
	}
}

// Lenses are alike where their payloads with the same filter are.
func TestAlikeLensesWeighTheSame(t *testing.T) {
	s := enginetest.Read(t, stances, brief.Files{})
	lens, _ := s.Catalogue.Lenses.Lookup("Normal 50")
	payload := func(lens *catalog.Lens) string {
		u := rig.New(s, s.Cameras[0], s.Shots[0], lens, catalog.Fitting{}, s.Catalogue.Filters.All()[:1])
		return fmt.Sprint(u.Payload, len(u.Lacks))
	}
	for _, c := range []struct {
		line string
		want bool
	}{{"mass 777g", false}, {"balance 33mm", false}, {"length 99mm", false}, {"close_focus 77cm", true}, {"circle 60mm", true}} {
		other, err := catalog.Amended(lens, c.line)
		if err != nil {
			t.Fatal(err)
		}
		if got := rig.Alike(lens, other); got != c.want || got != (payload(lens) == payload(other)) {
			t.Errorf("%s: alike %t, want %t; payloads %s and %s", c.line, got, c.want, payload(lens), payload(other))
		}
	}
}
