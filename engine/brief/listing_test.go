package brief_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// listed is a catalogue of one camera, on which a list decides.
const listedKit = `mount "M" {
  flange 44mm
  throat 54mm
}
camera "Body" {
  mount "M"
  mode "Open gate" 36.70mm x 25.54mm 4448 x 3096
  mode "Crop" 24mm x 16mm
}
rig "Sled" {
  payload 0.5kg..4kg
}
lens "Wide 18" {
  mount "M"
  focal 18mm
}
lens "Squeeze 40" {
  mount "M"
  focal 40mm
  squeeze 2
}
`

// list writes a list of one canvas with two intents, with changes by turns of what is and what is to be.
func list(t *testing.T, changes ...string) string {
	t.Helper()
	text := `{
  "uuid": "00000000-0000-0000-0000-000000000001",
  "version": {"major": 2, "minor": 0},
  "default_framing_intent": "FI_200",
  "framing_intents": [
    {"id": "FI_200", "aspect_ratio": {"width": 2, "height": 1}, "protection": 0.1},
    {"id": "FI_178", "aspect_ratio": {"width": 16, "height": 9}}
  ],
  "contexts": [{"canvases": [{
    "id": "OCF", "label": "Open gate", "source_canvas_id": "OCF",
    "dimensions": {"width": 4448, "height": 3096},
    "physical_dimensions": {"width": 36.7, "height": 25.54},
    "anamorphic_squeeze": 1.0,
    "framing_decisions": [{
      "id": "OCF-FI_200", "framing_intent_id": "FI_200",
      "dimensions": {"width": 4004, "height": 2002}, "anchor_point": {"x": 222, "y": 547},
      "protection_dimensions": {"width": 4448, "height": 2224}, "protection_anchor_point": {"x": 0, "y": 436}
    }, {
      "id": "OCF-FI_178", "framing_intent_id": "FI_178",
      "dimensions": {"width": 4448, "height": 2502}, "anchor_point": {"x": 0, "y": 297}
    }]
  }]}]
}
`
	for i := 0; i < len(changes); i += 2 {
		if !strings.Contains(text, changes[i]) {
			t.Fatalf("no %q to change", changes[i])
		}
		text = strings.Replace(text, changes[i], changes[i+1], 1)
	}
	return text
}

// loadListed loads a scenario with a list beside it.
func loadListed(t *testing.T, list string, lines ...string) (*brief.Scenario, lang.Diagnostics) {
	t.Helper()
	src, ds := lang.NewSource("unit.scenario", []byte(`use "kit.catalog"
scenario "Unit" {
  camera "Body"
  rig "Sled"
  `+strings.Join(lines, "\n  ")+`
}
shot "1" {
  subject person 1.78m
  frame full
  distance 3m
}
`))
	if ds != nil {
		t.Fatal(ds)
	}
	return brief.Load(src, brief.Files{Tree: fstest.MapFS{"kit.catalog": {Data: []byte(listedKit)}, "unit.fdl": {Data: []byte(list)}}})
}

func TestListDecidesTheFrame(t *testing.T) {
	for _, c := range []struct {
		name, list, lines       string
		wide, high, x, y, wide2 float64 // of the frame and of the protected one, in pixels
	}{
		{"by the rule", list(t), `framing "unit.fdl"`, 4004, 2002, 0, 0, 4448},
		{"by its intent", list(t), `framing "unit.fdl" intent "FI_178"`, 4448, 2502, 0, 0, 4448},
		{"by the label of its canvas", list(t), `framing "unit.fdl" intent "FI_200" canvas "Open gate"`, 4004, 2002, 0, 0, 4448},
		{"as decided", list(t, `{"x": 222, "y": 547}`, `{"x": 200, "y": 500}`, `{"x": 0, "y": 436}`, `{"x": 0, "y": 400}`), `framing "unit.fdl"`, 4004, 2002, -22, 47, 4448},
		{"in fractions", list(t, `{"width": 4004, "height": 2002}`, `{"width": 4003.2, "height": 2001.6}`, `{"x": 222, "y": 547}`, `{"x": 222.4, "y": 547.2}`), `framing "unit.fdl"`, 4003.2, 2001.6, 0, 0, 4448},
	} {
		s, ds := loadListed(t, c.list, c.lines)
		if s == nil {
			t.Errorf("%s: %v", c.name, ds)
			continue
		}
		windows, _ := s.Delivery.Windows(s.Cameras[0], s.Cameras[0].Mode(""), 1)
		delivered, protected := windows.Frame, windows.Protected
		across, down := 36.70e-3/4448, 25.54e-3/3096
		for what, pair := range map[string][2]float64{
			"width": {delivered.Width, c.wide * across}, "height": {delivered.Height, c.high * down},
			"x": {delivered.X, c.x * across}, "y": {delivered.Y, c.y * down}, "protected width": {protected.Width, c.wide2 * across},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-9 {
				t.Errorf("%s: %s: got %g, want %g", c.name, what, pair[0], pair[1])
			}
		}
	}
}

