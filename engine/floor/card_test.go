package floor

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	_ "time/tzdata"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
	"glassbrief/engine/rig"

	"github.com/google/go-cmp/cmp"
)

// briefText is a scenario of one shot on demo equipment, with lines in place of %s: those of
// its scenario block, and those of its shot.
const briefText = `use demo
scenario "Trial" {
  deliver 2.39:1
  rate 25fps
  %s
}
shot "1" "Trial" {
  %s
}
`

const (
	shortSled = "camera \"House body A\"\nrig \"Short sled\""
	usualShot = "subject person 1.78m\nframe full\ndistance 3m..4m\nmove follow 1.2m/s\nlight 320lx\n"
)

func recommend(t testing.TB, text string) *engine.Recommendation {
	t.Helper()
	return enginetest.Recommend(t, enginetest.Read(t, text, brief.Files{}), engine.Options{})
}

func trial(t testing.TB, scenario, shot string) (*engine.Recommendation, Card) {
	t.Helper()
	r := recommend(t, fmt.Sprintf(briefText, scenario, shot))
	return r, Cards(r)[0]
}

func demo(t testing.TB) *engine.Recommendation {
	t.Helper()
	text, err := os.ReadFile("../../scenarios/night-ferry.scenario")
	if err != nil {
		t.Fatal(err)
	}
	return recommend(t, string(text))
}

// noted gives the first note of a type, and whether there is one.
func noted[N Note](notes []Note) (found N, ok bool) {
	for _, note := range notes {
		if found, ok = note.(N); ok {
			return found, true
		}
	}
	return found, false
}

func TestCardsOfTheDemo(t *testing.T) {
	r := demo(t)
	cards := Cards(r)
	if len(cards) != len(r.Shots) {
		t.Fatalf("got %d cards, want %d", len(cards), len(r.Shots))
	}
	for i, c := range cards {
		if c.Shot != r.Shots[i].Shot || c.Use != r.Shots[i].Use {
			t.Errorf("card %d is not of shot %s", i, r.Shots[i].Shot.ID)
		}
		if c.Use == nil {
			continue
		}
		if !c.Rig.Trimmed {
			t.Errorf("%s: the rig is not trimmed: %v %v", c.Shot.ID, c.Rig.Problems, c.Rig.Lacks)
		}
		if drop := c.Rig.Trim.Drop; drop < 1.5 || drop > 2 {
			t.Errorf("%s: got a drop of %g s, want 1.5 to 2", c.Shot.ID, drop)
		}
		if !c.Walk.Known() {
			t.Errorf("%s: focus and framing hold nowhere", c.Shot.ID)
		}
		// What is set must expose for the light, but for what is said to be left or missing.
		got := c.Use.Fact(facts.ISO) * math.Exp2(-c.Use.Filtering.Stops)
		stop := c.Use.Fact(facts.TStop)
		want := stop * stop * 250 / (c.Shot.Light * c.Use.Fact(facts.ShutterTime))
		if off := math.Log2(got/want) - c.Use.Fact(facts.Over) + c.Use.Fact(facts.Short); math.Abs(off) > 1e-9 {
			t.Errorf("%s: the setting is %.2f stops off the light beside what is said to be left or missing", c.Shot.ID, off)
		}
	}
}

// The same camera and lens shot after shot need no swap, and a swap there and back is
// nothing.
func TestSwapsOfTheDemo(t *testing.T) {
	cards := Cards(demo(t))
	total := Swap{}
	var last *Rigging
	for i, c := range cards {
		if c.Use == nil {
			continue
		}
		if c.Swap == nil && i > 0 && cards[i-1].Use != nil && cards[i-1].Use.Lens != c.Use.Lens {
			t.Errorf("%s: another lens and no swap", c.Shot.ID)
		}
		if c.Swap != nil {
			if c.Swap.Minutes <= rig.ForDrop {
				t.Errorf("%s: a swap in %g minutes, want more than the drop test", c.Shot.ID, c.Swap.Minutes.Value())
			}
			total.Plates += c.Swap.Plates
			total.Post += c.Swap.Post
			total.Shift += c.Swap.Shift
		}
		last = c.Rig
	}
	first := cards[0].Rig
	if got, want := total.Plates, last.Trim.Plates-first.Trim.Plates; got != want {
		t.Errorf("plates: swaps add up to %d, want %d", got, want)
	}
	if got, want := total.Post, last.Trim.Post-first.Trim.Post; math.Abs(got-want) > rig.LeastPost*float64(len(cards)) {
		t.Errorf("post: swaps add up to %g, want %g", got, want)
	}
	if got, want := total.Shift, last.Shift-first.Shift; math.Abs(got-want) > rig.LeastShift*float64(len(cards)) {
		t.Errorf("shift: swaps add up to %g, want %g", got, want)
	}
}

