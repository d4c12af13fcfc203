package cmd_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"glassbrief/cmd"
)

// columns are what a crew's list of lenses has as a rule: name, mount, focal length, widest stop,
// closest focus and mass; and whose a lens is, which the limits of the demos ask for.
var columns = []string{"mount", "focal", "aperture", "close_focus", "mass", "have", "squeeze", "projection"}

// cutDown writes a demo scenario into a folder with the lenses of its catalogues cut down to the
// columns of a list, and gives its path.
func cutDown(t *testing.T, name string) string {
	t.Helper()
	return copied(t, name, cutLenses)
}

// copied writes a demo scenario into a folder with its catalogues changed, and gives its path.
func copied(t *testing.T, name string, changed func(catalogue []byte) []byte) string {
	t.Helper()
	folder := t.TempDir()
	for _, file := range []string{"../catalog/demo.catalog", "../scenarios/orchard-hire.catalog", "../scenarios/house.rules", "../scenarios/" + name} {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(file, ".catalog") {
			text = changed(text)
		}
		text = bytes.Replace(text, []byte("use demo"), []byte(`use "demo.catalog"`), 1)
		text = regexp.MustCompile(`(?m)^ *script .*\n`).ReplaceAll(text, nil)
		if err := os.WriteFile(filepath.Join(folder, filepath.Base(file)), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(folder, name)
}

func cutLenses(text []byte) []byte {
	kept := ofLenses(text, func(keyword string) bool { return slices.Contains(columns, keyword) })
	return regexp.MustCompile(`(?m)^( *aperture .*)\.\.f/[0-9.]+`).ReplaceAll(kept, []byte("$1"))
}

// ofLenses leaves lines out of the lenses of a catalogue by their keywords.
func ofLenses(text []byte, keep func(keyword string) bool) []byte {
	var kept bytes.Buffer
	within := false
	for line := range bytes.Lines(text) {
		keyword, _, _ := strings.Cut(strings.TrimSpace(string(line)), " ")
		switch {
		case bytes.HasPrefix(line, []byte("lens ")):
			within = true
		case keyword == "}":
			within = false
		case within && !keep(keyword):
			continue
		}
		kept.Write(line)
	}
	return kept.Bytes()
}

func run(t *testing.T, args ...string) (code int, stdout string) {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	var out, complaint bytes.Buffer
	code = cmd.Main(args, strings.NewReader(""), &out, &complaint)
	if code > 1 {
		t.Fatalf("%v ended with %d: %s", args, code, complaint.String())
	}
	return code, out.String()
}

type figuresSaid struct {
	Kit     struct{ Lenses, Uncovered []string }
	Figures *struct {
		Count int
		Sure  bool
		Draws int
		Same  int `json:"same_kit"`
		Ask   []struct{ Of, Name, Figure string }
	}
}

func recommended(t *testing.T, scenario string) (said figuresSaid) {
	t.Helper()
	_, text := run(t, "recommend", "--as", "json", scenario)
	if err := json.Unmarshal([]byte(text), &said); err != nil {
		t.Fatal(err)
	}
	return said
}

// The ferry keeps its kit with its lenses cut down to what a list has, and says that it is sure.
func TestFerryOfSixColumns(t *testing.T) {
	whole, cut := recommended(t, "../scenarios/night-ferry.scenario"), recommended(t, cutDown(t, "night-ferry.scenario"))
	if !slices.Equal(whole.Kit.Lenses, cut.Kit.Lenses) || len(cut.Kit.Uncovered) > 0 {
		t.Errorf("got the kit %v, which leaves %v undone, want %v", cut.Kit.Lenses, cut.Kit.Uncovered, whole.Kit.Lenses)
	}
	if f := cut.Figures; f == nil || !f.Sure && f.Same != 400 || f.Count < 50 {
		t.Errorf("got %+v, want a sure kit on many assumed figures", f)
	}
	if f := whole.Figures; f == nil || !f.Sure {
		t.Errorf("with all that is known: got %+v, want a sure kit", f)
	}
}

// The orchard does not say that its kit is proven, and asks for figures of the zoom on which it
// rests.
func TestOrchardOfSixColumns(t *testing.T) {
	scenario := cutDown(t, "orchard.scenario")
	cut := recommended(t, scenario)
	f := cut.Figures
	if f == nil || f.Sure || f.Draws != 400 {
		t.Fatalf("got %+v, want a kit that is not sure", f)
	}
	var asked []string
	for _, q := range f.Ask[:5] {
		if q.Name == "Small zoom 12-35" {
			asked = append(asked, q.Figure)
		}
	}
	for _, want := range []string{"distortion", "transmission"} {
		if !slices.Contains(asked, want) {
			t.Errorf("of the zoom it asks for %v first, want %s among them", asked, want)
		}
	}
	_, text := run(t, "recommend", scenario)
	first, _, _ := strings.Cut(strings.SplitN(text, "\n\n", 3)[1], ".")
	if !regexp.MustCompile(`(?s)assumed\s+figures\s+bear\s+on\s+the\s+choice.*not\s+sure`).MatchString(first) {
		t.Errorf("the first sentence does not say that the plan rests on assumptions: %s", first)
	}
}

// Cards and audit say in their first sentence too what they rest on.
func TestFirstSentencesSayWhatIsAssumed(t *testing.T) {
	scenario := cutDown(t, "orchard.scenario")
	for _, verb := range []string{"cards", "audit"} {
		_, text := run(t, verb, scenario)
		first, _, _ := strings.Cut(strings.SplitN(text, "\n\n", 3)[1], ".")
		if !regexp.MustCompile(`(?s)\d+\s+assumed\s+figures\s+bear\s+on\s+this\s+kit`).MatchString(first) {
			t.Errorf("%s begins with %q", verb, first)
		}
	}
}
