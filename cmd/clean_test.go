package cmd

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// hostileName is mark-up, a link, a formula and a command in one.
const hostileName = `=<b>[x](https://a.b) www.a.b x@a.b *_|#`

// steeringName holds what a terminal obeys: an escape, a control character of one byte in old code
// pages, and what turns the writing.
const steeringName = "a\x1b[2Jb\u009b1m\u202etxet"

// A hostileDay is a folder of files in which every field that takes a text has a hostile one.
type hostileDay struct {
	t      *testing.T
	folder string
}

func (d hostileDay) write(file, text string) string {
	d.t.Helper()
	path := filepath.Join(d.folder, file)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		d.t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		d.t.Fatal(err)
	}
	return path
}

// leaves gives the verbs that do something, each with those above it.
func leaves(c *cobra.Command, above string) []string {
	var all []string
	for _, verb := range c.Commands() {
		name := strings.TrimSpace(above + " " + verb.Name())
		if verb.HasSubCommands() {
			all = append(all, leaves(verb, name)...)
		} else {
			all = append(all, name)
		}
	}
	return all
}

// Whatever the files and the command line hold, what leaves steers no terminal, is no mark-up of
// Markdown or of a page, and no formula, in every form of every verb.
func TestHostileTextsLeaveAsText(t *testing.T) {
	d := hostileDay{t, t.TempDir()}
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(d.folder, "config"))
	v := &inventor{blocks: inventedBlocks(t), texts: []string{hostileName}, all: true}
	plain := v.files()
	for name, text := range plain {
		d.write(name, text)
	}
	lens, shot, camera, mount := v.names["lens"][0], v.names["shot"][0], v.names["camera"][0], v.names["mount"][0]
	day, house := filepath.Join(d.folder, "day.scenario"), filepath.Join(d.folder, "kit.catalog")
	v.framed = true
	for name, text := range v.files() {
		d.write("framed/"+name, text)
	}
	framed := filepath.Join(d.folder, "framed", "day.scenario")
	d.write("framed/unit.fdl", (&inventor{texts: []string{steeringName}}).frames())
	d.write("steering.fountain", "Title: "+steeringName+"\n\nEXT. "+steeringName+" - DAY #7#\n\nINT. DECK - NIGHT #4#\n")
	scripted := d.write("scripted.scenario", strings.Replace(plain["day.scenario"], "day.fountain", "steering.fountain", 1))
	uncovered := d.write("uncovered.scenario", strings.NewReplacer("distance 2m", "distance 45m", "frame medium", "frame close").Replace(plain["day.scenario"]))
	unknown := d.write("unknown.scenario", strings.Replace(plain["day.scenario"], "camera "+lang.Quote(camera), "camera "+lang.Quote("X"+hostileName), 1))
	refused := d.write("refused.scenario", "scenario "+lang.Quote(steeringName)+" {\n}\n// "+steeringName+"\n")
	chosen := d.write("none.choices", "choices \"day.scenario\" {\n}\n")
	named := d.write(steeringName+".scenario", plain["day.scenario"])

	cells := func(title string) string {
		row := `"` + strings.ReplaceAll(steeringName, `"`, `""`) + `"`
		return "Lens,Mount,FL,Notes," + title + "\n" + row + "," + row + ",18," + row + "," + row + "\n\"" + hostileName + "\",\"" + hostileName + "\",bad,," + row + "\n"
	}
	list := d.write("list.csv", cells("Shelf"))
	titled := d.write("titled.csv", cells(steeringName))
	goodList := d.write("good.csv", "Lens,Mount,FL,Notes\n\"N"+hostileName+"\",\""+mount+"\",18,\""+hostileName+"\"\n")
	d.write("measured/a.xml", `<lensdatabase version="1"><lens><maker>`+"a&#x9b;1m&#x202e;"+`</maker><model>field &lt;b&gt;[x](https://a.b) 20mm &#x85;</model><mount>=&#x202e;</mount><cropfactor>1</cropfactor>`+
		`<calibration><distortion model="poly3" focal="20" k1="0.01"/><distortion model="&#x9b;" focal="30" k1="x"/></calibration></lens></lensdatabase>`)
	settings := d.write("settings.yaml", "units: \"a\\e[2J\\u202e\"\n\"\\e[2J\": 1\n")
	measured := filepath.Join(d.folder, "measured")

	answered := func(args ...string) []string { return append(args, "0") }
	may := func(args ...string) []string { return append(args, "2") }
	runs := [][]string{ // with the greatest exit code but for a form that the verb lacks: 0 stands for an answer
		answered("recommend", day), answered("recommend", day, "--full"), answered("recommend", uncovered), answered("recommend", framed), answered("recommend", day, "--nearby", "3", "--tastes"), answered("recommend", day, "--tastes", "--full"), answered("recommend", named),
		may("recommend", unknown), may("recommend", refused), may("recommend", steeringName), may("recommend", day, "--camera", steeringName), may("recommend", day, "--settings", settings), may("recommend", day, "--settings", steeringName),
		may("recommend", day, "--"+steeringName), may("recommend", day, "--units", steeringName), may("recommend", day, "-o", filepath.Join(steeringName, "x")),
		answered("days", day), answered("days", uncovered), answered("days", framed), may("days", refused), may("days", steeringName), may("days", day, "--within", steeringName),
		answered("cards", day), answered("cards", day, "--full"), answered("cards", day, "--pocket"), answered("cards", framed), answered("cards", uncovered),
		answered("audit", day), answered("audit", uncovered, "--owned-only"), may("audit", day, "--rent", steeringName),
		answered("why", day, "--shot", shot, "--lens", lens), answered("why", uncovered, "--shot", shot), may("why", day, "--shot", steeringName), may("why", day, "--shot", shot, "--lens", steeringName),
		answered("compare", day, filepath.Join(d.folder, "later.scenario")), answered("compare", day, uncovered), answered("compare", day, named), answered("compare", day, named, filepath.Join(d.folder, "later.scenario")), may("compare", day, steeringName, day),
		answered("check", day), answered("check", day, "--fix"), may("check", refused, "--fix"), may("check", scripted), may("check", unknown, refused), answered("check", framed), may("check", steeringName),
		answered("framing", framed), may("framing", framed, "--mode", steeringName), answered("framing", framed, "--mode", v.names["mode"][0]),
		answered("tidy", day), answered("tidy", house), answered("tidy", filepath.Join(d.folder, "house.rules")), answered("tidy", "--list", named), answered("tidy", "--diff", day), may("tidy", refused),
		answered("merge", day, day, filepath.Join(d.folder, "later.scenario")), answered("merge", named, day, uncovered), may("merge", day, refused, named, "--ours", steeringName, "--path", steeringName), may("merge", day, steeringName, house),
		answered("explain"), answered("explain", "too-deep"), may("explain", steeringName), answered("schema"), may("schema", steeringName), answered("settings", day), answered("settings", named), may("settings", day, "--settings", settings), may("settings", steeringName), answered("facts"), answered("facts", "hyperfocal"), may("facts", steeringName),
		answered("rules", "show", day), answered("rules", "test", filepath.Join(d.folder, "house.rules")), may("rules", "show", steeringName), may("rules", "test", refused),
		may("rules", "learn", filepath.Join(d.folder, "day.choices")), answered("rules", "learn", chosen), may("rules", "learn", steeringName), may("compare", chosen, filepath.Join(d.folder, "day.choices")), answered("compare", chosen, chosen), may("compare", chosen, day), may("compare", chosen, chosen, chosen), may("check", filepath.Join(d.folder, "day.choices")),
		may("why", day, "--shot", shot, "--chose", lens, "--choices", filepath.Join(d.folder, "new.choices")), may("why", day, "--shot", shot, "--chose", steeringName), may("why", day, "--shot", shot, "--chose", lens, "--choices", filepath.Join(steeringName, "x")),
		answered("catalog", "list", "--catalog", house), answered("catalog", "show", lens, "--catalog", house), answered("catalog", "show", camera, "--catalog", house), may("catalog", "show", steeringName, "--catalog", house),
		answered("catalog", "doctor", day), answered("catalog", "doctor", day, "--lens", lens), answered("catalog", "doctor", "--catalog", house), may("catalog", "doctor", day, "--lens", steeringName),
		answered("catalog", "export", "--catalog", house), may("catalog", "export", "--kind", steeringName, "--catalog", house),
		may("catalog", "import", list, "--catalog", house), may("catalog", "import", list, "--dry-run", "--catalog", house), may("catalog", "import", titled, "--dry-run", "--catalog", house), answered("catalog", "import", goodList, "--catalog", house),
		answered("catalog", "import", goodList, "--dry-run", "--catalog", house), may("catalog", "import", goodList, "--column", steeringName+"=mass"), may("catalog", "import", goodList, "--set", "mount="+lang.Quote(steeringName)),
		may("catalog", "import", measured, "--find", "field", "--catalog", house), may("catalog", "import", measured, "--find", "field", "--dry-run", "--catalog", house), may("catalog", "import", measured, "--find", steeringName),
		may("begin", filepath.Join(d.folder, steeringName), "--lenses", list), may("begin", filepath.Join(d.folder, "new"), "--lenses", goodList, "--name", steeringName, "--script", filepath.Join(d.folder, "steering.fountain")),
		may("git-setup", steeringName), may(steeringName), may("help", steeringName), may("watch", day, "--port", steeringName), may("serve-editor", steeringName),
		answered("whatif", day), answered("whatif", uncovered), answered("whatif", framed), answered("whatif", named), may("whatif", refused), may("whatif", steeringName), may("whatif", day, "-o", filepath.Join(steeringName, "x.html")),
	}
	for _, kind := range []string{"lens", "camera", "mount", "rig", "filter"} {
		runs = append(runs, may("catalog", "new", kind, "--name", steeringName, "--catalog", house), may("catalog", "new", kind, "--name", "N"+hostileName, "--mount", hostileName, "--catalog", house))
	}
	for _, c := range calculations {
		runs = append(runs, may("reckon", c.name, "--focal", steeringName, "--sensor", steeringName), may("reckon", c.name, steeringName))
	}
	for _, shell := range []string{"bash", "fish", "powershell", "zsh"} {
		runs = append(runs, may("completion", shell, steeringName))
	}
	walked := map[string]bool{}
	verbs := leaves(Root(), "")
	for _, run := range runs {
		args, most := run[:len(run)-1], run[len(run)-1]
		for _, verb := range verbs {
			if strings.HasPrefix(strings.Join(args, " ")+" ", verb+" ") {
				walked[verb] = true
			}
		}
		shown := 0
		for _, form := range forms {
			code, out := soundRun(t, form, args...)
			if out != "" && code <= exitNo {
				shown++
			}
			if form == "text" && most == "0" && code > exitNo && args[0] != "whatif" { // which is a page in every case
				t.Errorf("%q ends with %d", args, code)
			}
		}
		if most == "0" && shown == 0 {
			t.Errorf("%q shows nothing in any form", args)
		}
	}
	for _, verb := range verbs {
		if !walked[verb] && !slices.Contains([]string{"help"}, verb) {
			t.Errorf("no run walks the verb %q", verb)
		}
	}
}

// Files of the language are refused when they hold what steers a terminal.
func TestTidyRefusesWhatSteers(t *testing.T) {
	d := hostileDay{t, t.TempDir()}
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(d.folder, "config"))
	for _, text := range []string{"scenario \"a\x1b[2Jb\" {\n}\n", "// \u202etxet\nscenario \"a\" {\n}\n"} {
		var out, complaint strings.Builder
		path := d.write("steering.scenario", text)
		if code := Main([]string{"tidy", path}, strings.NewReader(""), &out, &complaint); code != exitBadInput || !strings.Contains(complaint.String(), "a character stands here that is not shown") {
			t.Errorf("%q: ended with %d: %s", text, code, complaint.String())
		}
	}
}
