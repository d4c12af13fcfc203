package editor

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// marked puts a line with a mark into the shot of the plain scenario, or at its end.
func marked(line string) string {
	if strings.HasPrefix(line, "  ") {
		return strings.Replace(plain, "  distance  2m\n", "  distance  2m\n"+line+"\n", 1)
	}
	return plain + line + "\n"
}

func TestHover(t *testing.T) {
	s := begin(t, map[string]string{"own.rules": "fact twice = 2 * near_limit because \"twice as far\"\n"})
	withRules := strings.Replace(plain, "  rig ", "  rules \"own.rules\"\n  rig ", 1)
	for _, c := range []struct {
		name, file, text string
		want             []string // pieces of what is shown, none for nothing
	}{
		{"keyword", "a.scenario", marked("  wei|ght 2"), []string{"**weight** takes a number", "How much the shot counts"}},
		{"keyword at the top", "a.scenario", marked("exp|ect kit \"Wide 18\""), []string{"**expect**"}},
		{"distance", "a.scenario", marked("  background 1.5|m"), []string{"1500 mm", "59.06 in", "4.921 ft", "4ft 11in"}},
		{"light", "a.scenario", marked("  light EV|7"), []string{"320 lx", "29.73 fc", "EV 7 at ISO 100"}},
		{"level of light", "a.scenario", marked("  light over|cast"), []string{"**overcast**", "lx", "Source: "}},
		{"speed", "a.scenario", marked("  move lead 1.2m/|s"), []string{"4.32 km/h", "2.684 mph"}},
		{"framing", "a.scenario", strings.Replace(plain, "medium", "med|ium", 1), []string{"**medium**: the subject is", "as high as the frame", "of height here"}},
		{"lens", "a.scenario", marked("expect kit \"Wide| 18\""), []string{"**Wide 18** lens", "- focal: 18", "On House body A at 18 mm: ", "at 2.00 m the field is"}},
		{"lens of a shot", "a.scenario", marked("expect shot \"1A\" lens \"Wide 18|\""), []string{"**Wide 18** lens"}},
		{"place", "a.scenario", strings.Replace(marked("  at \"Ra|il\""), "  rig", "  place \"Rail\" move 10min\n  rig", 1), []string{"**Rail** place, 10 min"}},
		{"shot", "a.scenario", marked("expect shot \"1|A\" lens \"Wide 18\""), []string{"**shot 1A**"}},
		{"camera", "a.scenario", strings.Replace(plain, "House", "Ho|use", 1), []string{"**House body A** camera", "iso: 800"}},
		{"fact", "a.scenario", marked("  need face_|stretch < 12%"), []string{"**face_stretch**: a plain number, shown in %", "nose", "Source: "}},
		{"quantity in an expression", "a.scenario", marked("  need near_limit < 1.5|m"), []string{"4ft 11in"}},
		{"function", "a.scenario", marked("  need m|in(near_limit, 2m) < 3m"), []string{"**min(", "least"}},
		{"fact in a reason", "a.scenario", marked("  need near_limit < 3m because \"as {near_|limit} shows\""), []string{"**near_limit**: a length"}},
		{"fact of a rules file", "a.scenario", strings.Replace(withRules, "  distance  2m\n", "  distance  2m\n  need twi|ce < 3m\n", 1), []string{"**twice**: a length", "twice as far"}},
		{"mount", "b.catalog", "mount \"Slim\" {\n  flange 18mm\n}\nlens \"L\" {\n  mount \"Sl|im\"\n  focal 20mm\n}\n", []string{"**Slim** mount", "- flange: 18 mm", "- not known: "}},
		{"lens on the cameras of a catalogue", "b.catalog", "mount \"M\" {\n  flange 18mm\n}\ncamera \"C\" {\n  mount \"M\"\n  mode \"All\" 36mm x 24mm\n}\nlens \"|L\" {\n  mount \"M\"\n  focal 18mm\n}\n", []string{"On C at 18 mm: 90 deg across"}},
		{"rules", "c.rules", "criterion \"c\" {\n  score fall|ing(short, 0 stops, 1 stop)\n}\n", []string{"**falling("}},
		{"a given fact", "c.rules", "case \"c\" {\n  given near_|limit 2m\n}\n", []string{"**near_limit**: a length"}},
		{"a criterion", "c.rules", "case \"c\" {\n  expect veto \"li|ght\"\n}\n", []string{"**light** criterion, weight 3"}},
		{"a criterion that is weighed", "c.rules", "weight \"li|ght\" 5\n", []string{"**light** criterion, weight 5"}},
		{"a comment", "a.scenario", marked("// no|thing"), nil},
		{"a brace", "a.scenario", plain + "shot \"2\" |{\n}\n", nil},
		{"an unknown name", "a.scenario", marked("expect kit \"Wi|de\""), nil},
		{"a text that names nothing", "a.scenario", strings.Replace(plain, "Plain", "Pl|ain", 1), nil},
		{"faulty text around", "a.scenario", marked("  frame ,,,\n  light EV|7") + "shot \"x\n}}", []string{"320 lx"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s.t = t
			var got *hover
			s.ask("hover", c.file, c.text, &got)
			if c.want == nil {
				if got != nil {
					t.Errorf("got %q, want nothing", got.Contents.Value)
				}
				return
			}
			if got == nil {
				t.Fatalf("got nothing, want %q", c.want)
			}
			for _, piece := range c.want {
				if !strings.Contains(got.Contents.Value, piece) {
					t.Errorf("got %q, which lacks %q", got.Contents.Value, piece)
				}
			}
		})
	}
}

