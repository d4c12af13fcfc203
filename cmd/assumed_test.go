package cmd

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/plausible"
	"glassbrief/lang"

	"pgregory.net/rapid"
)

// drawGappy makes a brief of a few lenses and shots in which some figures are stated and some
// are not.
func drawGappy(t *rapid.T) (scenario, catalogue string) {
	lines := func(head string, vital []string, others ...string) string {
		kept := slices.DeleteFunc(others, func(line string) bool {
			keyword, _, _ := strings.Cut(line, " ")
			return rapid.IntRange(0, 2).Draw(t, "known "+keyword) == 0
		})
		return head + " {\n  " + strings.Join(append(vital, kept...), "\n  ") + "\n}\n"
	}
	catalogue = "mount \"Near\" { flange 20mm }\n" +
		lines(`camera "Body"`, []string{`mount "Near"`, "mode \"Full\" 24mm x 16mm", "length 105mm", "balance 52mm", "balance_height 54mm"}, "iso 800", "mass 1.05kg") +
		lines(`rig "Sled"`, []string{"payload 0.9kg..3kg"}, "wobble 0.25deg", "isolation 70%")
	for i := range rapid.IntRange(2, 3).Draw(t, "lenses") {
		focal := rapid.SampledFrom([]string{"focal 18mm", "focal 24mm", "focal 35mm", "focal 24mm..70mm"}).Draw(t, "focal")
		catalogue += lines(fmt.Sprintf("lens %q", fmt.Sprint("Lens ", i)),
			[]string{focal, `mount "Near"`, fmt.Sprintf("aperture f/%.1f..f/22", rapid.SampledFrom([]float64{1.8, 2.8, 4}).Draw(t, "widest")), "have owned"},
			fmt.Sprintf("transmission T%.1f", rapid.SampledFrom([]float64{2.1, 3.1, 4.4}).Draw(t, "T")), "close_focus 28.3cm", "circle 43mm",
			fmt.Sprintf("mass %d.3g", rapid.IntRange(200, 1500).Draw(t, "mass")), "length 84mm", "distortion -1.5%", "falloff 1.1 stops", "thread 67mm", "pupil 61mm", "breathing -5.5%")
	}
	scenario = "use \"kit.catalog\"\nscenario \"Gappy\" {\n  camera \"Body\"\n  rig \"Sled\"\n}\n"
	for i := range rapid.IntRange(1, 2).Draw(t, "shots") {
		near := rapid.IntRange(90, 300).Draw(t, "near")
		scenario += lines(fmt.Sprintf("shot %q", fmt.Sprint(i, "A")), []string{
			"subject person 1.7m", "frame " + rapid.SampledFrom([]string{"medium..full", "close..medium", "wide..extreme-wide"}).Draw(t, "frame"),
			fmt.Sprintf("distance %dcm..%dcm", near, near+rapid.SampledFrom([]int{0, 20, 60}).Draw(t, "depth")),
			"move " + rapid.SampledFrom([]string{"lead 1.1m/s", "orbit 0.8m/s", "hold"}).Draw(t, "move"),
		}, fmt.Sprintf("light %dlx", rapid.SampledFrom([]int{110, 470, 2100, 15000}).Draw(t, "light")))
	}
	return scenario, catalogue
}

// stated writes values of assumed figures into the files, as their owner would find them out.
func stated(s *brief.Scenario, values brief.Values, scenario, catalogue string) (string, string) {
	under := s.Under(values).Catalogue
	for i, value := range values {
		a := &s.Assumed[i]
		written := strconv.FormatFloat(value, 'f', 14, 64)
		switch row, ok := lang.FindUnit(a.Unit); {
		case a.Unit == "f/" || a.Unit == "T":
			written = a.Unit + written
		case ok:
			written = strconv.FormatFloat(value/row.Factor, 'f', 12, 64) + " " + a.Unit
		}
		if a.Of == brief.OfShot {
			head := fmt.Sprintf("shot %q {\n", a.Name)
			scenario = strings.Replace(scenario, head, head+"  "+a.Keyword+" "+written+"\n", 1)
			continue
		}
		if a.Keyword == "iso_range" {
			base := s.Cameras[0].LowestBase().Value // below which nothing is assumed to be set
			for k := range s.Assumed {
				if s.Assumed[k].Keyword == "iso" {
					base = values[k]
				}
			}
			written = fmt.Sprintf("%g..%.12g", math.Min(base, value), value)
		}
		if lens, _ := under.Lenses.Lookup(a.Name); a.Of == brief.OfLens && lens.IsZoom() { // the long end follows the wide one
			switch pupils, breaths := plausible.Perspective(lens, s.Around); a.Keyword {
			case "pupil":
				written += fmt.Sprintf(" %.12f mm", 1e3*pupils[1])
			case "breathing":
				written += fmt.Sprintf(" %.14f", breaths[1])
			}
		}
		catalogue += fmt.Sprintf("amend %s %q {\n  %s %s\n}\n", a.Of, a.Name, a.Keyword, written)
	}
	return scenario, catalogue
}

