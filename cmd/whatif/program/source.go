package program

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

const (
	module = "glassbrief"
	entry  = "cmd/whatif/browser" // the folder of the program for browsers
)

// sourceFolder finds the source of this program: the module that the working folder is in, or that of
// the file which this function was compiled from, unless its path was trimmed.
func sourceFolder() (string, bool) {
	if folder, ok := moduleAbove("."); ok {
		return folder, true
	}
	if _, file, _, ok := runtime.Caller(0); ok && filepath.IsAbs(file) {
		return moduleAbove(filepath.Dir(file))
	}
	return "", false
}

// moduleAbove gives the folder of this module that a folder is in.
func moduleAbove(folder string) (string, bool) {
	at, err := filepath.Abs(folder)
	if err != nil {
		return "", false
	}
	for {
		text, err := os.ReadFile(filepath.Join(at, "go.mod"))
		if err == nil {
			first, _, _ := strings.Cut(string(text), "\n")
			_, missing := os.Stat(filepath.Join(at, filepath.FromSlash(entry)))
			return at, strings.TrimSpace(first) == "module "+module && missing == nil
		}
		if filepath.Dir(at) == at {
			return "", false
		}
		at = filepath.Dir(at)
	}
}

// hashSource gives a hash of all of this module that the program for browsers may be built from: the
// packages that it imports, with what they embed, and the versions of those of others.
func hashSource(tree fs.FS) (string, error) {
	seen := map[string]bool{entry: true}
	files := []string{"go.mod", "go.sum"}
	for open := []string{entry}; len(open) > 0; open = open[1:] {
		own, imports, err := packageFiles(tree, open[0])
		if err != nil {
			return "", err
		}
		files = append(files, own...)
		for _, next := range imports {
			if !seen[next] {
				seen[next] = true
				open = append(open, next)
			}
		}
	}
	slices.Sort(files)
	sum := sha256.New()
	for _, name := range files {
		text, err := fs.ReadFile(tree, name)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(sum, "%s %d\n", name, len(text))
		sum.Write(text)
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// packageFiles lists the files of a package but its tests, those of folders below that are no packages
// and thus may be embedded, and the packages of this module that its texts name in quotes: all that it
// imports, and hardly more.
func packageFiles(tree fs.FS, folder string) (files, imports []string, err error) {
	err = fs.WalkDir(tree, folder, func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() {
			if name != folder && (entry.Name() == "testdata" || isPackage(tree, name)) {
				return fs.SkipDir
			}
			return nil
		}
		if strings.HasSuffix(name, "_test.go") {
			return nil
		}
		files = append(files, name)
		if path.Ext(name) != ".go" {
			return nil
		}
		text, err := fs.ReadFile(tree, name)
		for {
			var quoted bool
			if _, text, quoted = bytes.Cut(text, []byte(`"`+module+"/")); !quoted {
				return err
			}
			imported, _, _ := bytes.Cut(text, []byte(`"`))
			if name := string(imported); fs.ValidPath(name) && isPackage(tree, name) {
				imports = append(imports, name)
			}
		}
	})
	return files, imports, err
}

func isPackage(tree fs.FS, folder string) bool {
	entries, err := fs.ReadDir(tree, folder)
	return err == nil && slices.ContainsFunc(entries, func(e fs.DirEntry) bool {
		return path.Ext(e.Name()) == ".go" && !strings.HasSuffix(e.Name(), "_test.go")
	})
}
