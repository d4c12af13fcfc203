package cmd

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

// Whatever a hostile or broken file holds, reading it gives a clear result within a second.
// Tidying, which reads it three times to be sure of what it writes, may take three.
func TestHostileFiles(t *testing.T) {
	const header = "use demo\nscenario \"Hostile\" {\n  camera \"House body A\"\n  rig \"Short sled\"\n}\nshot \"1A\" {\n  subject person 1.7m\n  frame medium\n  distance 2m\n"
	expression := func(text string) string { return header + "  need " + text + "\n}\n" }
	tests := []struct {
		name, text string
		want       string // on standard error
	}{
		{"a million open braces", strings.Repeat("{", 1_000_000), "the line holds 1000000 bytes"},
		{"a million blocks", strings.Repeat("a {\n", 1_000_000), "blocks are nested more than 32 deep"},
		{"a million brackets on lines of their own", strings.Repeat("(\n", 1_000_000), `"(" has no meaning here`},
		{"a million brackets in an expression", expression(strings.Repeat("(\n", 1_000_000)), "the expression holds"},
		{"signs without end", expression(strings.Repeat("-", 4000) + "1 > 0"), "nested more than 50 deep"},
		{"fifty megabytes of x", strings.Repeat("x", 50_000_000), "the file holds"},
		{"a hundred thousand statements without a meaning", strings.Repeat("a\n", 100_000), `"a" means nothing in this file`},
		{"one quote", `use "`, "this text has no closing quote"},
		{"NUL", "use \"a\x00b\"", "a NUL byte stands here"},
		{"invalid UTF-8", "use \"a\xff\"", "not valid UTF-8"},
		{"a picture", "\x89PNG\r\n\x1a\n\x00\x00", "not valid UTF-8"},
		{"steering a terminal", "use \"\x1b[2J\"\n\u202eevil", "\ufffd"},
		{"a name that leaves the tree", `use "../../../etc/passwd"`, "lies outside the folder of the scenario"},
		{"nothing", "", `this file has no "scenario"`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "hostile.scenario")
			if err := os.WriteFile(path, []byte(test.text), 0o644); err != nil {
				t.Fatal(err)
			}
			for verb, limit := range map[string]time.Duration{"recommend": time.Second, "check": time.Second, "tidy": 3 * time.Second} {
				code, stderr := runQuickly(t, limit, verb, path)
				if code != exitBadInput && code != exitFine || verb != "tidy" && (code != exitBadInput || !strings.Contains(stderr, test.want)) {
					t.Errorf("%s ends with %d and says\n%.2000s\nwant %d with %q", verb, code, stderr, exitBadInput, test.want)
				}
				if strings.ContainsAny(stderr, "\x1b\u202e") {
					t.Errorf("%s lets the file steer the terminal: %q", verb, stderr)
				}
			}
		})
	}
}

// runQuickly runs the command, which must not take more processor time than the limit or
// print more findings than are ever printed. The time on the wall says too much about what
// else the machine does.
func runQuickly(t *testing.T, limit time.Duration, args ...string) (code int, stderr string) {
	t.Helper()
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	var out, err bytes.Buffer
	took := langtest.Clock(langtest.Processor).Time(func() { code = Main(args, strings.NewReader(""), &out, &err) })
	if took > langtest.Allowed(limit) {
		t.Errorf("%s took %v, want at most %v", args[0], took, limit)
	}
	if n := strings.Count(err.String(), ": error: "); n > lang.MaxReported {
		t.Errorf("%s shows %d errors, want at most %d", args[0], n, lang.MaxReported)
	}
	return code, err.String()
}