func TestAccessoriesThatSitNowhere(t *testing.T) {
	_, card := trial(t, shortSled+"\naccessories 350g", usualShot)
	if card.Rig.Trimmed || !slices.Equal(card.Rig.Lacks, []rig.Lack{{Unknown: rig.AccessoriesPlace}}) {
		t.Errorf("got %v trimmed %t, want it to ask where the accessories sit", card.Rig.Lacks, card.Rig.Trimmed)
	}
}

func TestCautions(t *testing.T) {
	const heavy = shortSled + "\naccessories 600g"
	for _, c := range []struct {
		name, scenario, shot string
		want                 []brief.Hazard
	}{
		{"leading", heavy, strings.Replace(usualShot, "follow", "lead", 1), []brief.Hazard{brief.Backwards, brief.HeldOut}},
		{"following", heavy, usualShot, []brief.Hazard{brief.EyesOnPicture, brief.HeldOut}},
		{"orbit", heavy, strings.Replace(usualShot, "follow", "orbit", 1), []brief.Hazard{brief.Circling, brief.HeldOut}},
		{"stairs", heavy, strings.Replace(usualShot, "follow", "stairs", 1), []brief.Hazard{brief.OnStairs, brief.HeldOut}},
		{"running low", shortSled, strings.Replace(usualShot, "1.2m/s", "2.5m/s run low mode", 1), []brief.Hazard{brief.EyesOnPicture, brief.RunningWithRig, brief.LowMode}},
		{
			"where it happens", heavy, usualShot + "beside road height water public road\n",
			[]brief.Hazard{brief.EyesOnPicture, brief.HeldOut, brief.ByRoad, brief.AtHeight, brief.ByWater, brief.AmongPublic},
		},
		{"a face", shortSled, "subject person 1.78m\nframe close\ndistance 0.5m\nlight 320lx\n", []brief.Hazard{brief.NearFace, brief.PulledFace}},
		{"a thing as near", shortSled, "subject object 0.4m x 0.3m\nframe full\ndistance 0.5m\nlight 320lx\n", nil},
		{"a gap", heavy, strings.Replace(usualShot, "follow", "pass-through", 1) + "passage 0.6m\n", []brief.Hazard{brief.PassingThrough, brief.HeldOut, brief.TightPassage}},
		{"sun", heavy, strings.Replace(usualShot, "320lx", "sun", 1), []brief.Hazard{brief.EyesOnPicture, brief.HeldOut, brief.SunInLens}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, card := trial(t, c.scenario, c.shot)
			var got []brief.Hazard
			for _, caution := range card.Cautions {
				if caution.Source() == "" {
					t.Errorf("hazard %d has no source", caution.Hazard)
				}
				got = append(got, caution.Hazard)
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("hazards differ (-want +got):\n%s", diff)
			}
		})
	}
	_, card := trial(t, shortSled, "subject object 1m x 1m\nframe full\ndistance 3m\nmove hold\nlight overcast\n")
	if len(card.Cautions) != 0 {
		t.Errorf("a light rig held still indoors: got %v, want no caution of its own", card.Cautions)
	}
}

// What hangs from the hand in several shots is said once, of the heaviest.
func TestCautionsOfTheDay(t *testing.T) {
	card := func(held float64, others ...brief.Hazard) Card {
		var c Card
		for _, hazard := range others {
			c.Cautions = append(c.Cautions, Caution{Hazard: hazard})
		}
		if held > 0 {
			c.Cautions = append(c.Cautions, Caution{brief.HeldOut, held, 10})
		}
		return c
	}
	cards := []Card{card(3.4, brief.Backwards), card(0, brief.OnStairs), card(3.7)}
	if diff := cmp.Diff([]Caution{{brief.HeldOut, 3.7, 10}}, ofTheDay(cards)); diff != "" {
		t.Errorf("cautions of the day differ (-want +got):\n%s", diff)
	}
	for i, want := range []int{1, 1, 0} {
		if got := len(cards[i].Cautions); got != want {
			t.Errorf("card %d keeps %d cautions, want %d", i, got, want)
		}
	}
	alone := []Card{card(3.4), card(0, brief.OnStairs)}
	if got := ofTheDay(alone); got != nil || len(alone[0].Cautions) != 1 {
		t.Errorf("got %v for the day, want what one shot has to stay on its card", got)
	}
}

// What hangs from the hand is said once for the day, by the heaviest, where no mass is known too.
func TestHeldOutOfTheDay(t *testing.T) {
	unknown := math.NaN()
	for _, c := range []struct {
		held []float64
		want float64
	}{{[]float64{3, 4, 2}, 4}, {[]float64{unknown, unknown}, unknown}, {[]float64{unknown, 3}, 3}} {
		cards := make([]Card, len(c.held))
		for i, held := range c.held {
			cards[i].Cautions = []Caution{{Hazard: brief.HeldOut, Is: held}}
		}
		got := ofTheDay(cards)
		if len(got) != 1 || got[0].Hazard != brief.HeldOut || got[0].Is != c.want && !math.IsNaN(c.want) {
			t.Errorf("of %v: got %+v, want one of %g", c.held, got, c.want)
		}
	}
}
