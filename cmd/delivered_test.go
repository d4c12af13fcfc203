package cmd_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	validator "github.com/santhosh-tekuri/jsonschema/v6"
)

// framed writes a scenario whose scenario block has further lines, with an 18 mm and a 20 mm lens on a sensor
// of 36.70 mm by 25.54 mm and 4448 x 3096 pixels, and gives its path.
func framed(t *testing.T, lines ...string) string {
	t.Helper()
	var kit strings.Builder
	kit.WriteString(`mount "M" {
  flange 44mm
  throat 54mm
}
camera "Body" {
  mount "M"
  mode "Open gate" 36.70mm x 25.54mm 4448 x 3096
  mode "Crop" 24.47mm x 25.54mm
  iso 800
  iso_range 200..6400
  mass 1kg
}
rig "Sled" {
  payload 0.5kg..4kg
}
`)
	for _, of := range []struct{ name, rest string }{{"A 18", "focal 18mm\n  pupil thin\n  circle 43.2mm"}, {"B 20", "focal 20mm\n  pupil thin\n  circle 46mm"}, {"C 40", "focal 40mm\n  pupil thin\n  circle 46mm\n  squeeze 2"}} {
		fmt.Fprintf(&kit, "lens %q {\n  have owned\n  mount \"M\"\n  %s\n  aperture f/2..f/22\n  transmission T2.1\n  close_focus 0.3m\n  focus manual\n  mass 500g\n  length 80mm\n}\n", of.name, of.rest)
	}
	folder := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	write("kit.catalog", kit.String())
	return write("unit.scenario", `use "kit.catalog"
scenario "Unit" {
  camera "Body"
  rig "Sled"
  `+strings.Join(lines, "\n  ")+`
}
shot "1" {
  subject person 1.78m
  frame medium-full
  distance 1.6m..1.7m
  light 800lx
}
`)
}

// factsOf gives the facts of a lens in the shot, by their names, with the reason that excludes it.
func factsOf(t *testing.T, scenario, lens string) (facts map[string]float64, text string) {
	t.Helper()
	_, out := run(t, "why", scenario, "--shot", "1", "--lens", lens, "--as", "json")
	var said struct {
		Facts []struct {
			Name  string
			Value *float64
		}
	}
	if err := json.Unmarshal([]byte(out), &said); err != nil {
		t.Fatal(err)
	}
	facts = map[string]float64{}
	for _, fact := range said.Facts {
		facts[fact.Name] = math.NaN()
		if fact.Value != nil {
			facts[fact.Name] = *fact.Value
		}
	}
	return facts, out
}

// With a protection of 10 % an 18 mm lens frames as a 20 mm lens does without, but for what the tape
// sees of 2 mm of focal length; and its circle must still light the whole.
func TestProtectedFrameIsTighter(t *testing.T) {
	protected, _ := factsOf(t, framed(t, "deliver 2.39:1", "protect 10%"), "A 18")
	without := framed(t, "deliver 2.39:1")
	whole, _ := factsOf(t, without, "A 18")
	longer, _ := factsOf(t, without, "B 20")
	for _, name := range []string{"angle_width", "angle_height", "corner_falloff", "spread_width"} {
		if got, want := protected[name], longer[name]; math.Abs(got/want-1) > 1e-8 {
			t.Errorf("%s: got %g with 18 mm and protection, want the %g of 20 mm", name, got, want)
		}
	}
	for _, name := range []string{"fill_near", "field_far"} {
		if got, want := protected[name], longer[name]; math.Abs(got/want-1) > 0.003 {
			t.Errorf("%s: got %g with 18 mm and protection, want about the %g of 20 mm", name, got, want)
		}
		if got, was := protected[name], whole[name]; math.Abs(got/was-1) < 0.09 {
			t.Errorf("%s: got %g with protection and %g without", name, got, was)
		}
	}
	if got, want := protected["circle_margin"], 100*(43.2/math.Hypot(36.70, 36.70/2.39)-1); math.Abs(got-want) > 1e-7 {
		t.Errorf("circle_margin: got %g, want %g, past the corners of the protected frame", got, want)
	}
}

