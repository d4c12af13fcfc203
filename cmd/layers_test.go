package cmd

import (
	"fmt"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

// layers says what each part of the tree may import of ours, the most special first. A
// part covers the folders below it.
var layers = []struct {
	part string
	may  []string
}{
	{"lang", []string{"lang"}},
	{"catalog", []string{"catalog", "lang"}},
	{"engine/optics", nil},
	{"engine/exposure", nil},
	{"engine/motion", nil},
	{"engine/balance", nil},
	{"engine/sun", nil},
	{"engine/people", nil},
	{"engine/framelist", nil},
	{"engine/days", nil},
	{"engine/facts", []string{"engine/people", "engine/optics", "engine/exposure", "engine/motion", "engine/balance", "lang"}},
	{"engine/rules", []string{"engine/facts", "engine/parallel", "lang"}},
	{"engine/setup", []string{"engine/rules", "engine/facts", "engine/exposure", "engine/optics"}},
	{"engine/plausible", []string{"catalog", "lang"}},
	{"engine/brief", []string{"engine/framelist", "engine/plausible", "engine/setup", "engine/rules", "engine/facts", "engine/kit", "engine/exposure", "engine/motion", "engine/optics", "engine/people", "engine/sun", "catalog", "lang"}},
	{"engine/kit", []string{"engine/parallel"}},
	{"engine", []string{"engine", "catalog", "lang"}},
	{"cmd/travel", []string{"cmd/wording", "engine", "lang"}},
	{"cmd/wording", []string{"engine", "catalog", "lang"}},
	{"cmd/show", []string{"engine", "lang"}},
	{"cmd/report", []string{"cmd/wording", "cmd/show", "engine", "catalog", "lang"}},
	{"cmd/editor", []string{"cmd/wording", "engine", "catalog", "lang"}},
	{"cmd/whatif/browser", []string{"cmd/whatif"}},
	{"cmd/lock", nil},
	{"cmd/whatif/program", []string{"cmd/lock"}},
	{"cmd/whatif", []string{"cmd/report", "cmd/travel", "cmd/wording", "engine", "lang"}},
	{"cmd/browsertest", nil},
	{"cmd/schema", nil},
	{"cmd/glassbrief", []string{"cmd"}},
	{"cmd", []string{"cmd", "engine", "catalog", "lang"}},
}

// edgeOnly lists the packages that only cmd and tests use: the rest is a library, and
// builds for a browser.
var edgeOnly = []string{"os", "os/exec", "github.com/spf13/viper", "github.com/spf13/cobra", "github.com/fatih/color"}

const module = "glassbrief"

// testHelpers is what tests of every layer may import.
const testHelpers = "lang/langtest"

// imported calls use with every import of a tree of Go files, in the order of each file, and with the line that
// it stands in.
func imported(tree fs.FS, use func(file, path string, line int)) error {
	return fs.WalkDir(tree, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && name != "." && (strings.HasPrefix(entry.Name(), ".") || entry.Name() == "testdata") {
			return fs.SkipDir
		}
		if path.Ext(name) != ".go" {
			return nil
		}
		text, err := fs.ReadFile(tree, name)
		if err != nil {
			return err
		}
		positions := token.NewFileSet()
		file, err := parser.ParseFile(positions, name, text, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, spec := range file.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			use(name, path, positions.Position(spec.Pos()).Line)
		}
		return nil
	})
}

// layerFaults lists the imports in a tree of Go files that no layer allows.
func layerFaults(tree fs.FS) (faults []string, err error) {
	err = imported(tree, func(file, path string, _ int) {
		if !mayImport(file, path) {
			faults = append(faults, fmt.Sprintf("%s imports %s", file, path))
		}
	})
	return faults, err
}

// groupOf gives the group of imports that a path belongs to: those of Go, ours, those of others.
func groupOf(path string) int {
	first, _, _ := strings.Cut(path, "/")
	switch {
	case first == module:
		return 1
	case strings.Contains(first, "."):
		return 2
	}
	return 0
}

// Imports of Go, ours and those of others stand in this order, each in one group, with an empty line between.
func TestImportsStandInGroups(t *testing.T) {
	file, group, line := "", 0, 0
	err := imported(os.DirFS(".."), func(name, path string, at int) {
		if now := groupOf(path); name == file && (now < group || (now == group) != (at == line+1)) {
			t.Errorf("%s:%d: %s stands in the wrong group of imports", name, at, path)
		}
		file, group, line = name, groupOf(path), at
	})
	if err != nil {
		t.Fatal(err)
	}
}

