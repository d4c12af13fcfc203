package cmd

import (
	"io"
	"testing"

	"glassbrief/cmd/show"
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