// The frame of an anchor stands off the axis: its corner is farther out, so that less of a circle is
// left, and the angles to its sides differ.
func TestAnchoredFrame(t *testing.T) {
	middle, _ := factsOf(t, framed(t, "deliver 2:1", "protect 10%"), "A 18")
	top, _ := factsOf(t, framed(t, "deliver 2:1", "protect 10%", "anchor 222 x 112"), "A 18")
	// In millimetres: 36.70 x 18.35 protected, 90 % of it delivered, its top 112 pixels below that of
	// the sensor. To the left the protected frame reaches the edge, which keeps it in the middle.
	high, begin := 36.70/2*0.9, 112*25.54/3096
	degrees := func(way float64) float64 { return math.Atan(way/18) * 180 / math.Pi }
	for name, want := range map[string]float64{
		"angle_above": degrees(25.54/2 - begin), "angle_below": degrees(begin + high - 25.54/2),
		"angle_left": degrees(36.70 * 0.45), "angle_right": degrees(36.70 * 0.45),
		"protected_diagonal": 2 * math.Hypot(36.70/2, 25.54/2-(begin-high/0.9*0.05)),
	} {
		if got := top[name]; math.Abs(got/want-1) > 1e-8 {
			t.Errorf("%s: got %g, want %g", name, got, want)
		}
	}
	if !(top["corner_falloff"] > middle["corner_falloff"]) || !(top["circle_margin"] < middle["circle_margin"]) || math.Abs(top["spread_height"]-middle["spread_height"]) > 1e-8 {
		t.Errorf("got %v off the axis, %v in the middle", top, middle)
	}
}

// With a common top the wide frame stands where the tall one begins.
func TestCommonTop(t *testing.T) {
	facts, _ := factsOf(t, framed(t, "deliver 2.39:1", "also 16:9", "common top"), "A 18")
	if got, want := facts["angle_above"], math.Atan(36.70*9/16/2/18)*180/math.Pi; math.Abs(got/want-1) > 1e-8 {
		t.Errorf("angle_above: got %g, want the %g of 16:9", got, want)
	}
	// What is delivered beside must be lit as well.
	if got, want := facts["protected_diagonal"], math.Hypot(36.70, 36.70*9/16); math.Abs(got/want-1) > 1e-8 {
		t.Errorf("protected_diagonal: got %g, want %g", got, want)
	}
	if got, want := facts["frame_height"], 36.70/2.39; math.Abs(got/want-1) > 1e-8 {
		t.Errorf("frame_height: got %g, want %g", got, want)
	}
}

// The report draws the delivered frame inside the protected one, and the others beside.
func TestReportDrawsBothFrames(t *testing.T) {
	_, page := run(t, "recommend", "--as", "html", framed(t, "deliver 2:1", "also 1:1", "protect 10%", "common top"))
	// On a drawing of 320 by 222.7: 36.70 mm wide.
	unit := 320 / 36.70
	for class, want := range map[string][4]float64{
		"also":      {(36.70 - 25.54*0.9) / 2, 25.54 * 0.05, 25.54 * 0.9, 25.54 * 0.9},
		"delivered": {36.70 * 0.05, 25.54 * 0.05, 36.70 * 0.9, 36.70 / 2 * 0.9},
		"protected": {0, 25.54*0.05 - 36.70/2*0.05, 36.70, 36.70 / 2},
	} {
		found := regexp.MustCompile(`<rect class="` + class + `" x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"`).FindStringSubmatch(page)
		if found == nil {
			t.Errorf("no %s frame is drawn", class)
			continue
		}
		for i, side := range want {
			if got, err := strconv.ParseFloat(found[i+1], 64); err != nil || math.Abs(got-side*unit) > 0.06 {
				t.Errorf("%s: got %v, want %.1f at place %d", class, found[1:], side*unit, i)
			}
		}
	}
	// Whoever fills the frame has 8 % of it above the head, wherever on the sensor it stands.
	subject := regexp.MustCompile(`<path class="subject" d="M[\d.]+ ([\d.]+)`).FindStringSubmatch(page) // the outline begins at the crown
	if subject == nil {
		t.Fatal("no subject is drawn")
	}
	crown, err := strconv.ParseFloat(subject[1], 64)
	if want := (25.54*0.05 + 0.08*36.70/2*0.9) * unit; err != nil || math.Abs(crown-want) > 0.5 {
		t.Errorf("the head reaches up to %v, want %v", crown, want)
	}
}

// besides puts a list beside a scenario.
func besides(t *testing.T, scenario, name string, text []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(filepath.Dir(scenario), name), text, 0o666); err != nil {
		t.Fatal(err)
	}
}

