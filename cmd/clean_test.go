package cmd

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"glassbrief/lang"
)

// hostileName is mark-up, a link, a formula and a command in one.
const hostileName = `=<b>[x](https://a.b) www.a.b x@a.b *_|#`

// Whatever names a brief and a catalogue have, what leaves steers no terminal, is no mark-up of
// Markdown or of a page, and no formula, in every form of every verb.
func TestHostileNamesLeaveAsText(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(folder, "config"))
	name := lang.Quote(hostileName)
	write := func(file, text string) string {
		path := filepath.Join(folder, file)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	write("house.catalog", strings.NewReplacer("NAME", name).Replace(`mount NAME {
  flange 20mm
}
camera NAME {
  mount NAME
  mode  NAME 36mm x 24mm
  iso   800
  iso_range 800..12800
  mass  1kg
}
rig NAME {
  payload 0.5kg..3kg
}
lens NAME {
  mount NAME
  focal 35mm
  aperture f/2..f/16
  about NAME
}
lens "Dark" {
  mount NAME
  focal 50mm
}
`))
	brief := write("day.scenario", strings.NewReplacer("NAME", name).Replace(`use "house.catalog"
scenario NAME {
  camera NAME
  rig NAME
  unit NAME
}
shot NAME NAME {
  subject person 1.7m
  frame full
  distance 2m..4m
  light 300lx
  need face_stretch < 1% because NAME
}
shot "far" {
  subject person 1.7m
  frame close
  distance 40m
  light 300lx
}
`))
	for _, args := range [][]string{
		{"recommend", brief}, {"recommend", brief, "--full"}, {"cards", brief}, {"cards", brief, "--full"}, {"audit", brief}, {"compare", brief, brief},
		{"why", brief, "--shot", "far", "--lens", hostileName}, {"check", brief}, {"catalog", "doctor", brief}, {"tidy", brief},
	} {
		for _, form := range []string{"text", "markdown", "csv", "html", "json"} {
			var out, complaint strings.Builder
			code := Main(append(args, "--as", form), strings.NewReader(""), &out, &complaint)
			if strings.Contains(complaint.String(), "has no form") || strings.Contains(complaint.String(), "no form") {
				continue
			}
			if code > exitNo {
				t.Errorf("%v --as %s ended with %d: %s", args[0], form, code, complaint.String())
				continue
			}
			text := out.String()
			for _, c := range text + complaint.String() {
				if lang.Steers(c) && c != '\n' {
					t.Errorf("%v --as %s lets %U out", args, form, c)
				}
			}
			bad := map[string][]string{
				"markdown": {"<b>", "](https:", "https://a", " www.a.b", "x@a.b"}, "csv": {"\n=", ",=", "\"=<"}, "html": {"<b>[x]", "href=\"http"},
			}[form]
			for _, bad := range bad {
				if strings.Contains(text, bad) {
					t.Errorf("%v --as %s holds %q", args, form, bad)
				}
			}
			if form == "json" && text != "" && !json.Valid([]byte(text)) {
				t.Errorf("%v: no JSON", args)
			}
		}
	}
	steering := write("steering.scenario", "scenario \"a\x1b[2Jb\" {\n}\n")
	turning := write("turning.scenario", "// \u202etxet\nscenario \"a\" {\n}\n")
	for _, path := range []string{steering, turning} {
		var out, complaint strings.Builder
		if code := Main([]string{"tidy", path}, strings.NewReader(""), &out, &complaint); code != exitBadInput || !strings.Contains(complaint.String(), "a character stands here that is not shown") {
			t.Errorf("%s: ended with %d: %s", path, code, complaint.String())
		}
	}
}