func TestCompletion(t *testing.T) {
	s := begin(t, map[string]string{"day.scenario": plain})
	for _, c := range []struct {
		name, file, text string
		want             []string // "label => the line after it is taken", among others
		not              []string // labels that do not stand here
	}{
		{"top of a scenario", "a.scenario", "sh|", []string{"shot => shot", "use => use", "expect => expect"}, []string{"weight", "lens"}},
		{"fields of a shot", "a.scenario", marked("  we|"), []string{"weight =>   weight", "need =>   need", "heading =>   heading"}, []string{"camera"}},
		{"fields of a scenario", "a.scenario", strings.Replace(plain, "  rig", "  |\n  rig", 1), []string{"camera =>   camera", "carry =>   carry"}, []string{"subject"}},
		{"framing words", "a.scenario", marked("  frame med|"), []string{"medium =>   frame medium", "extreme-wide =>   frame extreme-wide"}, []string{"hold"}},
		{"the wider framing word", "a.scenario", marked("  frame close..|"), []string{"full =>   frame close..full"}, nil},
		{"moves", "a.scenario", marked("  move |"), []string{"push-in =>   move push-in"}, []string{"run"}},
		{"attributes of a move", "a.scenario", marked("  move lead 1m/s |"), []string{"run =>   move lead 1m/s run", "low mode =>   move lead 1m/s low mode"}, []string{"lead"}},
		{"levels of light", "a.scenario", marked("  light off|"), []string{"office =>   light office"}, nil},
		{"words of a tag", "a.scenario", marked("  focus |"), []string{"pulled =>   focus pulled"}, nil},
		{"lenses in quotes", "a.scenario", marked("expect kit \"Wi|"), []string{"Wide 18 => expect kit \"Wide 18\""}, []string{"House body A", "Short sled"}},
		{"lenses in closed quotes", "a.scenario", marked("expect kit \"Wi|\" \"Normal 35\""), []string{"Wide 18 => expect kit \"Wide 18\" \"Normal 35\""}, nil},
		{"lenses without quotes", "a.scenario", marked("expect kit \"Wide 18\" |"), []string{"Normal 35 => expect kit \"Wide 18\" \"Normal 35\""}, nil},
		{"shots", "a.scenario", marked("expect shot |"), []string{"1A => expect shot \"1A\""}, []string{"Wide 18"}},
		{"places", "a.scenario", strings.Replace(marked("  at |"), "  rig", "  place \"Rail\" move 10min\n  rig", 1), []string{"Rail =>   at \"Rail\""}, []string{"1A"}},
		{"units", "a.scenario", strings.Replace(marked("  unit |"), "  rig", "  unit \"A\"\n  unit \"B\"\n  rig", 1), []string{"B =>   unit \"B\""}, []string{"1A"}},
		{"what a shot comes after", "a.scenario", marked("  after |"), []string{"1A =>   after \"1A\""}, nil},
		{"cameras of a unit", "a.scenario", strings.Replace(plain, "  rig", "  unit \"B\" camera |\n  rig", 1), []string{"House body B =>   unit \"B\" camera \"House body B\""}, []string{"Short sled"}},
		{"orders", "a.scenario", strings.Replace(plain, "  rig", "  order |\n  rig", 1), []string{"free in scene =>   order free in scene"}, nil},
		{"cameras", "a.scenario", strings.Replace(plain, "\"House body A\"", "\"House|", 1), []string{"House body B =>   camera    \"House body B\""}, []string{"Wide 18"}},
		{"facts", "a.scenario", marked("  need near_|"), []string{"near_limit =>   need near_limit", "min(a, b, …) =>   need min(", "and =>   need and"}, []string{"hold"}},
		{"facts of an empty expression", "a.scenario", marked("  need |"), []string{"near_limit =>   need near_limit"}, nil},
		{"facts behind an operator", "a.scenario", marked("  need focus_held > 50% and ne|"), []string{"near_limit =>   need focus_held > 50% and near_limit"}, nil},
		{"facts in a reason", "a.scenario", marked("  need is_zoom because \"at {near|"), []string{"near_limit =>   need is_zoom because \"at {near_limit"}, []string{"and"}},
		{"a reason has free text", "a.scenario", marked("  need is_zoom because \"at |"), nil, []string{"near_limit"}},
		{"units", "a.scenario", marked("  distance 2|"), []string{"m =>   distance 2m", "stops =>   distance 2 stops"}, nil},
		{"a unit begun", "a.scenario", marked("  light 300l|"), []string{"lx =>   light 300lx"}, nil},
		{"mounts", "b.catalog", "mount \"Slim\" {\n}\nlens \"L\" {\n  mount |\n}\n", []string{"Slim =>   mount \"Slim\""}, []string{"L"}},
		{"fields of a lens", "b.catalog", "lens \"L\" {\n  cl|\n}\n", []string{"close_focus =>   close_focus"}, []string{"weight"}},
		{"fields of a criterion", "c.rules", "criterion \"c\" {\n  |\n}\n", []string{"veto =>   veto", "score =>   score"}, []string{"need"}},
		{"given facts", "c.rules", "case \"c\" {\n  given near_|\n}\n", []string{"near_limit =>   given near_limit"}, []string{"and"}},
		{"given truths", "c.rules", "case \"c\" {\n  given moving |\n}\n", []string{"false =>   given moving false"}, nil},
		{"expectations", "c.rules", "case \"c\" {\n  expect |\n}\n", []string{"no veto =>   expect no veto"}, []string{"kit"}},
		{"lenses that were taken", "d.choices", "choices \"day.scenario\" {\n  chose \"Wi|\n}\n", []string{"Wide 18 =>   chose \"Wide 18\""}, []string{"1A"}},
		{"shots of choices", "d.choices", "choices \"day.scenario\" {\n  chose \"Wide 18\" in shot \"|\n}\n", []string{"1A =>   chose \"Wide 18\" in shot \"1A\""}, []string{"Wide 18"}},
		{"behind a lens that was taken", "d.choices", "choices \"day.scenario\" {\n  chose \"Wide 18\" |\n}\n", []string{"in shot =>   chose \"Wide 18\" in shot"}, nil},
		{"criteria", "c.rules", "case \"c\" {\n  expect veto |\n}\n", []string{"depth of field =>   expect veto \"depth of field\""}, []string{"near_limit"}},
		{"criteria to weigh", "c.rules", "weight |\n", []string{"depth of field => weight \"depth of field\""}, nil},
		{"a comment", "a.scenario", marked("// use |"), nil, []string{"demo"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s.t = t
			var got struct{ Items []completion }
			s.ask("completion", c.file, c.text, &got)
			text, at := placed(t, c.text)
			var labels, taken []string
			for _, item := range got.Items {
				labels = append(labels, item.Label)
				taken = append(taken, item.Label+" => "+applied(text, at.Line, item.TextEdit))
			}
			for _, want := range c.want {
				if !slices.Contains(taken, want) {
					t.Errorf("%q is not offered; got %q", want, taken)
				}
			}
			for _, label := range c.not {
				if slices.Contains(labels, label) {
					t.Errorf("%q is offered", label)
				}
			}
		})
	}
}

