package cmd

import (
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"glassbrief/lang"

	"github.com/google/go-cmp/cmp"
)

func TestNumberJSON(t *testing.T) {
	tests := []struct {
		value float64
		want  string
	}{
		{0, "0"}, {1.0 / 3, "0.333333333"}, {17.258941923, "17.2589419"}, {-2.5, "-2.5"},
		{123456789012, "123456789000"}, {1e-9, "1e-9"},
		{math.NaN(), "null"}, {math.Inf(1), "null"}, {math.Inf(-1), "null"},
	}
	for _, test := range tests {
		got, err := json.Marshal(number(test.value))
		if err != nil || string(got) != test.want {
			t.Errorf("%g: got %s, %v, want %s", test.value, got, err, test.want)
		}
	}
}

func TestWriteCSV(t *testing.T) {
	type row struct {
		header
		Name  string `json:"name"`
		Focal number `json:"focal_mm"`
		Owned bool   `json:"owned"`
	}
	var b strings.Builder
	err := writeCSV(&b, []any{
		row{headerOf("list"), "Wide, \"18\"", 18, true},
		row{headerOf("list"), "=1+2", number(math.NaN()), false},
	})
	if err != nil {
		t.Fatal(err)
	}
	want := "schema,name,focal_mm,owned\n" +
		"glassbrief/list/1,\"Wide, \"\"18\"\"\",18,true\n" +
		"glassbrief/list/1,'=1+2,,false\n"
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("CSV differs (-want +got):\n%s", diff)
	}
	nested := struct {
		List []int `json:"list"`
	}{[]int{1}}
	if err := writeCSV(&b, []any{nested}); err == nil {
		t.Error("got no error for a list in a row, want one")
	}
}

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
