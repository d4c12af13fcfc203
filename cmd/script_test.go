package cmd_test

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"glassbrief/cmd"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"glassbrief": func() { os.Exit(cmd.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// Each script runs the command as a user does; with GLASSBRIEF_UPDATE=1 what the
// scripts compare is rewritten.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("..", "testdata", "script"),
		UpdateScripts:       os.Getenv("GLASSBRIEF_UPDATE") != "",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			// No settings, no terminal and no colour wishes of whoever runs the tests.
			env.Setenv("XDG_CONFIG_HOME", filepath.Join(env.WorkDir, "config"))
			// Cards bear the same day for ever.
			env.Setenv("SOURCE_DATE_EPOCH", "1795651200")
			// The race detector would keep each of many short runs for a second at its end.
			env.Setenv("GORACE", "atexit_sleep_ms=0")
			demo, err := filepath.Abs(filepath.Join("..", "scenarios"))
			env.Setenv("DEMO", demo)
			return err
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"exits": exits, "answers": answers},
	})
}

// exits runs a command that must end with an exit code: "exits 2 glassbrief reckn".
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND ...")
	}
	code := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		code = exit.ExitCode()
	}
	if want := args[0]; strconv.Itoa(code) != want {
		ts.Fatalf("got exit code %d, want %s", code, want)
	}
}

// answers runs a command that must have an answer, yes or no: "answers glassbrief recommend FILE".
func answers(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: answers COMMAND ...")
	}
	var exit *exec.ExitError
	if err := ts.Exec(args[0], args[1:]...); err != nil && (!errors.As(err, &exit) || exit.ExitCode() != 1) {
		ts.Fatalf("%v", err)
	}
}