// Where scenario, catalogue and list disagree, both figures and both places are said.
func TestListAgainstScenario(t *testing.T) {
	const use = `framing "unit.fdl"`
	for _, c := range []struct {
		name, list string
		lines      []string
		severity   lang.Severity
		summary    string // parts of it, with "…" between
		at, other  string // what the two places show
	}{
		{"nothing", list(t), []string{use, "deliver 4:2", "protect 10%", "squeeze 1"}, 0, "", "", ""},
		{"a mode without pixels", list(t, `"width": 36.7, "height": 25.54`, `"width": 24.05, "height": 16`), []string{use, `mode "Crop"`}, 0, "", "", ""},
		{"ratio", list(t), []string{use, "deliver 2.39:1"}, lang.Error, "2.39:1…intent FI_200, which is 2:1", "2.39:1", `{"width": 2, "height": 1}`},
		{"ratio of another intent", list(t), []string{use, "deliver 16:9"}, lang.Error, "16:9…which is 2:1", "16:9", `{"width": 2, "height": 1}`},
		{"protection", list(t), []string{use, "protect 5%"}, lang.Error, `"5%"…which is 10%`, "5%", "0.1"},
		{"squeeze", list(t), []string{use, "squeeze 2"}, lang.Error, `"2"…canvas OCF, which is 1`, "2", "1.0"},
		{"place", list(t), []string{use, "common top"}, lang.Error, `"common" says where the frame stands`, "top", `"unit.fdl"`},
		{"an anchor without pixels", list(t), []string{`mode "Crop"`, "anchor 222 x 547"}, lang.Error, `an anchor is in pixels, and the mode "Crop" of "Body" does not say`, "222 x 547", `"Crop"`},
		{"another ratio", list(t), []string{use, "also 1:1"}, lang.Warning, `no intent of the list has the ratio "1:1"`, "1:1", `"unit.fdl"`},
		{"another default", list(t), []string{use + ` intent "FI_178"`}, lang.Warning, "FI_178 (16:9) is judged…FI_200 (2:1) by default", `"FI_178"`, `{"id": "FI_200", "aspect_ratio": {"width": 2, "height": 1}, "protection": 0.1}`},
		{"pixels", list(t, `"width": 4448, "height": 3096`, `"width": 4480, "height": 3100`, `{"x": 222, "y": 547}`, `{"x": 222, "y": 547}`), []string{use}, lang.Warning, "4480 x 3100 pixels…4448 x 3096", `"unit.fdl"`, `{"width": 4480, "height": 3100}`},
		{"millimetres", list(t, `"width": 36.7,`, `"width": 35.9,`), []string{use}, lang.Warning, "35.90 mm x 25.54 mm…36.70mm x 25.54mm", `"unit.fdl"`, `{"width": 35.9, "height": 25.54}`},
		{"decision", list(t, `{"width": 4004, "height": 2002}`, `{"width": 3840, "height": 1920}`), []string{use}, lang.Warning, "3840 x 1920 at 222, 547…4004 x 2002 at 222, 547", `"unit.fdl"`, ""},
		{"effective area", list(t, `"physical_dimensions"`, `"effective_dimensions": {"width": 4448, "height": 2400}, "effective_anchor_point": {"x": 0, "y": 348}, "physical_dimensions"`), []string{use}, lang.Warning,
			"only 4448 x 2400 at 0, 348 may be used…4448 x 3096 pixels", `"unit.fdl"`, `{"width": 4448, "height": 2400}`},
		{"no such intent", list(t), []string{use + ` intent "FI_20"`}, lang.Error, `no framing intent "FI_20"`, `"FI_20"`, ""},
		{"no default", list(t, `"default_framing_intent": "FI_200",`, ""), []string{use}, lang.Error, "several framing intents and none by default", `"unit.fdl"`, ""},
		{"no such canvas", list(t), []string{use + ` canvas "B"`}, lang.Error, `no canvas "B"`, `"B"`, ""},
		{"no canvas of the mode", list(t), []string{use, `mode "Crop"`}, lang.Error, `no canvas for the mode "Crop"`, `"unit.fdl"`, `"Crop"`},
		{"no decision", list(t, `"framing_intent_id": "FI_200"`, `"framing_intent_id": "FI_178"`, `"id": "OCF-FI_200"`, `"id": "OCF-FI_178"`, `"id": "OCF-FI_178", "framing_intent_id": "FI_178",
      "dimensions": {"width": 4448, "height": 2502}, "anchor_point": {"x": 0, "y": 297}`, `"id": "OCF-FI_9", "framing_intent_id": "FI_9", "dimensions": {"width": 1, "height": 1}, "anchor_point": {"x": 0, "y": 0}`,
			`{"id": "FI_178", "aspect_ratio": {"width": 16, "height": 9}}`, `{"id": "FI_178", "aspect_ratio": {"width": 16, "height": 9}}, {"id": "FI_9", "aspect_ratio": {"width": 1, "height": 1}}`),
			[]string{use}, lang.Warning, "canvas OCF has no decision for intent FI_200", `"unit.fdl"`, ""},
		{"a spherical lens", list(t, `"anamorphic_squeeze": 1.0`, `"anamorphic_squeeze": 2.0`), []string{use, `bring "Wide 18"`}, lang.Error, `"Wide 18" is spherical, and canvas OCF is squeezed 2 times`, `"Wide 18"`, "2.0"},
		{"no lens of the squeeze", list(t, `"anamorphic_squeeze": 1.0`, `"anamorphic_squeeze": 1.5`), []string{use}, lang.Error, "squeezed 1.5 times, and no lens", `"unit.fdl"`, "1.5"},
		{"a faulty list", list(t, `"width": 2,`, `"width": 2.5,`), []string{use}, lang.Error, "2.5 is no whole number", "2.5", ""},
		{"no list", "", []string{use}, lang.Error, "the text ends", "", ""},
		{"no file", list(t), []string{`framing "other.fdl"`}, lang.Error, "there is no such file", `"other.fdl"`, ""},
		{"outside", list(t), []string{`framing "../unit.fdl"`}, lang.Error, "lies outside", `"../unit.fdl"`, ""},
	} {
		s, ds := loadListed(t, c.list, c.lines...)
		if (s == nil) != (c.severity == lang.Error) {
			t.Errorf("%s: got a scenario %t: %v", c.name, s != nil, ds)
		}
		if c.severity == 0 {
			if len(ds) > 0 {
				t.Errorf("%s: got %v", c.name, ds)
			}
			continue
		}
		found := false
		for _, d := range ds {
			says := d.Severity == c.severity
			rest := d.Summary
			for _, part := range strings.Split(c.summary, "…") {
				_, after, ok := strings.Cut(rest, part)
				says, rest = says && ok, after
			}
			if !says {
				continue
			}
			found = true
			if c.at != "" && d.Span.Text() != c.at {
				t.Errorf("%s: the place shows %q, want %q", c.name, d.Span.Text(), c.at)
			}
			if c.other != "" && (len(d.Related) == 0 || d.Related[0].Span.Text() != c.other) {
				t.Errorf("%s: the other place is %v, want one that shows %q", c.name, d.Related, c.other)
			}
		}
		if !found {
			t.Errorf("%s: nothing like %q in\n%v", c.name, c.summary, ds)
		}
	}
}

