package cmd

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/synctest"

	"glassbrief/lang"
)

// testApp is a run of the command that says nothing.
func testApp() *app { return newApp(strings.NewReader(""), io.Discard, io.Discard) }

func appendLine(line string) func(*lang.Source) (string, error) {
	return func(old *lang.Source) (string, error) {
		if old == nil {
			return line + "\n", nil
		}
		return old.Text + line + "\n", nil
	}
}

// Every one of many writers at once must find its line in the file, or be told that it is
// not there.
func TestWritersAtOnceLoseNothing(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kit.catalog")
	const writers = 12
	errs := make([]error, writers)
	var group sync.WaitGroup
	for i := range writers {
		group.Go(func() { errs[i] = testApp().updateFile(path, appendLine(fmt.Sprintf("line %d.", i))) })
	}
	group.Wait()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for i, err := range errs {
		if has := strings.Contains(string(text), fmt.Sprintf("line %d.\n", i)); has != (err == nil) {
			t.Errorf("writer %d: got its line %v and the error %v", i, has, err)
		}
	}
	entries, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	if len(entries) != 1 {
		t.Errorf("got %v, want the file alone", entries)
	}
}

// A file that another run is changing is left alone, and the run is named. What a run left that was cut
// off is no hindrance, and goes.
func TestUpdateOfALockedFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kit.catalog")
	if err := os.WriteFile(path, []byte("old\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	release, err := hold(path)
	if err != nil {
		t.Fatal(err)
	}
	synctest.Test(t, func(*testing.T) { // whose clock goes on at once while the update waits
		err = testApp().updateFile(path, appendLine("new"))
	})
	var ds lang.Diagnostics
	if !errors.As(err, &ds) || !strings.Contains(ds[0].Summary, fmt.Sprintf("is being changed by another run, process %d, since ", os.Getpid())) {
		t.Errorf("got %v, want that another run is at it, and which", err)
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "old\n" {
		t.Errorf("got %q, %v, want the old text", text, err)
	}
	release()
	for _, left := range []string{".kit.catalog.lock", ".kit.catalog-123.tmp"} {
		if err := os.WriteFile(filepath.Join(filepath.Dir(path), left), []byte("1 12:00:00"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := testApp().updateFile(path, appendLine("new")); err != nil {
		t.Error(err)
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "old\nnew\n" {
		t.Errorf("got %q, %v, want both lines", text, err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("got mode %v, %v, want that of the old file", info.Mode(), err)
	}
	if entries, err := os.ReadDir(filepath.Dir(path)); err != nil || len(entries) != 1 {
		t.Errorf("got %v, %v, want the file alone", entries, err)
	}
}

// Whatever an editor saves while the file is tidied again and again is there at the end: a tidy text
// never takes the place of one that it was not made from.
func TestSavesOfAnEditorAreKept(t *testing.T) {
	const saves = 201
	for name, save := range map[string]func(path, text string) error{
		"under a new name": func(path, text string) error {
			return errors.Join(os.WriteFile(path+"~", []byte(text), 0o644), os.Rename(path+"~", path))
		},
		"in place": func(path, text string) error { return os.WriteFile(path, []byte(text), 0o644) },
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "kit.catalog")
			text := func(n int) string { return fmt.Sprintf("// save %d\nmount   \"M\" {\nflange 20mm\n}\n", n) }
			if err := save(path, text(0)); err != nil {
				t.Fatal(err)
			}
			done := make(chan struct{})
			var group sync.WaitGroup
			var runs atomic.Int64
			group.Go(func() {
				for {
					select {
					case <-done:
						return
					default: // a half-written file cannot be tidied, and is left alone
						_ = Main([]string{"tidy", "-w", path}, strings.NewReader(""), io.Discard, io.Discard)
						runs.Add(1)
					}
				}
			})
			for n := 1; n <= saves; n++ {
				if err := save(path, text(n)); err != nil {
					t.Fatal(err)
				}
				if n%2 == 0 {
					continue // saves that follow each other at once
				}
				for before := runs.Load(); runs.Load() < before+2; {
					runtime.Gosched() // a run that was under way is done, and one behind it
				}
				if got, err := os.ReadFile(path); err != nil || !strings.HasPrefix(string(got), fmt.Sprintf("// save %d\n", n)) {
					t.Fatalf("save %d is lost: %q, %v", n, got, err)
				}
			}
			close(done)
			group.Wait()
		})
	}
}

// No result takes the place of what the run reads.
func TestInputsAreNotOverwritten(t *testing.T) {
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS("../scenarios")); err != nil {
		t.Fatal(err)
	}
	scenario, list := filepath.Join(folder, "night-ferry.scenario"), filepath.Join(folder, "hire-list.csv")
	other := filepath.Join(folder, "other.scenario")
	if err := os.Link(scenario, other); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{
		{"recommend", scenario, "-o", scenario}, {"recommend", scenario, "-o", other, "--as", "json"},
		{"cards", filepath.Join(folder, "orchard.scenario"), "-o", filepath.Join(folder, "orchard-hire.catalog"), "--as", "text"},
		{"catalog", "import", list, "-o", list, "--mount", "Deep bayonet"}, {"tidy", scenario, "-o", scenario},
		{"recommend", scenario, "--settings", filepath.Join(folder, "s.yaml"), "-o", filepath.Join(folder, "s.yaml"), "--as", "text"},
	} {
		if err := os.WriteFile(filepath.Join(folder, "s.yaml"), []byte("units: metric\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		target := args[len(args)-1]
		for i := range args {
			if args[i] == "-o" {
				target = args[i+1]
			}
		}
		before, err := os.ReadFile(target)
		if err != nil {
			t.Fatal(err)
		}
		var complaint strings.Builder
		code := Main(args, strings.NewReader(""), io.Discard, &complaint)
		if after, err := os.ReadFile(target); err != nil || string(after) != string(before) {
			t.Errorf("%v wrote over its input", args)
		}
		if code != exitBadInput || !strings.Contains(complaint.String(), "is read by this run") && !strings.Contains(complaint.String(), "does not take") {
			t.Errorf("%v ended with %d: %s", args, code, complaint.String())
		}
	}
}

// What cannot be written for want of room is no fault of the input.
func TestFullDisk(t *testing.T) {
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip("there is no device that is always full")
	}
	var complaint strings.Builder
	if code := Main([]string{"facts", "-o", "/dev/full"}, strings.NewReader(""), io.Discard, &complaint); code != exitFault || !strings.Contains(complaint.String(), "no space left") {
		t.Errorf("ended with %d: %s", code, complaint.String())
	}
}

// Whatever fails, the old file stays and no other is left.
func TestFailedWritesLeaveTheOldFile(t *testing.T) {
	boom := errors.New("boom")
	for _, c := range []struct {
		what string
		do   func(path string) error
	}{
		{"a change that fails", func(path string) error {
			return testApp().updateFile(path, func(*lang.Source) (string, error) { return "half", boom })
		}},
		{"a result that fails half-way", func(path string) error {
			return writeFile(path, func(w io.Writer) error {
				_, err := io.WriteString(w, "half")
				return errors.Join(err, boom)
			})
		}},
		{"a read-only file", func(path string) error {
			return errors.Join(os.Chmod(path, 0o444), writeFile(path, func(io.Writer) error { return nil }))
		}},
		{"a read-only file to change", func(path string) error {
			return errors.Join(os.Chmod(path, 0o444), testApp().updateFile(path, appendLine("new")))
		}},
	} {
		path := filepath.Join(t.TempDir(), "kit.catalog")
		if err := os.WriteFile(path, []byte("old\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := c.do(path); err == nil {
			t.Errorf("%s: got no error", c.what)
		}
		if text, err := os.ReadFile(path); err != nil || string(text) != "old\n" {
			t.Errorf("%s: got %q, %v, want the old text", c.what, text, err)
		}
		if entries, err := os.ReadDir(filepath.Dir(path)); err != nil || len(entries) != 1 {
			t.Errorf("%s: got %v, %v, want the file alone", c.what, entries, err)
		}
	}
}

// A link stays a link, a device is written to, a folder is refused.
func TestWriteFollowsWhatThePathIs(t *testing.T) {
	folder := t.TempDir()
	target, link := filepath.Join(folder, "target"), filepath.Join(folder, "link")
	if err := os.WriteFile(target, []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(target, link); err != nil {
		t.Skip(err)
	}
	hello := func(w io.Writer) error {
		_, err := io.WriteString(w, "hello")
		return err
	}
	if err := writeFile(link, hello); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link has become %v, %v", info.Mode(), err)
	}
	if text, err := os.ReadFile(target); err != nil || string(text) != "hello" {
		t.Errorf("got %q, %v, want the new text where the link leads", text, err)
	}
	if err := writeFile(os.DevNull, hello); err != nil {
		t.Errorf("%s: %v", os.DevNull, err)
	}
	if info, err := os.Stat(os.DevNull); err != nil || info.Mode().IsRegular() {
		t.Errorf("%s has become a file", os.DevNull)
	}
	if err := writeFile(folder, hello); err == nil || !strings.Contains(err.Error(), "folder") {
		t.Errorf("a folder: got %v", err)
	}
}
