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
	shot := func(light string) *engine.Recommendation {
		text := "use demo\nscenario \"Trial\" {\ncamera \"House body A\"\nrig \"Short sled\"\n}\n" +
			"shot \"1\" {\nsubject person 1.75m\nframe full\ndistance 3m\nmove hold\nlight " + light + "\n}\n"
		return enginetest.Recommend(t, enginetest.Read(t, text, brief.Files{}), engine.Options{})
	}
	dark := shot("0.01lx").Shots[0].Find("Wide 18")
	for _, end := range []struct{ is, at facts.ID }{{facts.ISO, facts.TopISO}, {facts.Stop, facts.WidestStop}} {
		if is, at := dark.Fact(end.is), dark.Fact(end.at); is != at {
			t.Errorf("in the dark, %s is %g, want %g", facts.Table()[end.is].Name, is, at)
		}
	}
	bright := shot("500000000lx").Shots[0].Find("Wide 18")
	if bright.Standing != engine.Excluded || bright.Fact(facts.ND) < 6 || bright.Fact(facts.ISO) > bright.Fact(facts.BaseISO) {
		t.Errorf("in the sun it is %s at ISO %g with %g stops of ND", bright.Standing, bright.Fact(facts.ISO), bright.Fact(facts.ND))
	}
}

// A lens whose light cannot be judged is not proposed, but where the brief gives no light that
// counts against none.
func TestUnknownTransmissionStaysOut(t *testing.T) {
	for light, want := range map[string]engine.Standing{"light 320lx": engine.Undecided, "": engine.Judged} {
		text := "use demo\nscenario \"Trial\" {\ncamera \"House body A\"\nrig \"Short sled\"\n}\n" +
			"shot \"1\" {\nsubject person 1.75m\nframe medium\ndistance 3m\nmove hold\n" + light + "\n}\n"
		r := enginetest.Recommend(t, enginetest.Read(t, text, brief.Files{}), engine.Options{})
		if old := r.Shots[0].Find("Old 50"); old.Standing != want {
			t.Errorf("%q: a lens without transmission is %s, want it %s", light, old.Standing, want)
		}
	}
}
