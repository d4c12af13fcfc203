package editor

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

// A real editor drives the real command through a session.
func TestNeovim(t *testing.T) {
	if _, err := exec.LookPath("nvim"); err != nil {
		langtest.Lacking(t, "Neovim")
	}
	folder := t.TempDir()
	program := built(t)
	untidy := `use demo

scenario "Night" {
  camera    "House body A"
  rig       "Short sled"
  carry 1 lenses
  bring     "Wide 18"
}

shot "1A" { // ä
  subject   person 1.7m
  frame     full
  distance  2m
  light     320lx
}

expect shot "1A" lens "Wide 18"
`
	file := filepath.Join(folder, "night.scenario")
	if err := os.WriteFile(file, []byte(untidy), 0o644); err != nil {
		t.Fatal(err)
	}
	driver, err := os.ReadFile("../../testdata/editors/session.lua")
	if err != nil {
		t.Fatal(err)
	}
	script := filepath.Join(folder, "session.lua")
	if err := os.WriteFile(script, driver, 0o644); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Abs("../../lang/editors/vim")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Minute)
	defer cancel()
	client := exec.CommandContext(ctx, "nvim", "--headless", "-u", "NONE", "-n", "--cmd", "set rtp^="+files,
		"--cmd", "filetype plugin on", file, "-c", "luafile "+script)
	client.Env = append(os.Environ(), "GLASSBRIEF="+program, "HOME="+folder, "XDG_CONFIG_HOME="+folder, "XDG_STATE_HOME="+folder, "XDG_CACHE_HOME="+folder)
	client.Dir = folder
	client.Stderr = os.Stderr
	output, err := client.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, output)
	}
	var got struct {
		Fault, Filetype, Hover       string
		Typed, Completion, Formatted []string
		Definition, Exit             int
		Fixed, Lens                  string
		Renamed                      []string
		Same                         bool
		SameLens                     bool `json:"same_lens"`
	}
	if err := json.Unmarshal(output, &got); err != nil {
		t.Fatalf("%v\n%s", err, output)
	}
	if got.Fault != "" {
		t.Fatalf("%s; it got %+v", got.Fault, got)
	}
	if got.Filetype != "glassbrief" {
		t.Errorf("the file type is %q", got.Filetype)
	}
	if want := []string{"12:12 missing-unit"}; !slices.Equal(got.Typed, want) {
		t.Errorf("got the findings %q, want %q", got.Typed, want)
	}
	for _, piece := range []string{"**Wide 18** lens", "On House body A at 18 mm: "} {
		if !strings.Contains(got.Hover, piece) {
			t.Errorf("the hover lacks %q: %s", piece, got.Hover)
		}
	}
	if !slices.Contains(got.Completion, "Normal 35") || slices.Contains(got.Completion, "Short sled") {
		t.Errorf("got the completions %q", got.Completion)
	}
	if got.Definition != 9 {
		t.Errorf("the shot is found on line %d, want 9", got.Definition)
	}
	if want := "  distance  1.6m..2.8m // ä"; got.Fixed != want {
		t.Errorf("the corrected line is %q, want %q", got.Fixed, want)
	}
	if !strings.HasPrefix(got.Lens, "Wide 18, f/") {
		t.Errorf("above the shot stands %q", got.Lens)
	}
	if want := []string{`shot "Zwölf" { // ä`, `expect shot "Zwölf" lens "Wide 18"`}; !slices.Equal(got.Renamed, want) || !got.Same || !got.SameLens {
		t.Errorf("renamed are %q, want %q; back the same text: %v, the same above the shot: %v", got.Renamed, want, got.Same, got.SameLens)
	}
	src, _ := lang.NewSource("night", []byte(untidy))
	if diff := cmp.Diff(strings.Split(strings.TrimSuffix(lang.Tidy(src), "\n"), "\n"), got.Formatted); diff != "" {
		t.Errorf("the formatted text differs (-want +got):\n%s", diff)
	}
	if got.Exit != 0 {
		t.Errorf("the server ends with %d", got.Exit)
	}
}
