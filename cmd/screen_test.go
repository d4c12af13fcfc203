package cmd_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"glassbrief/cmd"
)

// The answer to the demo is one screen: at most 40 lines of 80 cells, the lenses in the first line,
// and each shot in one line.
func TestRecommendIsOneScreen(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	_, text := run(t, "recommend", "--width", "80", "../scenarios/night-ferry.scenario")
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) > 40 {
		t.Errorf("%d lines", len(lines))
	}
	says(t, lines[2], `^Bring Wide 18 and Normal 35 `)
	for _, shot := range []string{"1A", "2B", "3A", "4A", "5C", "6A", "7A", "8A", "9A"} {
		says(t, text, `^`+shot+` .* f/[0-9.]+ +[0-9.]+ +[0-9.]+ +([0-9.]+|inf) +[0-9]+ +([0-9]+|-) +[=/-]{12}  (good|fair|poor)$`)
	}
	says(t, text, `^! +4A +fair, in part: framing `)
	says(t, text, `^changes +2 changes of lens, before 2B and 8A; 2 adjustments: 20.5 minutes at\n +0.01 a minute$`)
	_, full := run(t, "recommend", "--full", "../scenarios/night-ferry.scenario")
	if strings.Count(full, "\n") < 150 {
		t.Errorf("--full has %d lines only", strings.Count(full, "\n"))
	}
}

// A house has the parts in its own order, and fewer rows.
func TestScreenOfTheHouse(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", folder)
	if err := os.CopyFS(folder, os.DirFS("../scenarios")); err != nil {
		t.Fatal(err)
	}
	write := func(settings string) string {
		if err := os.WriteFile(filepath.Join(folder, "glassbrief.yaml"), []byte(settings), 0o600); err != nil {
			t.Fatal(err)
		}
		var out, complaint bytes.Buffer
		if cmd.Main([]string{"recommend", filepath.Join(folder, "night-ferry.scenario")}, strings.NewReader(""), &out, &complaint) != 0 {
			return complaint.String()
		}
		return out.String()
	}
	text := write("screen: [set-ups, lenses]\nscreen_rows: 3\n")
	says(t, text, `(?s)^3A .*And 6 more.*^Wide 18 +2B`)
	if regexp.MustCompile(`(?m)^(4A|changes)`).MatchString(text) {
		t.Errorf("there is more than asked:\n%s", text)
	}
	says(t, write("screen: [lense]\n"), `does not take "lense"`)
	says(t, write("screen_rows: -1\n"), `-1 rows cannot be shown`)
}
