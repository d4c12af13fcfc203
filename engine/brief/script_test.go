package brief_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"glassbrief/engine/brief"
	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

const numberedScript = `Title: Test

EXT. QUAY - NIGHT #1#

Rain.

INT. CAR DECK - NIGHT #2#

Steel.

EXT. UPPER DECK - MORNING #10#

Light.
`

// scriptFindings checks shots against a script and gives each finding on one line.
func scriptFindings(t *testing.T, script string, shots ...string) []string {
	t.Helper()
	text := "use demo\nscenario \"Test\" {\n  script \"test.fountain\"\n  camera \"House body A\"\n  rig \"Short sled\"\n}\n"
	for i, shot := range shots {
		text += fmt.Sprintf("shot \"%c\" {\n  subject person 1.7m\n  frame medium\n  distance 2m\n  %s\n}\n", 'A'+i, shot)
	}
	src, found := lang.NewSource("test.scenario", []byte(text))
	if found.HasErrors() {
		t.Fatal(found)
	}
	files := brief.Files{Budget: lang.NewBudget(2_000_000_000), Tree: fstest.MapFS{"test.fountain": {Data: []byte(script)}}}
	scenario, found := brief.Load(src, files)
	if len(found) > 0 {
		t.Fatal(found)
	}
	var got []string
	for _, d := range brief.CheckScript(scenario, files) {
		got = append(got, fmt.Sprintf("%s %s %q: %s", d.Severity, d.Code, d.Span.Text(), d.Summary))
		if d.Instead != "" {
			got[len(got)-1] += " -> " + d.Instead
		}
	}
	return got
}

func TestCheckScript(t *testing.T) {
	all := []string{"scene 1", "scene 2", "scene 10"}
	unnumbered := strings.NewReplacer(" #1#", "", " #2#", "", " #10#", "").Replace(numberedScript)
	for _, c := range []struct {
		name, script string
		shots        []string
		want         []string
	}{
		{"agrees", numberedScript, all, nil},
		{"a scene that the script lacks", numberedScript, append([]string{"scene 3"}, all...),
			[]string{`error unknown-name "3": the script has no scene "3" -> 2`}},
		{"a letter behind the number", numberedScript, append([]string{"scene 10B"}, all...),
			[]string{`error unknown-name "10B": the script has no scene "10B" -> 10`}},
		{"a scene without a shot", numberedScript, []string{"scene 1"},
			[]string{`warning missing-field "\"test.fountain\"": no shot covers scenes "2" and "10"`}},
		{"one scene without a shot", numberedScript, []string{"scene 1", "scene 10"},
			[]string{`warning missing-field "\"test.fountain\"": no shot covers scene "2"`}},
		{"a shot without a scene", numberedScript, append([]string{""}, all...), nil},
		{"a pinned heading", numberedScript, append([]string{"scene 2\n  heading \"Int. car deck — NIGHT\""}, all...), nil},
		{"a heading that has changed", numberedScript, append([]string{"scene 2\n  heading \"INT. CAR DECK - DAY\""}, all...),
			[]string{`warning contradiction "\"INT. CAR DECK - DAY\"": the heading of the scene is "INT. CAR DECK - NIGHT" now -> "INT. CAR DECK - NIGHT"`}},
		{"a scene that was renumbered", numberedScript, append([]string{"scene 5\n  heading \"EXT. UPPER DECK - MORNING\""}, all...),
			[]string{`error unknown-name "5": the script has no scene "5" -> 10`}},
		{"a heading alone", numberedScript, append([]string{"heading \"EXT. QUAY - NIGHT\""}, all[1:]...), nil},
		{"a heading alone that is not there", numberedScript, append([]string{"heading \"EXT. QUAYS - NIGHT\""}, all...),
			[]string{`warning unknown-name "\"EXT. QUAYS - NIGHT\"": the script has no scene with the heading "EXT. QUAYS - NIGHT" -> EXT. QUAY - NIGHT`}},
		{"no headings", "Rain.\n", all, []string{`warning missing-field "\"test.fountain\"": the script has no scene headings`}},
		{"no numbers", unnumbered, all,
			[]string{`warning missing-field "\"test.fountain\"": the script numbers no scene, so that the scenes of the shots cannot be looked up`}},
		{"scenes by their headings", unnumbered, []string{`scene "ext. quay - night"`, `scene "INT. CAR DECK - NIGHT"`},
			[]string{`warning missing-field "\"test.fountain\"": no shot covers scene "EXT. UPPER DECK - MORNING"`}},
		{"a heading with a comma", "INT. YARD\n\nINT. BARN\n\nINT. HOUSE, KITCHEN - DAY\n", []string{`scene "INT. YARD"`},
			[]string{`warning missing-field "\"test.fountain\"": no shot covers scenes "INT. BARN" and "INT. HOUSE, KITCHEN - DAY"`}},
		{"one number twice", numberedScript + "\nINT. X #2#\n", all,
			[]string{`warning duplicate-name "INT. X #2#": two scenes of the script are numbered "2"`}},
		{"carriage returns and a byte-order mark", "\xef\xbb\xbf" + strings.ReplaceAll(numberedScript, "\n", "\r\n"), all, nil},
		{"bright outside at night", numberedScript, append(all, "scene 1\n  light 5000lx"),
			[]string{`warning improbable "5000lx": the light is brighter than "bright-street", 640 lx, and the scene is "EXT. QUAY - NIGHT"`}},
		{"lamps inside at night", numberedScript, append(all, "scene 2\n  light 5000lx"), nil},
		{"sun inside at night", numberedScript, append(all, "scene 2\n  light sun"),
			[]string{`warning improbable "sun": the light is brighter than "overcast", 10240 lx, and the scene is "INT. CAR DECK - NIGHT"`}},
		{"dark outside by day", numberedScript, append(all, "scene 10\n  light 90lx"),
			[]string{`warning improbable "90lx": the light is darker than "sunrise", 400 lx, and the scene is "EXT. UPPER DECK - MORNING"`}},
		{"bright outside by day", numberedScript, append(all, "scene 10\n  light sun"), nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, scriptFindings(t, c.script, c.shots...)); diff != "" {
				t.Errorf("findings differ (-want +got):\n%s", diff)
			}
		})
	}
}

