package program

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
)

// engine is what the tests of a run share: built once, and then in the user's cache.
func engine(t *testing.T) *Program {
	t.Helper()
	p, err := Finder{Building: func() { t.Log("building the engine") }, Progress: func(int, int) {}}.Find(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestAFileThatIsNotWholeIsRefused(t *testing.T) {
	b := &built{hash: "abc", starter: []byte("start\n\x00"), packed: []byte("packed\nprogram")}
	file := b.file()
	got, err := open(file)
	if err != nil || got.hash != b.hash || !bytes.Equal(got.starter, b.starter) || !bytes.Equal(got.packed, b.packed) {
		t.Fatalf("open gives %+v, %v", got, err)
	}
	for i := range file {
		changed := slices.Clone(file)
		changed[i] ^= 1
		if _, err := open(changed); err == nil {
			t.Errorf("a file with byte %d changed is taken", i)
		}
		if _, err := open(file[:i]); err == nil {
			t.Errorf("a file of %d of %d bytes is taken", i, len(file))
		}
	}
}

// tree is the source of this module.
var tree = os.DirFS("../../..")

func TestHashIsOfAllThatTheEngineIsBuiltFrom(t *testing.T) {
	c, err := findChain(t.Context(), "../../..")
	if err != nil {
		t.Fatal(err)
	}
	const form = `{{if not .Standard}}{{$d := .Dir}}{{range .GoFiles}}{{$d}}/{{.}}
{{end}}{{range .EmbedFiles}}{{$d}}/{{.}}
{{end}}{{end}}`
	list, err := c.run(t.Context(), "../../..", nil, "list", "-deps", "-f", form, "./"+entry)
	if err != nil {
		t.Fatal(err)
	}
	root, err := filepath.Abs("../../..")
	if err != nil {
		t.Fatal(err)
	}
	read := &reads{FS: tree}
	if _, err := hashSource(read); err != nil {
		t.Fatal(err)
	}
	own := 0
	for _, name := range strings.Fields(list) {
		if name, ok := strings.CutPrefix(name, root+"/"); ok {
			if own++; !slices.Contains(read.names, name) {
				t.Errorf("%s is part of the engine and not of the hash", name)
			}
		}
	}
	if own < 100 {
		t.Errorf("only %d files are part of the engine", own)
	}
	for _, name := range read.names {
		if strings.HasPrefix(name, "cmd/whatif/program/") || strings.HasSuffix(name, "_test.go") || strings.HasSuffix(name, ".go") && folderOf(name) == "cmd" {
			t.Errorf("%s is part of the hash and not of the engine", name)
		}
	}
}

func folderOf(name string) string { return filepath.ToSlash(filepath.Dir(name)) }

// reads notes the names of the files that are read.
type reads struct {
	fs.FS
	names []string
}

func (r *reads) Open(name string) (fs.File, error) {
	r.names = append(r.names, name)
	return r.FS.Open(name)
}

func TestHashFollowsTheSource(t *testing.T) {
	files := func() fstest.MapFS {
		return fstest.MapFS{
			"go.mod": {Data: []byte("module glassbrief\n")}, "go.sum": {},
			entry + "/main.go":       {Data: []byte(`import "glassbrief/lang"`)},
			"lang/lang.go":           {Data: []byte("import (\n\t_ \"embed\"\n\t\"glassbrief/lang/deep\"\n)")},
			"lang/lang_test.go":      {Data: []byte("a test")},
			"lang/texts/words.txt":   {Data: []byte("embedded")},
			"lang/testdata/case.txt": {Data: []byte("of a test")},
			"lang/deep/deep.go":      {Data: []byte("deep")},
			"lang/other/other.go":    {Data: []byte("not imported")},
		}
	}
	before, err := hashSource(files())
	if err != nil {
		t.Fatal(err)
	}
	for name, follows := range map[string]bool{
		"go.mod": true, "go.sum": true, entry + "/main.go": true, "lang/lang.go": true, "lang/texts/words.txt": true, "lang/deep/deep.go": true,
		"lang/lang_test.go": false, "lang/testdata/case.txt": false, "lang/other/other.go": false,
	} {
		changed := files()
		changed[name].Data = append(changed[name].Data, ' ')
		after, err := hashSource(changed)
		if err != nil {
			t.Fatal(err)
		}
		if (after != before) != follows {
			t.Errorf("the hash follows a change of %s: %t, want %t", name, after != before, follows)
		}
	}
}

func TestCacheBuildsOnceAndAnewWhatIsBroken(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", home)
	t.Setenv("HOME", home) // where the cache of other systems is
	var builds atomic.Int32
	build := func(string) (*built, error) {
		builds.Add(1)
		return &built{hash: "h", starter: []byte("s"), packed: []byte("p")}, nil
	}
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			if p, err := cached(t.Context(), "key", build); err != nil || p.Hash != "h" || p.Starter != "s" || p.Text != "cA==" {
				t.Errorf("the cache gives %+v, %v", p, err)
			}
		})
	}
	all.Wait()
	if n := builds.Load(); n != 1 {
		t.Errorf("eight runs at once build %d times, want once", n)
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(cache, "glassbrief", "engine-key")
	for _, broken := range []string{"", "half"} {
		if err := os.WriteFile(name, []byte(broken), 0o644); err != nil {
			t.Fatal(err)
		}
		before := builds.Load()
		if p, err := cached(t.Context(), "key", build); err != nil || p.Hash != "h" || builds.Load() != before+1 {
			t.Errorf("a broken file gives %+v, %v after %d builds, want one", p, err, builds.Load()-before)
		}
	}
	failure := errors.New("no build")
	if _, err := cached(t.Context(), "other", func(string) (*built, error) { return nil, failure }); !errors.Is(err, failure) {
		t.Errorf("a build that fails gives %v", err)
	}
	for _, key := range []string{"a", "b", "c", "d", "e"} {
		if _, err := cached(t.Context(), key, build); err != nil {
			t.Fatal(err)
		}
	}
	if left := cacheOf(t); len(left) != kept {
		t.Errorf("the cache keeps %v, want %d engines", left, kept)
	}
}

