package wording

import (
	"os"
	"strings"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

func TestEveryHazardHasWords(t *testing.T) {
	for hazard := brief.NoHazard + 1; hazard < brief.Hazards; hazard++ {
		if cautions[hazard].full == "" || cautions[hazard].short == "" {
			t.Errorf("hazard %d has no caution", hazard)
		}
	}
}

func TestCautionsOfDegree(t *testing.T) {
	for _, c := range []struct {
		caution floor.Caution
		want    []string
		without string
	}{
		{floor.Caution{Hazard: brief.HeldOut, Is: 4, Limit: 10}, []string{"About 4 kg hangs", "guideline is 10 kg"}, "beyond"},
		{floor.Caution{Hazard: brief.HeldOut, Is: 12, Limit: 10}, []string{"This is beyond it"}, "%!"},
		{floor.Caution{Hazard: brief.NearFace, Is: 0.4, Limit: 0.5}, []string{"comes within 0.40 m of a person"}, "%!"},
		{floor.Caution{Hazard: brief.TightPassage, Is: 0.5, Limit: 0.4}, []string{"Too tight by 10 cm", "is 0.40 m wide", "about 0.50 m", "do not go through"}, "half speed"},
		{floor.Caution{Hazard: brief.TightPassage, Is: 0.5, Limit: 0.6}, []string{"A tight place: 5 cm a side", "half speed"}, "go through"},
		{floor.Caution{Hazard: brief.PulledFace, Is: 0.6, Limit: 0.163}, []string{"A face at 0.60 m", "the nose looks 16% wider"}, "%!"},
	} {
		got := Caution(c.caution, lang.Printer{})
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("%+v: got %q, want %q in it", c.caution, got, want)
			}
		}
		if strings.Contains(got, c.without) {
			t.Errorf("%+v: got %q, want no %q in it", c.caution, got, c.without)
		}
		if short := ShortCaution(c.caution, lang.Printer{}); strings.Contains(short, "%") && !strings.Contains(short, "16%") || len(short) > 110 {
			t.Errorf("%+v: got %q for a card", c.caution, short)
		}
	}
}

func TestCardsWriteTheUnitsOfThePrinter(t *testing.T) {
	text, err := os.ReadFile("../../scenarios/night-ferry.scenario")
	if err != nil {
		t.Fatal(err)
	}
	imperial := lang.Printer{System: lang.Imperial}
	r := enginetest.Recommend(t, enginetest.Read(t, string(text), brief.Files{}), engine.Options{})
	var texts []string
	for _, c := range floor.Cards(r) {
		texts = append(texts, Notes(c.Notes(), imperial)...)
		for _, caution := range c.Cautions {
			texts = append(texts, Caution(caution, imperial))
		}
	}
	if got := strings.Join(texts, "\n"); !strings.Contains(got, " lb hangs") || strings.Contains(got, " kg ") {
		t.Errorf("got %q, want pounds", got)
	}
}
