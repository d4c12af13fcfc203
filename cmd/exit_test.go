package cmd

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"glassbrief/lang"

	"github.com/spf13/cobra"
)

func TestExitCodes(t *testing.T) {
	located := lang.Diagnostics{{Severity: lang.Error, Code: lang.BadNumber, Summary: "wrong"}}
	tests := []struct {
		name   string
		run    func() error
		code   int
		stderr string // a part of it; "" for silence
	}{
		{"fine", func() error { return nil }, 0, ""},
		{"no", func() error { return errNo }, 1, ""},
		{"no, with a reason around it", func() error { return fmt.Errorf("audit: %w", errNo) }, 1, ""},
		{"diagnostics", func() error { return located }, 2, "error: wrong\n"},
		{"diagnostics inside another error", func() error { return fmt.Errorf("reading: %w", located) }, 2, "error: wrong\n"},
		{"complaint", func() error { return usage(lang.UnknownName, "no %q", "x").because("Look.") }, 2, "error: no \"x\"\n  Look.\n"},
		{"any other error", func() error { return errors.New("disk full") }, 2, "error: disk full\n"},
		{"panic", func() error { panic("impossible") }, 3, "a fault of the program, not of your files: impossible\n"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var stdout, stderr strings.Builder
			a := newApp(nil, &stdout, &stderr)
			a.root.AddCommand(&cobra.Command{Use: "try", RunE: func(*cobra.Command, []string) error { return test.run() }})
			if got := a.run([]string{"try"}); got != test.code {
				t.Errorf("got exit code %d, want %d", got, test.code)
			}
			if got := stderr.String(); !strings.Contains(got, test.stderr) || test.stderr == "" && got != "" {
				t.Errorf("got %q on standard error, want %q in it", got, test.stderr)
			}
			if stdout.Len() > 0 {
				t.Errorf("got %q on standard output, want nothing", stdout.String())
			}
		})
	}
}

func TestFaultShowsItsPlaceWhenAsked(t *testing.T) {
	var stderr strings.Builder
	a := newApp(nil, nil, &stderr)
	a.root.AddCommand(&cobra.Command{Use: "try", RunE: func(*cobra.Command, []string) error { panic("impossible") }})
	a.run([]string{"try", "--verbose"})
	if !strings.Contains(stderr.String(), "exit_test.go") {
		t.Errorf("got %q, want the place of the panic in it", stderr.String())
	}
}
