package cmd

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"glassbrief/cmd/travel"
	"glassbrief/engine/optics"
)

// resultOf runs a verb and gives the object that it prints.
func resultOf[T any](t *testing.T, args ...string) T {
	t.Helper()
	var out, errs strings.Builder
	if code := Main(append(args, "--as", "json"), strings.NewReader(""), &out, &errs); code != exitFine {
		t.Fatalf("%q: exit code %d: %s", args, code, errs.String())
	}
	var result T
	if err := json.Unmarshal([]byte(out.String()), &result); err != nil {
		t.Fatal(err)
	}
	return result
}

// cardsData is what is read here of the JSON of cards.
type cardsData struct {
	Cards []struct {
		Shot  string     `json:"shot"`
		Setup *cardSetup `json:"setup"`
	} `json:"cards"`
}

type cardSetup struct {
	Lens         string        `json:"lens"`
	Focal        travel.Number `json:"focal_mm"`
	Stop         travel.Number `json:"aperture"`
	TStop        travel.Number `json:"t_stop"`
	Close        travel.Number `json:"close_stops"`
	FocusAt      travel.Number `json:"focus_at_m"`
	Near         travel.Number `json:"near_m"`
	Far          travel.Number `json:"far_m"`
	FarUnbounded bool          `json:"far_unbounded"`
	Confusion    travel.Number `json:"confusion_mm"`
	ISO          travel.Number `json:"iso"`
	Shutter      travel.Number `json:"shutter_s"`
	NDNeeded     travel.Number `json:"nd_needed_stops"`
	ND           travel.Number `json:"nd_stops"`
	Left         travel.Number `json:"left_stops"`
	Short        travel.Number `json:"short_stops"`
	Light        travel.Number `json:"light_lx"`
	Rig          struct {
		Trimmed bool          `json:"trimmed"`
		Held    travel.Number `json:"held_kg"`
		Drop    travel.Number `json:"drop_s"`
		Offset  travel.Number `json:"offset_mm"`
		Inertia travel.Number `json:"inertia_kgm2"`
	} `json:"rig"`
}

type recommendData struct {
	Shots []shotData `json:"shots"`
}

type shotData struct {
	ID      string  `json:"id"`
	Lens    *string `json:"lens"`
	Ranking []struct {
		Lens  string        `json:"lens"`
		Focal travel.Number `json:"focal_mm"`
		Setup struct {
			Aperture travel.Number `json:"aperture"`
			TStop    travel.Number `json:"t_stop"`
			FocusAt  travel.Number `json:"focus_at_m"`
			Near     travel.Number `json:"near_m"`
			Far      travel.Number `json:"far_m"`
			ISO      travel.Number `json:"iso"`
			ND       travel.Number `json:"nd_stops"`
			Short    travel.Number `json:"short_stops"`
		} `json:"setup"`
	} `json:"ranking"`
}

// What a card says, recommend says too, and the single calculations give it again: the
// focus by "reckon focus", the exposure by "reckon light", the trim by "reckon balance".
func TestCardsAgreeWithRecommendAndReckon(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	const scenario = "../scenarios/night-ferry.scenario"
	plan := resultOf[recommendData](t, "recommend", scenario)
	cards := resultOf[cardsData](t, "cards", scenario)
	if len(cards.Cards) != len(plan.Shots) {
		t.Fatalf("got %d cards for %d shots", len(cards.Cards), len(plan.Shots))
	}
	checked := 0
	for i, card := range cards.Cards {
		shot := plan.Shots[i]
		if card.Shot != shot.ID {
			t.Fatalf("card %d is of shot %s, want %s", i, card.Shot, shot.ID)
		}
		if (card.Setup == nil) != (shot.Lens == nil) {
			t.Errorf("%s: one of cards and recommend has no lens", card.Shot)
		}
		if card.Setup == nil {
			continue
		}
		checked++
		t.Run(card.Shot, func(t *testing.T) { checkCard(t, card.Setup, &shot) })
	}
	if checked < 5 {
		t.Errorf("got %d cards with a lens, want at least 5", checked)
	}
}

func checkCard(t *testing.T, c *cardSetup, shot *shotData) {
	same := func(what string, got, want travel.Number) {
		t.Helper()
		if math.IsNaN(float64(got)) && math.IsNaN(float64(want)) {
			return
		}
		if !(math.Abs(float64(got-want)) <= 1e-6*math.Abs(float64(want))) {
			t.Errorf("%s: got %v, want %v", what, got, want)
		}
	}
	if c.Lens != *shot.Lens {
		t.Errorf("lens: got %q, want %q", c.Lens, *shot.Lens)
	}
	for _, j := range shot.Ranking {
		if j.Lens != c.Lens {
			continue
		}
		same("focal length", c.Focal, j.Focal)
		same("stop", c.Stop, j.Setup.Aperture)
		same("T-stop", c.TStop, j.Setup.TStop)
		same("focus mark", c.FocusAt, j.Setup.FocusAt)
		same("near limit", c.Near, j.Setup.Near)
		same("far limit", c.Far, j.Setup.Far)
		same("ND", c.ND, j.Setup.ND)
		same("stops short", c.Short, j.Setup.Short)
		same("ISO", c.ISO, j.Setup.ISO)
	}

	// The tape measures from the sensor plane, reckon from the lens.
	focal := float64(c.Focal) / 1e3
	fromLens := func(distance travel.Number) float64 { return optics.FromSensor(focal, float64(distance)) }
	focus := resultOf[map[string]any](t, "reckon", "focus",
		"--focal", fmt.Sprintf("%.9fmm", c.Focal), "--aperture", fmt.Sprintf("f/%.9f", c.Stop),
		"--confusion", fmt.Sprintf("%.9fmm", c.Confusion), "--distance", fmt.Sprintf("%.9fm", fromLens(c.FocusAt)))
	same("near limit by reckon", travel.Number(fromLens(c.Near)), travel.Number(focus["near_m"].(float64)))
	if !c.FarUnbounded {
		same("far limit by reckon", travel.Number(fromLens(c.Far)), travel.Number(focus["far_m"].(float64)))
	}

	light := resultOf[map[string]any](t, "reckon", "light", "--light", fmt.Sprintf("%.9flx", c.Light),
		"--aperture", fmt.Sprintf("T%.9f", c.TStop), "--shutter", fmt.Sprintf("%.9fs", c.Shutter))
	taken := float64(c.ND + c.Left - c.Short)
	if off := math.Log2(float64(c.ISO)/light["iso"].(float64)) - taken; math.Abs(off) > 1e-6 {
		t.Errorf("exposure by reckon: %.2f stops off", off)
	}
	if c.Close != 0 {
		t.Errorf("the stop is to be closed by %g more, want the one to set", c.Close)
	}

	if c.Rig.Trimmed {
		drop := resultOf[map[string]any](t, "reckon", "balance", "--inertia", fmt.Sprintf("%.12fkgm2", c.Rig.Inertia),
			"--mass", fmt.Sprintf("%.9fkg", c.Rig.Held), "--offset", fmt.Sprintf("%.9fmm", c.Rig.Offset))
		same("drop time by reckon", c.Rig.Drop, travel.Number(drop["drop_s"].(float64)))
	}
}
