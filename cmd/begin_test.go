package cmd

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A file that comes to stand in the way at the last moment stays as it is, and nothing is left
// beside it.
func TestBeginWritesAllOrNothing(t *testing.T) {
	const scenario = "use demo\nscenario \"Kiln\" {\n  camera \"House body A\"\n  rig \"Short sled\"\n}\nshot \"1\" {\n  subject person 1.7m\n  frame medium\n  distance 2m\n}\n"
	for _, taken := range []string{"kiln.scenario", "house.catalog", "glassbrief.yaml"} {
		folder := t.TempDir()
		if err := os.WriteFile(filepath.Join(folder, taken), []byte("mine"), 0o644); err != nil {
			t.Fatal(err)
		}
		b := &beginning{app: newApp(strings.NewReader(""), io.Discard, io.Discard), folder: folder}
		err := b.place([]newFile{{"kiln.scenario", scenario}, {"house.catalog", ""}, {"glassbrief.yaml", ""}}, nil)
		if err == nil || !strings.Contains(diagnosticsOf(err)[0].Summary, taken+`" is there already`) {
			t.Errorf("%s: got %v, want it said that it is there", taken, err)
		}
		entries, _ := os.ReadDir(folder)
		text, _ := os.ReadFile(filepath.Join(folder, taken))
		if len(entries) != 1 || string(text) != "mine" {
			t.Errorf("%s: got %v with %q, want that file alone as it was", taken, entries, text)
		}
	}
}

// A scenario that cannot be read is not written.
func TestBeginProvesWhatItWrites(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	b := &beginning{app: newApp(strings.NewReader(""), io.Discard, io.Discard), folder: folder}
	if err := b.place([]newFile{{"kiln.scenario", "scenario"}, {"house.catalog", ""}}, nil); err == nil {
		t.Error("got no error for a scenario that cannot be read")
	}
	if entries, _ := os.ReadDir(filepath.Dir(folder)); len(entries) != 0 {
		t.Errorf("got %v, want nothing written", entries)
	}
}
