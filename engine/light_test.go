package engine_test

import (
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
)

// A lens that is excluded for want of light is shown as open and as sensitive as it goes, and
// one without filters in the sun as dark as it goes.
func TestExcludedExposureIsShownAtItsBest(t *testing.T) {
	shot := func(lines string) *engine.Recommendation {
		text := "use demo\nscenario \"Trial\" {\ncamera \"House body A\"\nrig \"Short sled\"\n}\n" +
			"shot \"1\" {\nsubject person 1.75m\nframe full\ndistance 3m\nmove hold\n" + lines + "\n}\n"
		return enginetest.Recommend(t, enginetest.Read(t, text, brief.Files{}), engine.Options{})
	}
	dark := shot("light 0.01lx").Shots[0].Find("Wide 18")
	for _, end := range []struct{ is, at facts.ID }{{facts.ISO, facts.TopISO}, {facts.Stop, facts.WidestStop}} {
		if is, at := dark.Fact(end.is), dark.Fact(end.at); is != at {
			t.Errorf("in the dark, %s is %g, want %g", facts.Table()[end.is].Name, is, at)
		}
	}
	bright := shot("light 2000000lx\nrate 0.01fps\nshutter 360deg").Shots[0].Find("Wide 18")
	if bright.Standing != engine.Excluded || bright.Fact(facts.ND) < 6 || bright.Fact(facts.ISO) > bright.Fact(facts.BaseISO) {
		t.Errorf("in the sun it is %s at ISO %g with %g stops of ND", bright.Standing, bright.Fact(facts.ISO), bright.Fact(facts.ND))
	}
}

// The widest stop is vital: a lens without it is not proposed. Of a T-number alone the stop
// tells enough.
func TestUnknownStopStaysOut(t *testing.T) {
	catalogue := `mount "M" { flange 18mm }
camera "Body" { mount "M"
mode "Full" 24mm x 16mm
iso 800
iso_range 200..12800
mass 1kg }
rig "Sled" { payload 0.5kg..3kg }
lens "No stop" { mount "M"
focal 35mm
pupil thin
close_focus 0.3m
mass 300g }
lens "No T" { mount "M"
focal 35mm
pupil thin
aperture f/2
close_focus 0.3m
mass 300g }
`
	text := "use \"kit.catalog\"\nscenario \"Trial\" {\ncamera \"Body\"\nrig \"Sled\"\n}\n" +
		"shot \"1\" {\nsubject person 1.75m\nframe medium\ndistance 3m\nmove hold\nlight 320lx\n}\n"
	r := enginetest.Recommend(t, enginetest.ReadWith(t, text, catalogue), engine.Options{})
	for name, want := range map[string]engine.Standing{"No stop": engine.Undecided, "No T": engine.Judged} {
		if got := r.Shots[0].Find(name).Standing; got != want {
			t.Errorf("%s is %s, want it %s", name, got, want)
		}
	}
}
