package show

import (
	"testing"

	"glassbrief/lang"
)

func TestWantsColour(t *testing.T) {
	tests := []struct {
		name     string
		mode     string
		env      map[string]string
		terminal bool
		want     bool
	}{
		{"a terminal", "auto", nil, true, true},
		{"no terminal", "auto", nil, false, false},
		{"a dumb terminal", "auto", map[string]string{"TERM": "dumb"}, true, false},
		{"CLICOLOR=0", "auto", map[string]string{"CLICOLOR": "0"}, true, false},
		{"CLICOLOR=1 is no force", "auto", map[string]string{"CLICOLOR": "1"}, false, false},
		{"CLICOLOR_FORCE without a terminal", "auto", map[string]string{"CLICOLOR_FORCE": "1"}, false, true},
		{"CLICOLOR_FORCE=0", "auto", map[string]string{"CLICOLOR_FORCE": "0"}, false, false},
		{"CLICOLOR_FORCE above CLICOLOR", "auto", map[string]string{"CLICOLOR_FORCE": "1", "CLICOLOR": "0"}, false, true},
		{"CLICOLOR_FORCE above a dumb terminal", "auto", map[string]string{"CLICOLOR_FORCE": "1", "TERM": "dumb"}, true, true},
		{"NO_COLOR above CLICOLOR_FORCE", "auto", map[string]string{"NO_COLOR": "1", "CLICOLOR_FORCE": "1"}, true, false},
		{"an empty NO_COLOR does not count", "auto", map[string]string{"NO_COLOR": ""}, true, true},
		{"always above NO_COLOR", "always", map[string]string{"NO_COLOR": "1"}, false, true},
		{"never above CLICOLOR_FORCE", "never", map[string]string{"CLICOLOR_FORCE": "1"}, true, false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got := WantsColour(test.mode, func(name string) string { return test.env[name] }, test.terminal)
			if got != test.want {
				t.Errorf("got %t, want %t", got, test.want)
			}
		})
	}
}

func TestPalettePaintsEveryRole(t *testing.T) {
	colours, plain := NewPalette(true), NewPalette(false)
	for role := lang.ErrorRole; role <= lang.MarginRole; role++ {
		if got := colours.Role(role, "x"); got == "x" {
			t.Errorf("role %d has no colour", role)
		}
		if got := plain.Role(role, "x"); got != "x" {
			t.Errorf("role %d: got %q without colour, want %q", role, got, "x")
		}
	}
	if got := colours.paint(NoTone, "x"); got != "x" {
		t.Errorf("got %q for no tone, want %q", got, "x")
	}
	if got := colours.paint(Good, ""); got != "" {
		t.Errorf("got %q for an empty text, want nothing", got)
	}
}