// What the verb writes, the published schema takes; it is the same each time; and it is the frame that the
// scenario itself has, but for the rounding to even pixels.
func TestFramingWritesWhatItReads(t *testing.T) {
	for _, c := range []struct {
		lines, want []string
	}{
		{[]string{"deliver 2:1", "protect 10%"}, []string{`"id": "FI_200"`, "4448 x 2224", "0, 436", "4004 x 2002", "222, 547"}},
		{[]string{"deliver 2.39:1", "also 16:9", "common top"}, []string{"4448 x 1862", "4448 x 2502", "0, 297", `"_common_top": true`}},
		{[]string{"deliver 2.39:1", "squeeze 2"}, []string{"3700 x 3096", "374, 0"}},
		{[]string{"deliver 1.85:1", "protect 5%", "anchor 111 x 200"}, []string{`"FI_185"`, "4226 x 2286", "111, 200"}},
		{[]string{"protect 5%"}, []string{`"FI_144"`, "4226 x 2942"}},
	} {
		scenario := framed(t, c.lines...)
		_, list := run(t, "framing", scenario, "--as", "fdl")
		if _, again := run(t, "framing", scenario, "--as", "fdl"); again != list {
			t.Errorf("%v: a second run writes another list", c.lines)
		}
		obeys(t, list)
		_, page := run(t, "framing", scenario, "--width", "200")
		for _, want := range c.want {
			if !strings.Contains(page, want) && !strings.Contains(list, want) {
				t.Errorf("%v: no %q in\n%s\n%s", c.lines, want, page, list)
			}
		}
		besides(t, scenario, "unit.fdl", []byte(list))
		again := framed(t, `framing "unit.fdl"`)
		besides(t, again, "unit.fdl", []byte(list))
		lens := "A 18"
		if slices.Contains(c.lines, "squeeze 2") {
			lens = "C 40"
		}
		own, _ := factsOf(t, scenario, lens)
		listed, _ := factsOf(t, again, lens)
		for _, name := range []string{"frame_width", "frame_height", "angle_above", "angle_below", "angle_left", "protected_diagonal", "wanted_squeeze"} {
			if got, want := listed[name], own[name]; math.Abs(got/want-1) > 0.003 {
				t.Errorf("%v: %s: got %g by the list, want about %g", c.lines, name, got, want)
			}
		}
		// The place of an anchor is decided, and all else follows from the intent.
		_, said := run(t, "check", again, "--as", "json")
		if remarked, want := strings.Contains(said, "as decided"), slices.Contains(c.lines, "anchor 111 x 200"); remarked != want {
			t.Errorf("%v: got %s", c.lines, said)
		}
		// A list that lacks nothing is handed on as it is.
		if _, kept := run(t, "framing", again, "--as", "fdl"); kept != list {
			t.Errorf("%v: the list becomes\n%s", c.lines, kept)
		}
	}
}

// obeys holds a list to the published schema.
func obeys(t *testing.T, list string) {
	t.Helper()
	text, err := os.ReadFile("../testdata/framing/framing-list-2.0.1.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	schema, err := validator.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	compiler := validator.NewCompiler()
	compiler.AssertFormat()
	if err := compiler.AddResource("framing.json", schema); err != nil {
		t.Fatal(err)
	}
	compiled, err := compiler.Compile("framing.json")
	if err != nil {
		t.Fatal(err)
	}
	document, err := validator.UnmarshalJSON(strings.NewReader(list))
	if err != nil {
		t.Fatal(err)
	}
	if err := compiled.Validate(document); err != nil {
		t.Errorf("%v in\n%s", err, list)
	}
}

// A published list comes out of the command as it went in; with a further camera it holds that
// beside all that others wrote.
func TestFramingKeepsWhatOthersWrote(t *testing.T) {
	published, err := os.ReadFile("../testdata/framing/files/custom_keys.fdl")
	if err != nil {
		t.Fatal(err)
	}
	scenario := framed(t, `framing "unit.fdl" canvas "CV_01"`)
	besides(t, scenario, "unit.fdl", published)
	if _, got := run(t, "framing", scenario, "--as", "fdl"); got != string(published) {
		t.Errorf("the list becomes\n%s", got)
	}
	facts, _ := factsOf(t, scenario, "A 18")
	if got, want := facts["frame_width"], 36.70*3840/4096; math.Abs(got/want-1) > 1e-8 {
		t.Errorf("frame_width: got %g, want %g as decided", got, want)
	}

	text, err := os.ReadFile(scenario)
	if err != nil {
		t.Fatal(err)
	}
	with := strings.Replace(string(text), `frame medium-full`, "frame medium-full\n  mode \"Crop\"", 1)
	if err := os.WriteFile(scenario, []byte(with), 0o666); err != nil {
		t.Fatal(err)
	}
	kit := filepath.Join(filepath.Dir(scenario), "kit.catalog")
	text, err = os.ReadFile(kit)
	if err != nil {
		t.Fatal(err)
	}
	besides(t, scenario, "kit.catalog", []byte(strings.Replace(string(text), "24.47mm x 25.54mm", "24.47mm x 25.54mm 2966 x 3096", 1)))
	_, got := run(t, "framing", scenario, "--as", "fdl")
	obeys(t, got)
	for _, kept := range []string{"aaaaaaaa-bbbb-cccc-dddd-000000000099", `"_vendor_count": 42`, `"_cid_reel": "reel_A"`, `"_fd_note": "hero framing"`, `"y": 276.5`, `"Body_Crop-FI_01"`} {
		if !strings.Contains(got, kept) {
			t.Errorf("no %s in\n%s", kept, got)
		}
	}
}
