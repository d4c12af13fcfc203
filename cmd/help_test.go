package cmd

import (
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/catalog/sheet"
	"glassbrief/lang"
	"glassbrief/lang/expression"

	"github.com/mattn/go-runewidth"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// eachVerb visits the whole tree of commands.
func eachVerb(c *cobra.Command, visit func(*cobra.Command)) {
	visit(c)
	for _, verb := range c.Commands() {
		eachVerb(verb, visit)
	}
}

func TestHelpOfEveryVerb(t *testing.T) {
	eachVerb(Root(), func(c *cobra.Command) {
		t.Run(c.CommandPath(), func(t *testing.T) {
			var help strings.Builder
			c.SetOut(&help)
			if err := c.Help(); err != nil {
				t.Fatal(err)
			}
			if c.Short == "" || strings.HasSuffix(c.Short, ".") || c.Short[:1] != strings.ToLower(c.Short[:1]) {
				t.Errorf("the short help %q is not a phrase in lower case", c.Short)
			}
			if !strings.Contains(help.String(), exitMeanings()) {
				t.Errorf("the help does not say what exit codes mean")
			}
			for _, line := range strings.Split(help.String(), "\n") {
				if runewidth.StringWidth(line) > 80 {
					t.Errorf("the line does not fit 80 cells: %s", line)
				}
			}
			c.LocalFlags().VisitAll(func(f *pflag.Flag) {
				if f.Usage == "" || strings.HasSuffix(f.Usage, ".") {
					t.Errorf("the help of --%s is %q, want a phrase", f.Name, f.Usage)
				}
			})
		})
	})
}

// Each topic is a page that says all that its table has, within 80 cells, and as a page of the manual.
func TestTopics(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	wants := map[string][]string{"bugs": {"--version"}}
	for code, row := range exitCodes {
		wants["exit-codes"] = append(wants["exit-codes"], fmt.Sprint(code), strings.Fields(row.means)[0])
	}
	for _, dim := range lang.Dimensions() {
		wants["units"] = append(append(wants["units"], lang.UnitNames(dim)...), lang.UnitAliases(dim)...)
	}
	for _, function := range expression.Functions() {
		wants["rules"] = append(wants["rules"], function.Signature())
	}
	wants["rules"] = append(wants["rules"], factNames()...)
	wants["codes"] = codeNames()
	for _, heading := range sheet.Headings() {
		first, _, _ := strings.Cut(heading.Titles[len(heading.Titles)-1], ",")
		wants["languages"] = append(wants["languages"], heading.Keyword, first)
	}
	manual, err := Manual()
	if err != nil {
		t.Fatal(err)
	}
	for _, topic := range topics {
		if wants[topic.name] == nil {
			t.Errorf("nothing is asked of the topic %q", topic.name)
		}
		shown := said(t, "help", topic.name)
		page, _, err := manual.Find([]string{"help", topic.name})
		if err != nil || page.Short != topic.short {
			t.Fatalf("the manual has no %q: %v", topic.name, err)
		}
		for where, text := range map[string]string{"help": shown, "manual": page.Long} {
			for _, want := range wants[topic.name] {
				if !strings.Contains(text, want) {
					t.Errorf("%s of %q does not say %q", where, topic.name, want)
				}
			}
			for line := range strings.Lines(text) {
				if runewidth.StringWidth(strings.TrimSuffix(line, "\n")) > 80 {
					t.Errorf("%s of %q: the line does not fit 80 cells: %s", where, topic.name, line)
				}
			}
		}
	}
	if root := said(t, "--help"); !strings.Contains(root, "\n  exit-codes   what the exit code says\n") {
		t.Errorf("the help lists no topics:\n%s", root)
	}
	var stderr strings.Builder
	if code := Main([]string{"help", "exit-code"}, nil, io.Discard, &stderr); code != exitBadInput || !strings.Contains(stderr.String(), `Did you mean "exit-codes"?`) {
		t.Errorf("got %d and %q, want a suggestion", code, stderr.String())
	}
}

// The examples of the help are commands that work, in a folder with the demo's files.
func TestExamplesRun(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(filepath.Join("..", "scenarios"))); err != nil {
		t.Fatal(err)
	}
	for _, side := range []string{"base", "mine", "hers"} { // of what two people changed, in the examples
		for from, kind := range map[string]string{"night-ferry.scenario": ".scenario", "house.rules": ".rules"} {
			text, err := os.ReadFile(filepath.Join(folder, from))
			if err == nil {
				err = os.WriteFile(filepath.Join(folder, side+kind), text, 0o600)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	t.Chdir(folder)
	commit(t)
	count := 0
	eachVerb(Root(), func(c *cobra.Command) {
		if c.Name() == "watch" {
			return // it goes on until it is told to end
		}
		example := strings.ReplaceAll(c.Example, "\\\n", " ")
		for _, line := range strings.Split(example, "\n") {
			args := shellWords(strings.TrimSpace(line))
			if len(args) == 0 || args[0] != "glassbrief" {
				continue
			}
			count++
			var stderr strings.Builder
			if code := Main(args[1:], strings.NewReader(""), io.Discard, &stderr); code > exitNo {
				t.Errorf("%s\ngot exit code %d, want at most %d: %s", line, code, exitNo, stderr.String())
			}
		}
	})
	if count < 15 {
		t.Errorf("got %d examples, want at least 15", count)
	}
}

// commit makes a repository of the working folder, for examples that name revisions.
func commit(t *testing.T) {
	t.Helper()
	t.Setenv("GIT_CONFIG_GLOBAL", os.DevNull)
	for _, args := range [][]string{
		{"init", "-q", "-b", "main"}, {"add", "."},
		{"-c", "user.name=test", "-c", "user.email=test@example.invalid", "commit", "-q", "-m", "all"},
	} {
		if output, err := exec.Command("git", args...).CombinedOutput(); err != nil {
			t.Fatalf("git %v: %v\n%s", args, err, output)
		}
	}
}

// shellWords cuts a command as a shell does, as far as the examples need it, with the
// names of files filled in, up to where its output is sent to a file or a pipe.
func shellWords(line string) []string {
	var words []string
	quoted := false
	for _, field := range strings.FieldsFunc(line, func(c rune) bool {
		if c == '"' {
			quoted = !quoted
		}
		return c == ' ' && !quoted
	}) {
		if field == ">" || field == "|" {
			break
		}
		if matches, err := filepath.Glob(field); err == nil && strings.Contains(field, "*") {
			words = append(words, matches...)
			continue
		}
		words = append(words, strings.ReplaceAll(field, `"`, ""))
	}
	return words
}

func TestEveryReckonFlagIsUsed(t *testing.T) {
	used := map[string]bool{}
	for _, c := range calculations {
		for _, name := range slices.Concat(c.needs, c.takes) {
			used[name] = true
			if _, ok := reckonFlags[name]; !ok {
				t.Errorf("%s takes --%s, which the table of flags lacks", c.name, name)
			}
		}
	}
	for name := range reckonFlags {
		if !used[name] {
			t.Errorf("no calculation takes --%s", name)
		}
	}
}
