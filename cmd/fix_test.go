package cmd

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A correction leaves the ends of lines as they are, and a file that begins with a byte-order mark can be
// written by every verb that changes files.
func TestFilesOfOtherSystems(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	path := filepath.Join(t.TempDir(), "night.scenario")
	right := strings.ReplaceAll("use demo\n\nscenario \"Night\" {\n  camera    \"House body A\"\n  rig       \"Short sled\"\n}\n\n"+
		"shot \"1A\" {\n  subject   person 1.7m\n  frame     medium\n  distance  2m\n}\n", "\n", "\r\n")
	wrong := "\ufeff" + strings.NewReplacer("\"Short sled\"", "Short sled", "medium\r", "medium;\r").Replace(right)
	for _, args := range [][]string{{"check", path, "--fix"}, {"tidy", "-w", path}} {
		if err := os.WriteFile(path, []byte(wrong), 0o644); err != nil {
			t.Fatal(err)
		}
		var out, complaint strings.Builder
		if code := Main(args, strings.NewReader(""), &out, &complaint); code != exitFine && args[0] == "check" || strings.Contains(complaint.String(), "cannot be written") {
			t.Errorf("%q ends with %d: %s", args, code, complaint.String())
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if args[0] == "check" && string(text) != right {
			t.Errorf("%q leaves %q, want %q", args, text, right)
		}
	}
}
