package cmd

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
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

// A run that was cut off leaves its claim, which is said with the way out.
func TestUpdateOfAClaimedFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kit.catalog")
	claim := filepath.Join(filepath.Dir(path), ".kit.catalog.new")
	for _, file := range []string{path, claim} {
		if err := os.WriteFile(file, []byte("old\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var err error
	synctest.Test(t, func(*testing.T) { // whose clock goes on at once while the update waits
		err = testApp().updateFile(path, appendLine("new"))
	})
	var ds lang.Diagnostics
	if !errors.As(err, &ds) || !strings.Contains(ds[0].Summary, "is being changed by another run") || !strings.Contains(ds[0].Detail, claim) {
		t.Errorf("got %v, want that another run is at it, and how to go on", err)
	}
	if text, err := os.ReadFile(path); err != nil || string(text) != "old\n" {
		t.Errorf("got %q, %v, want the old text", text, err)
	}
	if err := os.Remove(claim); err != nil {
		t.Fatal(err)
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