// output runs a verb on a brief and gives what it prints as JSON.
func output(t *testing.T, folder, verb, scenario, catalogue string) map[string]any {
	for name, text := range map[string]string{"a.scenario": scenario, "kit.catalog": catalogue} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var out, errs strings.Builder
	if code := Main([]string{verb, filepath.Join(folder, "a.scenario"), "--as", "json"}, strings.NewReader(""), &out, &errs); code > exitNo {
		t.Fatalf("%s ends with %d: %s\n%s\n%s", verb, code, errs.String(), scenario, catalogue)
	}
	var result map[string]any
	if err := json.Unmarshal([]byte(out.String()), &result); err != nil {
		t.Fatal(err)
	}
	return result
}

// held compares the numbers of an object with what another told of them without some figures.
func (c *compared) held(path string, told, found map[string]any) {
	spans, _ := told["assumed"].(map[string]any)
	for key, value := range told {
		at := path + "." + key
		switch value := value.(type) {
		case map[string]any:
			if other, ok := found[key].(map[string]any); ok && key != "assumed" {
				c.held(at, value, other)
			}
		case float64:
			other, ok := found[key].(float64)
			if !ok {
				continue
			}
			c.numbers++
			low, high := value, value
			if span, ok := spans[key].(map[string]any); ok {
				c.ranges++
				low, high = end(span["low"], math.Inf(-1)), end(span["high"], math.Inf(1))
			}
			if slack := 1e-6 * math.Abs(other); other < low-slack || other > high+slack {
				c.wrong = append(c.wrong, fmt.Sprintf("%s: told %g, %g to %g, found %g", at, value, low, high, other))
			}
		}
	}
}

// end reads an end of a range, of which null is without bound.
func end(value any, open float64) float64 {
	if number, ok := value.(float64); ok {
		return number
	}
	return open
}

// What is told without some figures holds once they are found out: each number with a range lies
// in it, and each without is the same, of the lenses of the kit and of the cards of shots that the
// same lens does. Ranges are found by trying: one in a hundred may lie outside, and the briefs are
// always the same ones.
func TestRangesHoldWhatIsFoundOut(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	folder := t.TempDir()
	type drawn struct {
		scenario, catalogue string
		s                   *brief.Scenario
		values              brief.Values
	}
	briefs := rapid.Custom(func(t *rapid.T) (d drawn) {
		d.scenario, d.catalogue = drawGappy(t)
		d.s = enginetest.ReadWith(t, d.scenario, d.catalogue)
		d.values = d.s.Draw(func(i int) float64 { return rapid.Float64Range(-1, 1).Draw(t, fmt.Sprint(i)) })
		return d
	})
	for verb, compare := range map[string]func(of string, told, found map[string]any, c *compared){"recommend": comparedKits, "cards": comparedCards} {
		var c compared
		for seed := range 60 {
			d := briefs.Example(seed)
			told := output(t, folder, verb, d.scenario, d.catalogue)
			scenario, catalogue := stated(d.s, d.values, d.scenario, d.catalogue)
			compare(fmt.Sprintf("brief %d", seed), told, output(t, folder, verb, scenario, catalogue), &c)
		}
		t.Logf("%s: %d numbers, %d with a range, %d outside", verb, c.numbers, c.ranges, len(c.wrong))
		if c.ranges < 100 || 100*len(c.wrong) > c.ranges {
			t.Errorf("%s: of %d numbers, %d with a range, %d lie outside of what was told:\n%s", verb, c.numbers, c.ranges, len(c.wrong), strings.Join(c.wrong, "\n"))
		}
	}
}

// compared is what comparing numbers found.
type compared struct {
	numbers, ranges int
	wrong           []string
}

func comparedKits(of string, told, found map[string]any, c *compared) {
	for _, shot := range told["shots"].([]any) {
		id, lens := shot.(map[string]any)["id"].(string), shot.(map[string]any)["lens"]
		if lens == nil {
			continue
		}
		j, other := judgedIn(told, id, lens.(string)), judgedIn(found, id, lens.(string))
		at := fmt.Sprintf("%s, shot %s, %s", of, id, lens)
		if other["standing"] == j["standing"] {
			c.held(at, j, other)
		} else if j["may_be_out"] != true {
			c.wrong = append(c.wrong, at+" is out, and that was not told")
		}
	}
}

// comparedCards looks at decks of the same lenses in the same shots: a swap, and how all are
// trimmed, hang on more than one card.
func comparedCards(of string, told, found map[string]any, c *compared) {
	lens := func(card any) any {
		setup, _ := card.(map[string]any)["setup"].(map[string]any)
		return setup["lens"]
	}
	cards, others := told["cards"].([]any), found["cards"].([]any)
	for i := range cards {
		if lens(cards[i]) != lens(others[i]) {
			return
		}
	}
	for i := range cards {
		c.held(fmt.Sprintf("%s, card %d", of, i), cards[i].(map[string]any), others[i].(map[string]any))
	}
}

func judgedIn(of map[string]any, shot, lens string) map[string]any {
	for _, s := range of["shots"].([]any) {
		for _, j := range s.(map[string]any)["ranking"].([]any) {
			if j := j.(map[string]any); s.(map[string]any)["id"] == shot && j["lens"] == lens {
				return j
			}
		}
	}
	return nil
}