// A list that a program writes on one line is read, however long that is.
func TestListOnOneLine(t *testing.T) {
	long := strings.Join(strings.Fields(list(t, `"default_framing_intent"`, fmt.Sprintf(`"_note": %q, "default_framing_intent"`, strings.Repeat("x", 1<<15)))), " ")
	if s, ds := loadListed(t, long, `framing "unit.fdl"`); s == nil || len(ds) > 0 {
		t.Errorf("got %v", ds)
	}
}

// Two cameras and a shot in another mode: what the list does not know is placed by its intent.
func TestListOfOneModeOnly(t *testing.T) {
	text := strings.Replace(listedKit, `rig "Sled"`, "camera \"Other\" {\n  mount \"M\"\n  mode \"Full\" 36mm x 24mm\n}\nrig \"Sled\"", 1)
	src, _ := lang.NewSource("unit.scenario", []byte("use \"kit.catalog\"\nscenario \"Unit\" {\n  camera \"Body\", \"Other\"\n  rig \"Sled\"\n  framing \"unit.fdl\"\n}\nshot \"1\" {\n  subject person 1.78m\n  frame full\n  distance 3m\n}\n"))
	s, ds := brief.Load(src, brief.Files{Tree: fstest.MapFS{"kit.catalog": {Data: []byte(text)}, "unit.fdl": {Data: []byte(list(t))}}})
	if s == nil || len(ds) != 1 || !strings.Contains(ds[0].Summary, `no canvas for the mode "Full" of "Other"`) {
		t.Fatalf("got %v", ds)
	}
	windows, also := s.Delivery.Windows(s.Cameras[1], s.Cameras[1].Mode(""), 1)
	delivered, protected := windows.Frame, windows.Protected
	if len(also) != 1 || math.Abs(also[0].Frame.Height-0.036*9/16) > 1e-12 {
		t.Errorf("got %v for the other intent, want 16:9 as large as fits", also)
	}
	if math.Abs(delivered.Width-0.9*0.036) > 1e-12 || math.Abs(protected.Height-0.018) > 1e-12 {
		t.Errorf("got %v in %v, want 90 %% of 36 mm by 18 mm", delivered, protected)
	}
}

// Without the pixels of the plan there is nothing to write.
func TestNoListWithoutPixels(t *testing.T) {
	s, ds := loadListed(t, "", `mode "Crop"`)
	if s == nil {
		t.Fatal(ds)
	}
	if list, found := s.FramingList("test 1"); list != nil || !found.HasErrors() || !strings.Contains(found[0].Summary, `"Crop" of "Body" does not say how many pixels`) {
		t.Errorf("got %v", found)
	}
}
