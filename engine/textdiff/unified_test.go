package textdiff_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"glassbrief/engine/textdiff"
	"glassbrief/lang/langtest"

	"pgregory.net/rapid"
)

// texts draws two texts that have lines in common, of few different lines, so that many repeat.
func texts(t *rapid.T) (old, new string) {
	line := rapid.SampledFrom([]string{"\n", "}\n", "a\n", "b\n", "-- c\n", "+d\r\n", "e 1\n", "e 2\n", "e 3\n", "e 4\n"})
	lines := rapid.SliceOfN(line, 0, 40).Draw(t, "lines")
	changed := append([]string(nil), lines...)
	for range rapid.IntRange(0, 5).Draw(t, "edits") {
		at := rapid.IntRange(0, len(changed)).Draw(t, "at")
		to := min(len(changed), at+rapid.IntRange(0, 3).Draw(t, "taken out"))
		put := rapid.SliceOfN(line, 0, 3).Draw(t, "put in")
		changed = append(append(append([]string(nil), changed[:at]...), put...), changed[to:]...)
	}
	text := func(lines []string, label string) string {
		text := strings.Join(lines, "")
		if rapid.Bool().Draw(t, label) {
			text = strings.TrimSuffix(text, "\n")
		}
		return text
	}
	return text(lines, "old without an end"), text(changed, "new without an end")
}

// git is the judge of what a unified diff says.
func TestGitAppliesUnified(t *testing.T) {
	git, err := exec.LookPath("git")
	if err != nil {
		langtest.Lacking(t, "git")
	}
	folder := t.TempDir()
	run := func(t *rapid.T, input string, args ...string) {
		c := exec.Command(git, args...)
		c.Dir, c.Stdin = folder, strings.NewReader(input)
		// A setting of the machine may change line ends, and a folder above may be a repository.
		c.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_NOSYSTEM=1", "GIT_CEILING_DIRECTORIES="+filepath.Dir(folder))
		if out, err := c.CombinedOutput(); err != nil {
			t.Fatalf("git %q: %v\n%s\n%s", args, err, out, input)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		const files = 20 // in one run of git
		var patch strings.Builder
		var wanted []string
		for i := range files {
			old, new := texts(t)
			name := fmt.Sprintf("%d.scenario", i)
			text := textdiff.Unified("a/"+name, old, "b/"+name, new)
			if (text == "") != (old == new) {
				t.Fatalf("%q to %q gives %q", old, new, text)
			}
			patch.WriteString(text)
			wanted = append(wanted, new)
			if err := os.WriteFile(filepath.Join(folder, name), []byte(old), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if patch.Len() == 0 {
			return
		}
		run(t, patch.String(), "apply", "--whitespace=nowarn", "-")
		for i, want := range wanted {
			got, err := os.ReadFile(filepath.Join(folder, fmt.Sprintf("%d.scenario", i)))
			if err != nil || string(got) != want {
				t.Fatalf("git makes %q of it (%v), want %q", got, err, want)
			}
		}
	})
}

func TestUnifiedShowsThreeLinesAround(t *testing.T) {
	for _, test := range []struct{ name, old, new, want string }{
		{"in the middle", "1\n2\n3\n4\n5\n6\n7\n8\n9\n", "1\n2\n3\n4\nfive\n6\n7\n8\n9\n", "--- a\n+++ b\n@@ -2,7 +2,7 @@\n 2\n 3\n 4\n-5\n+five\n 6\n 7\n 8\n"},
		{"six lines between", "x\n1\n2\n3\n4\n5\n6\ny\n", "1\n2\n3\n4\n5\n6\n", "--- a\n+++ b\n@@ -1,8 +1,6 @@\n-x\n 1\n 2\n 3\n 4\n 5\n 6\n-y\n"},
		{"seven lines between", "x\n1\n2\n3\n4\n5\n6\n7\ny\n", "1\n2\n3\n4\n5\n6\n7\n",
			"--- a\n+++ b\n@@ -1,4 +1,3 @@\n-x\n 1\n 2\n 3\n@@ -6,4 +5,3 @@\n 5\n 6\n 7\n-y\n"},
		{"from nothing", "", "1\n", "--- a\n+++ b\n@@ -0,0 +1,1 @@\n+1\n"},
		{"an end is put behind the last line", "1", "1\n", "--- a\n+++ b\n@@ -1,1 +1,1 @@\n-1\n\\ No newline at end of file\n+1\n"},
		{"nothing", "1\n", "1\n", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := textdiff.Unified("a", test.old, "b", test.new); got != test.want {
				t.Errorf("got\n%s\nwant\n%s", got, test.want)
			}
		})
	}
}
