package editor

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/lang"
	"glassbrief/lang/langtest"

	"github.com/google/go-cmp/cmp"
)

// built gives the real command.
func built(t *testing.T) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "glassbrief")
	if output, err := exec.Command("go", "build", "-o", program, "../glassbrief").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, output)
	}
	return program
}

// A client library drives the real command: every correction takes its finding away and brings no other, and
// every rename and its way back leave the bytes, and what the margin says.
func TestClientLibrary(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil || exec.Command(node, "-e", "require('vscode-languageserver-protocol/node')").Run() != nil {
		langtest.Lacking(t, "node with vscode-languageserver-protocol")
	}
	type named struct {
		Name string `json:"name"`
		Text string `json:"text"`
	}
	type rename struct {
		File     string   `json:"file"`
		Position position `json:"position"`
		Name     string   `json:"name"`
		Was      string   `json:"was"`
	}
	input := struct {
		Faulty  []named           `json:"faulty"`
		House   map[string]string `json:"house"`
		Renames []rename          `json:"renames"`
	}{House: map[string]string{}}
	entries, err := filepath.Glob("../../testdata/errors/*")
	if err != nil || entries == nil {
		t.Fatal("no faulty texts", err)
	}
	for _, path := range entries {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for chunk := range strings.SplitSeq(string(text), "//======\n") {
			input.Faulty = append(input.Faulty, named{"faulty-" + filepath.Base(path), chunk})
		}
	}
	folder := t.TempDir()
	for _, name := range slices.Sorted(maps.Keys(house)) {
		text := bare(name)
		input.House[name] = text
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		d := newDocument("file:///"+name, "")
		d.set(text)
		for _, at := range marks(name) {
			m, _ := d.mentionAt(offsetOf(d.source, at))
			other := `Quite "another" \ näme`
			if m.kind == "fact" {
				other = "quite_another"
			}
			input.Renames = append(input.Renames, rename{name, at, other, m.name})
		}
	}
	given, err := json.Marshal(input)
	if err != nil {
		t.Fatal(err)
	}
	client := exec.CommandContext(t.Context(), node, "../../testdata/editors/session.js", folder)
	client.Env = append(os.Environ(), "GLASSBRIEF="+built(t), "XDG_CONFIG_HOME="+t.TempDir())
	client.Stdin, client.Stderr = bytes.NewReader(given), os.Stderr
	output, err := client.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, output)
	}
	var got struct {
		Fault, Cancelled string
		Capabilities     []string
		Fixes            []struct {
			Name, Title string
			Code        lang.Code
			Added       []string
			Gone        bool
		}
		Renames []struct {
			Was                     string
			Files                   int
			Same                    bool
			Before, Between, Behind []string
		}
		Exit int
	}
	if err := json.Unmarshal(output, &got); err != nil || got.Fault != "" {
		t.Fatalf("%v %s\n%.2000s", err, got.Fault, output)
	}
	codes := map[lang.Code]bool{}
	for _, fix := range got.Fixes {
		codes[fix.Code] = true
		if !fix.Gone || len(fix.Added) > 0 {
			t.Errorf("%s: %q of %s: gone: %v, added %q", fix.Name, fix.Title, fix.Code, fix.Gone, fix.Added)
		}
	}
	if len(got.Fixes) < 50 || len(codes) < 15 {
		t.Errorf("only %d corrections of %d codes were made", len(got.Fixes), len(codes))
	}
	if len(got.Renames) != len(input.Renames) {
		t.Errorf("%d names were renamed, want %d", len(got.Renames), len(input.Renames))
	}
	for _, r := range got.Renames {
		if !r.Same || r.Files == 0 {
			t.Errorf("%q and back: in %d files, the same bytes: %v", r.Was, r.Files, r.Same)
		}
		var between []string
		for _, line := range r.Between {
			between = append(between, strings.ReplaceAll(line, `Quite "another" \ näme`, r.Was))
		}
		if len(r.Before) == 0 || !cmp.Equal(r.Before, between) || !cmp.Equal(r.Before, r.Behind) {
			t.Errorf("%q: the margin was %q, then %q and %q", r.Was, r.Before, r.Between, r.Behind)
		}
	}
	if got.Cancelled != "cancelled" && got.Cancelled != "answered" {
		t.Errorf("what was taken back is %q", got.Cancelled)
	}
	if got.Exit != 0 {
		t.Errorf("the server ends with %d", got.Exit)
	}
}
