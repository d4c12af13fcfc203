package cmd_test

import (
	"os"
	"path/filepath"
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
			return nil
		},
	})
}
