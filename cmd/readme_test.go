package cmd_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The files of the language that README.md shows are tidy, and the scenario and the rules hold as they stand.
func TestReadmeExamples(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	verbs := map[string][][]string{
		"use.scenario":      {{"tidy", "--list"}, {"check", "--strict"}},
		"scenario.scenario": {{"tidy", "--list"}}, // a part of a file
		"criterion.rules":   {{"tidy", "--list"}, {"rules", "show"}},
	}
	for i, block := range strings.Split(string(readme), "\n```\n") {
		first, _, _ := strings.Cut(block, " ")
		for name, all := range verbs {
			if i%2 == 0 || !strings.HasPrefix(name, first+".") {
				continue
			}
			delete(verbs, name)
			path := filepath.Join(t.TempDir(), name)
			if err := os.WriteFile(path, []byte(block+"\n"), 0o600); err != nil {
				t.Fatal(err)
			}
			for _, verb := range all {
				if code, out := run(t, append(verb, path)...); code != 0 {
					t.Errorf("%q ends with %d for\n%s\n%s", verb, code, block, out)
				}
			}
		}
	}
	for name := range verbs {
		t.Errorf("README.md shows no %s", name)
	}
}
