package cmd

import (
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// mainJob lists the modules that the main job is built from, each with what imports it and what for. By is
// "" for what we import ourselves. Go builds and downloads them for the first command of README.md, and
// nothing else. What only tests or another program need does not belong here.
var mainJob = map[string]struct{ by, why string }{
	"github.com/alecthomas/participle/v2":  {"", "the grammar"},
	"github.com/expr-lang/expr":            {"", "expressions of rules and needs"},
	"github.com/fatih/color":               {"", "colours on a terminal"},
	"github.com/mattn/go-colorable":        {"github.com/fatih/color", "colours on old terminals"},
	"github.com/mattn/go-isatty":           {"github.com/fatih/color", "is it a terminal"},
	"github.com/fsnotify/fsnotify":         {"", "watch; viper imports it anyway"},
	"github.com/gofrs/flock":               {"", "two runs that write one file, as with -o"},
	"github.com/jedib0t/go-pretty/v6":      {"", "grids of text"},
	"github.com/mattn/go-runewidth":        {"", "columns that a character takes, in faults and grids"},
	"github.com/clipperhouse/uax29/v2":     {"github.com/mattn/go-runewidth", "characters of several code points"},
	"github.com/spf13/cobra":               {"", "verbs and flags"},
	"github.com/spf13/pflag":               {"", "flags"},
	"github.com/spf13/viper":               {"", "settings"},
	"github.com/go-viper/mapstructure/v2":  {"", "settings into a struct; viper imports it anyway"},
	"github.com/pelletier/go-toml/v2":      {"github.com/spf13/viper", "settings"},
	"github.com/sagikazarmark/locafero":    {"github.com/spf13/viper", "settings"},
	"github.com/sourcegraph/conc":          {"github.com/sagikazarmark/locafero", "settings"},
	"github.com/spf13/afero":               {"github.com/spf13/viper", "settings"},
	"github.com/spf13/cast":                {"github.com/spf13/viper", "settings"},
	"github.com/subosito/gotenv":           {"github.com/spf13/viper", "settings"},
	"go.yaml.in/yaml/v3":                   {"github.com/spf13/viper", "settings"},
	"golang.org/x/sys":                     {"golang.org/x/term", "the system's calls; ours open a pipe without waiting and exchange two names"},
	"golang.org/x/term":                    {"", "the width of a terminal"},
	"golang.org/x/text":                    {"", "currencies, encodings and normal forms"},
	"github.com/inconshreveable/mousetrap": {"github.com/spf13/cobra", "a start by a click on Windows, and only there"},
}

// onWindows is what the program is built from there alone.
var onWindows = []string{"github.com/inconshreveable/mousetrap"}

// goRun runs the go command at the top of the repository.
func goRun(t *testing.T, extra []string, args ...string) string {
	t.Helper()
	c := exec.CommandContext(t.Context(), "go", args...)
	var faults strings.Builder
	c.Dir, c.Env, c.Stderr = "..", append(os.Environ(), extra...), &faults
	out, err := c.Output()
	if err != nil {
		t.Fatalf("go %q: %v\n%s", args, err, &faults)
	}
	return strings.TrimSuffix(string(out), "\n")
}

// Each module has its row, and a row's module is imported by what the row says.
func TestModulesAreNeeded(t *testing.T) {
	for _, system := range []string{"linux", "darwin", "windows"} {
		t.Run(system, func(t *testing.T) {
			list := goRun(t, []string{"GOOS=" + system, "CGO_ENABLED=0"}, "list", "-deps", "-f", `{{if not .Standard}}{{.ImportPath}} {{.Module.Path}} {{join .Imports ","}}{{end}}`, "./cmd/glassbrief")
			of := map[string]string{} // the module of a package
			for line := range strings.Lines(list) {
				fields := strings.Fields(line)
				of[fields[0]] = strings.Replace(fields[1], module, "", 1)
			}
			type arrow struct{ by, to string }
			imports := map[arrow]bool{}
			for line := range strings.Lines(list) {
				if fields := strings.Fields(line); len(fields) == 3 {
					for imported := range strings.SplitSeq(fields[2], ",") {
						imports[arrow{of[fields[0]], of[imported]}] = true
					}
				}
			}
			got := slices.Sorted(maps.Values(of))
			got = slices.Compact(slices.DeleteFunc(got, func(path string) bool { return path == "" }))
			if diff := cmp.Diff(wanted(system), got); diff != "" {
				t.Errorf("the program is built from other modules than the table says (-table +program):\n%s", diff)
			}
			for _, path := range got {
				if by := mainJob[path].by; !imports[arrow{by, path}] {
					t.Errorf("%q does not import %s", by, path)
				}
			}
		})
	}
}

// wanted lists the modules that the program is built from on a system.
func wanted(system string) []string {
	return slices.DeleteFunc(slices.Sorted(maps.Keys(mainJob)), func(path string) bool {
		return system != "windows" && slices.Contains(onWindows, path)
	})
}

// The first command of README.md, begun with an empty cache of modules, downloads those that the main job
// needs and no other. The downloads come from the cache of this machine where it has them.
func TestFirstCommandDownloads(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	command := regexp.MustCompile(`(?m)^    go (run .*)$`).FindSubmatch(readme)
	if command == nil {
		t.Fatal("README.md has no command that runs the main job")
	}
	env := strings.Split(goRun(t, nil, "env", "GOMODCACHE", "GOPROXY", "GOOS", "GOFLAGS"), "\n")
	cache, proxy, system, flags := env[0], env[1], env[2], env[3]
	fresh := t.TempDir()
	out := goRun(t, []string{
		"GOMODCACHE=" + fresh, "GOPROXY=file://" + filepath.ToSlash(cache) + "/cache/download," + proxy,
		"GOFLAGS=" + flags + " -modcacherw -trimpath", // the cache can be removed, and its place does not have all compiled anew
	}, strings.Fields(string(command[1]))...)
	if !strings.Contains(out, "Bring ") {
		t.Errorf("it recommends nothing:\n%s", out)
	}
	downloads := filepath.Join(fresh, "cache", "download")
	var got []string
	err = filepath.WalkDir(downloads, func(name string, _ fs.DirEntry, err error) error {
		if filepath.Ext(name) == ".zip" {
			name, err := filepath.Rel(downloads, filepath.Dir(filepath.Dir(name)))
			got = append(got, filepath.ToSlash(name))
			return err
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if says := fmt.Sprintf("downloads the %d modules", len(wanted("linux"))); !strings.Contains(string(readme), says) {
		t.Errorf("README.md does not say that the command %s", says)
	}
	slices.Sort(got)
	if diff := cmp.Diff(wanted(system), got); diff != "" {
		t.Errorf("it downloads other modules than the main job needs (-needed +downloaded):\n%s", diff)
	}
}

// With a second module in a folder, "go test ./..." at the top would pass its tests by.
func TestOneModule(t *testing.T) {
	err := filepath.WalkDir("..", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && entry.Name() == ".git":
			return fs.SkipDir
		case entry.Name() == "go.mod" && filepath.Dir(name) != "..":
			t.Errorf("%s is a module of its own", name)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