// applied gives the line of a text after an edit within it; the texts here are ASCII
// before the edit.
func applied(text string, line int, edit textEdit) string {
	before := strings.Split(text, "\n")[line]
	return before[:edit.Range.Start.Character] + edit.NewText + before[edit.Range.End.Character:]
}

func TestDefinition(t *testing.T) {
	s := begin(t, map[string]string{
		"own.catalog":   "// one\nmount \"Slim\" {\n  flange 18mm\n  throat 50mm\n}\nlens \"Mine\" {\n  mount \"Slim\"\n  focal 20mm\n}\n",
		"own.rules":     "// one\nfact twice = 2 * near_limit\n",
		"test.fountain": "INT. DECK - NIGHT #1#\n\nEXT. QUAY #2A#\n\n",
	})
	own := strings.NewReplacer("use demo\n", "use demo\nuse \"own.catalog\"\n", "  rig ", "  script \"test.fountain\"\n  rules \"own.rules\"\n  rig ").Replace(plain)
	in := func(line string) string {
		if strings.HasPrefix(line, "  ") {
			return strings.Replace(own, "  distance  2m\n", "  distance  2m\n"+line+"\n", 1)
		}
		return own + line + "\n"
	}
	for _, c := range []struct{ name, file, text, want string }{
		{"a lens of a catalogue", "a.scenario", in("expect kit \"Mi|ne\""), "own.catalog:5"},
		{"a lens of the demo has no file", "a.scenario", in("expect kit \"Wide| 18\""), ""},
		{"a shot", "a.scenario", in("expect shot \"1|A\" lens \"Mine\""), "a.scenario:10"},
		{"a catalogue", "a.scenario", strings.Replace(own, "own.cat", "own.|cat", 1), "own.catalog:0"},
		{"a script", "a.scenario", strings.Replace(own, "test.fo", "test.|fo", 1), "test.fountain:0"},
		{"a scene", "a.scenario", in("  scene 2|A"), "test.fountain:2"},
		{"a heading", "a.scenario", in("  heading \"INT. DECK - N|IGHT\""), "test.fountain:0"},
		{"a fact", "a.scenario", in("  need twi|ce < 2m"), "own.rules:1"},
		{"a built-in fact has no file", "a.scenario", in("  need near_|limit < 2m"), ""},
		{"a mount", "b.catalog", "mount \"Slim\" {\n}\nlens \"L\" {\n  mount \"Sl|im\"\n}\n", "b.catalog:0"},
		{"a file elsewhere", "a.scenario", strings.Replace(own, "own.cat", "../own.|cat", 1), ""},
		{"a criterion", "c.rules", "criterion \"house\" {\n  score 1\n}\ncase \"c\" {\n  expect score \"ho|use\" 1\n}\n", "c.rules:0"},
		{"nothing", "a.scenario", strings.Replace(own, "Plain", "Pl|ain", 1), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s.t = t
			var at *location
			s.ask("definition", c.file, c.text, &at)
			got := ""
			if at != nil {
				got = fmt.Sprintf("%s:%d", filepath.Base(at.URI), at.Range.Start.Line)
			}
			if got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestFormatting(t *testing.T) {
	s := begin(t, nil)
	for _, c := range []struct{ name, text, want string }{
		{"tidy already", plain, ""},
		{"untidy", "use   demo\n\n\n\nexpect  kit \"A\" // ä\n", "use demo\n\nexpect kit \"A\"  // ä\n"},
		{"carriage returns", "use   demo\r\n// x\r\n", "use demo\n// x\n"},
		{"no last end of line", "use   demo // 𝄞", "use demo  // 𝄞\n"},
		{"faults are left alone", "use   \"demo\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s.t = t
			s.open("a.scenario", c.text)
			var edits []textEdit
			if err := json.Unmarshal(s.request("textDocument/formatting", map[string]any{"textDocument": textDocument{URI: s.uri("a.scenario")}}), &edits); err != nil {
				t.Fatal(err)
			}
			if c.want == "" {
				if len(edits) != 0 {
					t.Errorf("got %v, want no edits", edits)
				}
				return
			}
			if len(edits) != 1 || edits[0].NewText != c.want {
				t.Fatalf("got %v, want %q", edits, c.want)
			}
			lines := strings.Split(c.text, "\n")
			wantEnd := position{Line: len(lines) - 1, Character: len([]rune(lines[len(lines)-1])) + strings.Count(lines[len(lines)-1], "𝄞")}
			if got := edits[0].Range; got.Start != (position{}) || got.End != wantEnd {
				t.Errorf("got the range %v, want from the start to %v", got, wantEnd)
			}
		})
	}
}
