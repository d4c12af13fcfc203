package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWriteGivesThePagesOfEveryVerb(t *testing.T) {
	t.Setenv("SOURCE_DATE_EPOCH", "1796083200")
	dir := filepath.Join(t.TempDir(), "new", "man1")
	if err := write(dir); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"glassbrief.1", "glassbrief-reckon.1", "glassbrief-reckon-focus.1", "glassbrief-help-units.1"} {
		page, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Error(err)
			continue
		}
		for _, want := range []string{`"Dec 2026" "glassbrief"`, ".SH SYNOPSIS", "--as"} {
			if !strings.Contains(string(page), want) {
				t.Errorf("%s has no %q", name, want)
			}
		}
	}
}
