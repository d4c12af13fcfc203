package cmd

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/lang"
	"glassbrief/lang/codepage"
)

// Of each page the wrong text brings its code about and the right text no code at all, by the verbs that
// look at such a text.
func TestPagesOfCodes(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	for _, row := range lang.Codes() {
		page, ok := codepage.Of(row.Code)
		if !ok || page.Wrong == "" {
			if row.Code != lang.InternalFault { // which no text brings about
				t.Errorf("%s has no texts", row.Code)
			}
			continue
		}
		t.Run(string(row.Code), func(t *testing.T) {
			if got := codesIn(t, page.Kind, page.Wrong); !slices.Equal(got, []string{string(row.Code)}) {
				t.Errorf("the wrong text brings about %q", got)
			}
			if got := codesIn(t, page.Kind, page.Right); len(got) > 0 {
				t.Errorf("the right text brings about %q", got)
			}
		})
	}
}

// codesIn gives the codes, each once, that a text of a page brings about.
func codesIn(t *testing.T, kind, text string) (codes []string) {
	t.Helper()
	folder := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	plain := codepage.Whole("")
	args := []string{"check", filepath.Join(folder, "text.scenario"), "--as", "json"}
	if kind == "catalog" {
		args = append([]string{"catalog", "doctor"}, args[1:]...)
		write("text.catalog", text)
		text = "use \"text.catalog\"\n" + plain
	} else {
		said(t, "framing", write("plain.scenario", plain), "--as", "fdl", "-o", filepath.Join(folder, "unit.fdl")) // for a text to name
		text = codepage.Full(codepage.Whole(text))
	}
	write("text.scenario", text)
	var found struct {
		Diagnostics, Found []struct{ Code, File string } // of "check" and of "catalog doctor"
	}
	if err := json.Unmarshal([]byte(said(t, args...)), &found); err != nil {
		t.Fatal(err)
	}
	for _, d := range append(found.Diagnostics, found.Found...) {
		if filepath.Dir(d.File) == folder { // and not the demo
			codes = append(codes, d.Code)
		}
	}
	slices.Sort(codes)
	return slices.Compact(codes)
}

// said gives what a run prints on standard output.
func said(t *testing.T, args ...string) string {
	t.Helper()
	var out, complaint strings.Builder
	if code := Main(args, strings.NewReader(""), &out, &complaint); complaint.Len() > 0 {
		t.Fatalf("%q ends with %d: %s", args, code, complaint.String())
	}
	return out.String()
}