func mayImport(file, imported string) bool {
	// A test, or a file of a package that only tests import.
	test := strings.HasSuffix(file, "_test.go") || under(file, testHelpers)
	ours, isOurs := strings.CutPrefix(imported, module+"/")
	if !isOurs {
		return under(file, "cmd") || test || !slices.Contains(edgeOnly, imported)
	}
	if ours == testHelpers {
		return test || strings.HasSuffix(path.Dir(file), "test") // as engine/enginetest
	}
	for _, layer := range layers {
		if under(file, layer.part) {
			// A test may stand outside its package and then imports it, with what tests use. Those
			// of the facts look at what rules make of them.
			return test && (under(ours, layer.part) || under(file, "engine") && ours == "engine/enginetest" || under(file, "cmd") && ours == "cmd/browsertest" ||
				layer.part == "engine/facts" && ours == "engine/rules") || slices.ContainsFunc(layer.may, func(part string) bool { return under(ours, part) })
		}
	}
	return false
}

// under reports whether a path is a part of the tree or lies in it; "cmd/glassbrief"
// covers "cmd/glassbrief-man" too.
func under(name, part string) bool {
	return name == part || strings.HasPrefix(name, part+"/") || part == "cmd/glassbrief" && strings.HasPrefix(name, part)
}

func TestLayers(t *testing.T) {
	faults, err := layerFaults(os.DirFS(".."))
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range faults {
		t.Errorf("%s, and no layer allows that", fault)
	}
}

func TestLayerFaultsFindsWrongArrows(t *testing.T) {
	file := func(imports ...string) *fstest.MapFile {
		text := "package p\n"
		for _, imported := range imports {
			text += fmt.Sprintf("import %q\n", imported)
		}
		return &fstest.MapFile{Data: []byte(text)}
	}
	tree := fstest.MapFS{
		"lang/a.go":                file("fmt", "glassbrief/catalog"),
		"lang/a_test.go":           file("os", "glassbrief/lang", "glassbrief/engine"),
		"lang/expression/a.go":     file("glassbrief/lang"),
		"catalog/a.go":             file("glassbrief/lang", "glassbrief/engine/optics"),
		"engine/a.go":              file("glassbrief/engine/facts", "glassbrief/catalog", "glassbrief/cmd", "os"),
		"engine/optics/a.go":       file("math", "glassbrief/lang"),
		"engine/optics/a_test.go":  file("glassbrief/engine/optics", "glassbrief/lang/langtest"),
		"lang/langtest/a.go":       file("os", "testing"),
		"engine/facts/a.go":        file("glassbrief/engine/rules"),
		"engine/facts/a_test.go":   file("glassbrief/engine/rules"),
		"engine/b.go":              file("glassbrief/lang/langtest"),
		"engine/motion/a.go":       file("glassbrief/engine/optics"),
		"cmd/a.go":                 file("os", "glassbrief/engine"),
		"cmd/glassbrief/main.go":   file("os", "glassbrief/cmd"),
		"cmd/glassbrief-man/m.go":  file("glassbrief/engine"),
		"tools/a.go":               file("glassbrief/lang"),
		"testdata/ignored/bad.go":  file("glassbrief/cmd"),
		"lang/testdata/ignored.go": file("glassbrief/cmd"),
	}
	got, err := layerFaults(tree)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"catalog/a.go imports glassbrief/engine/optics",
		"cmd/glassbrief-man/m.go imports glassbrief/engine",
		"engine/a.go imports glassbrief/cmd",
		"engine/a.go imports os",
		"engine/b.go imports glassbrief/lang/langtest",
		"engine/facts/a.go imports glassbrief/engine/rules",
		"engine/motion/a.go imports glassbrief/engine/optics",
		"engine/optics/a.go imports glassbrief/lang",
		"lang/a.go imports glassbrief/catalog",
		"lang/a_test.go imports glassbrief/engine",
		"tools/a.go imports glassbrief/lang",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("faults differ (-want +got):\n%s", diff)
	}
}

// The top of the repository holds what the design names, dotfiles, and what git ignores.
func TestTopLevel(t *testing.T) {
	allowed := []string{"cmd", "lang", "engine", "catalog", "scenarios", "testdata", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}
	ignored, err := os.ReadFile("../.gitignore")
	if err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir("..")
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		name := entry.Name()
		if strings.HasPrefix(name, ".") || slices.Contains(allowed, name) {
			continue
		}
		if !slices.ContainsFunc(strings.Fields(string(ignored)), func(pattern string) bool {
			match, err := path.Match(strings.Trim(pattern, "/"), name)
			return err == nil && match
		}) {
			t.Errorf("%s stands at the top of the repository, where only %v do", name, allowed)
		}
	}
}