// cacheOf lists all that the cache folder holds.
func cacheOf(t *testing.T) (names []string) {
	t.Helper()
	cache, err := os.UserCacheDir()
	if err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(filepath.Join(cache, "glassbrief"))
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range entries {
		names = append(names, entry.Name())
	}
	return names
}

// A run that is killed leaves the folder that Go builds in, a file that is half written and its lock. The
// next one that builds clears them away, and leaves the engine alone.
func TestCacheClearsAwayWhatWasCutOff(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", home)
	t.Setenv("HOME", home)
	cache, err := os.UserCacheDir()
	if err != nil {
		t.Fatal(err)
	}
	folder := filepath.Join(cache, "glassbrief")
	if err := os.MkdirAll(filepath.Join(folder, "building-1"), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"building-1/engine.wasm", ".engine-key-1.tmp", "engine-key.lock", "lock"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte("left"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	_, err = cached(t.Context(), "key", func(within string) (*built, error) {
		if within != folder {
			t.Errorf("it builds in %s, want %s", within, folder)
		}
		if left := cacheOf(t); !slices.Equal(left, []string{"lock"}) {
			t.Errorf("while it builds, the cache holds %v", left)
		}
		return &built{hash: "h", starter: []byte("s"), packed: []byte("p")}, nil
	})
	if left := cacheOf(t); err != nil || !slices.Equal(left, []string{"engine-key"}) {
		t.Errorf("the cache holds %v (%v), want the engine alone", left, err)
	}
}

func TestWithoutGoAndCacheItSaysSo(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	_, err := Finder{Building: func() { t.Error("it says that it builds") }}.Find(t.Context())
	var missing *Missing
	if !errors.As(err, &missing) || missing.Why != "this program has no engine for pages within, and there is no Go to build one" {
		t.Errorf("without Go it says %v", err)
	}
}

func TestAFailingGoIsHeard(t *testing.T) {
	folder := t.TempDir()
	tool := filepath.Join(folder, "go")
	if err := os.WriteFile(tool, []byte("#!/bin/sh\necho 'no space left' >&2\nexit 1\n"), 0o755); err != nil {
		t.Fatal(err)
	}
	_, err := chain{tool: tool}.run(t.Context(), folder, nil, "build")
	if err == nil || !strings.Contains(err.Error(), "no space left") {
		t.Errorf("a Go that fails gives %v", err)
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := (chain{tool: tool}).run(ctx, folder, nil, "build"); err == nil {
		t.Error("a run that is stopped gives no error")
	}
}

// What the environment says of builds must not reach the engine.
func TestEnvironmentIsClean(t *testing.T) {
	t.Setenv("GOFLAGS", "-tags=other")
	t.Setenv("GOOS", "plan9")
	t.Setenv("GODEBUG", "panicnil=1")
	t.Setenv("GOPROXY", "off")
	c, err := findChain(t.Context(), "../../..")
	if err != nil {
		t.Fatal(err)
	}
	out, err := c.run(t.Context(), "../../..", nil, "env", "GOFLAGS", "GOOS", "GOARCH", "GODEBUG", "GOPROXY")
	if err != nil {
		t.Fatal(err)
	}
	if want := "-mod=readonly\njs\nwasm\n\noff\n"; out != want {
		t.Errorf("Go sees %q, want %q", out, want)
	}
}

// A release embeds the bytes that anybody can build.
func TestEngineIsTheSameFromAnotherFolder(t *testing.T) {
	p := engine(t)
	other := t.TempDir()
	read := &reads{FS: tree}
	if _, err := hashSource(read); err != nil {
		t.Fatal(err)
	}
	for _, name := range read.names {
		info, err := fs.Stat(tree, name)
		if err != nil {
			t.Fatal(err)
		}
		if info.IsDir() {
			continue
		}
		text, err := fs.ReadFile(tree, name)
		if err == nil {
			if err = os.MkdirAll(filepath.Join(other, filepath.Dir(name)), 0o755); err == nil {
				err = os.WriteFile(filepath.Join(other, name), text, 0o644)
			}
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	c, err := findChain(t.Context(), other)
	if err != nil {
		t.Fatal(err)
	}
	wasm, err := c.compile(t.Context(), other, t.TempDir(), func(int, int) {})
	if err != nil {
		t.Fatal(err)
	}
	if got := sumOf(wasm); got != p.Hash {
		t.Errorf("built in another folder the engine is %s, and here %s", got, p.Hash)
	}
	got := unpacked(t, p.Text)[0]
	if !bytes.Equal(got, wasm) {
		t.Error("the engine of a page is unpacked to another program")
	}
}

// What a browser does not need would only make the page larger.
func TestEngineHoldsNothingOfTheCommand(t *testing.T) {
	command := exec.CommandContext(t.Context(), "go", "list", "-deps", "./"+entry)
	command.Dir, command.Env = "../../..", environment()
	list, err := command.Output()
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Fields(string(list))
	if !slices.Contains(all, module+"/"+entry) {
		t.Fatal("the list of packages lacks the engine itself")
	}
	for _, not := range []string{"os/exec", "net/http", "testing", "github.com/spf13/cobra", "github.com/spf13/viper", "github.com/gofrs/flock", module + "/cmd", module + "/cmd/whatif/program", module + "/catalog/sheet"} {
		if slices.Contains(all, not) {
			t.Errorf("the engine holds %s", not)
		}
	}
}