// A script that cannot be read is a fault, and what a scenario names stays in its tree.
func TestCheckScriptReadsOnlyTheTree(t *testing.T) {
	for _, c := range []struct {
		script string
		code   lang.Code
	}{
		{"nowhere.fountain", lang.UnreadableFile},
		{"../test.fountain", lang.OutsideTree},
		{"/etc/passwd", lang.OutsideTree},
		{`..\test.fountain`, lang.OutsideTree},
		{"a/../../test.fountain", lang.OutsideTree},
	} {
		src, _ := lang.NewSource("test.scenario", []byte("use demo\nscenario \"Test\" {\n  script "+lang.Quote(c.script)+
			"\n  camera \"House body A\"\n  rig \"Short sled\"\n}\nshot \"A\" {\n  subject person 1.7m\n  frame medium\n  distance 2m\n}\n"))
		files := brief.Files{Tree: fstest.MapFS{}}
		scenario, found := brief.Load(src, files)
		if scenario == nil {
			t.Fatal(found)
		}
		found = brief.CheckScript(scenario, files)
		if len(found) != 1 || found[0].Code != c.code || !found.HasErrors() {
			t.Errorf("%s: got %v, want one %s", c.script, found, c.code)
		}
	}
}

// A script of five megabytes has a quarter of a million scenes, of which few are listed.
func TestCheckScriptOfManyScenes(t *testing.T) {
	var script strings.Builder
	scenes := 0
	for script.Len() < 5<<20 {
		scenes++
		fmt.Fprintf(&script, "INT. ROOM #%d#\n\n", scenes)
	}
	var got []string
	took := langtest.Clock(langtest.Processor).Time(func() {
		got = scriptFindings(t, script.String(), "scene 1", "scene 0", "scene X")
	})
	if took > langtest.Allowed(20*time.Second) {
		t.Errorf("took %v, and twenty seconds are the most", took)
	}
	want := []string{
		fmt.Sprintf(`warning missing-field "\"test.fountain\"": no shot covers %d scenes: "2", "3", "4", "5", "6", "7", "8", "9" and so on`, scenes-1),
		`error unknown-name "0": the script has no scene "0" -> 1`,
		fmt.Sprintf(`error unknown-name "X": the script has no scene "X" -> %d`, scenes),
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("findings differ (-want +got):\n%s", diff)
	}
}
