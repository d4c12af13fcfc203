package cmd

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"glassbrief/cmd/show"

	"github.com/jedib0t/go-pretty/v6/text"
)

func TestTextWidth(t *testing.T) {
	tests := []struct {
		name     string
		settings *Settings
		columns  string
		want     int
	}{
		{"no terminal", &Settings{}, "", 80},
		{"COLUMNS", &Settings{}, "120", 120},
		{"the setting above COLUMNS", &Settings{Width: 60}, "120", 60},
		{"COLUMNS that is no number", &Settings{}, "wide", 80},
		{"COLUMNS of zero", &Settings{}, "0", 80},
		{"COLUMNS too narrow for a table", &Settings{}, "3", show.MinWidth},
		{"before the settings are read", nil, "", 80},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Setenv("COLUMNS", test.columns)
			a := &app{settings: test.settings}
			if got := a.textWidth(io.Discard); got != test.want {
				t.Errorf("got %d, want %d", got, test.want)
			}
		})
	}
}

// No line that a verb words is wider than asked.
func TestTextHoldsInItsWidth(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	for _, schema := range schemas {
		if slices.Contains([]string{"diagnostics", "merge", "rules-learn"}, schema.name) { // the last two write a file of the language
			continue
		}
		for _, run := range schema.runs {
			for units, width := range map[string]int{"imperial": show.MinWidth, "metric": 80} {
				args := append(strings.Split(run, "|"), "--width", fmt.Sprint(width), "--units", units)
				var stdout, stderr bytes.Buffer
				if code := Main(args, strings.NewReader(""), &stdout, &stderr); code > 1 {
					t.Fatalf("%q ends with %d: %s", args, code, stderr.String())
				}
				for line := range strings.Lines(stdout.String()) {
					if cells := text.StringWidth(strings.TrimSuffix(line, "\n")); cells > width {
						t.Errorf("%q: a line has %d cells: %s", args, cells, line)
					}
				}
			}
		}
	}
}
