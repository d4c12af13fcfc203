package cmd

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"glassbrief/lang"
)

func TestShowRefusesAFormThatTheViewLacks(t *testing.T) {
	for _, form := range forms {
		a := newApp(nil, nil, nil)
		a.settings = &Settings{}
		a.form.value = form
		if err := a.show(view{}); err == nil {
			t.Errorf("%s: got no error, want one", form)
		}
	}
}

func TestWriteFileKeepsTheOldFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "kit.json")
	if err := os.WriteFile(path, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	boom := usage(lang.InternalFault, "boom")
	if err := writeFile(path, func(w io.Writer) error {
		if _, err := io.WriteString(w, "half"); err != nil {
			return err
		}
		return boom
	}); err == nil {
		t.Error("got no error, want that of the filler")
	}
	if got, _ := os.ReadFile(path); string(got) != "old" {
		t.Errorf("got %q after a failure, want the old text", got)
	}
	if err := writeFile(path, func(w io.Writer) error { _, err := io.WriteString(w, "new"); return err }); err != nil {
		t.Fatal(err)
	}
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); string(got) != "new" || info.Mode().Perm() != 0o600 {
		t.Errorf("got %q with mode %o, want \"new\" with mode 600", got, info.Mode().Perm())
	}
	if entries, _ := os.ReadDir(filepath.Dir(path)); len(entries) != 1 {
		t.Errorf("got %d files in the folder, want only the result", len(entries))
	}
}
