// Command glassbrief says which lenses to bring for a scenario, and why.
package main

import (
	"os"
	"runtime/debug"

	"glassbrief/cmd"
)

func main() {
	// A run lasts some milliseconds and allocates a few megabytes: collecting them early
	// takes longer than the run itself. The limit keeps a large catalogue in bounds.
	debug.SetGCPercent(800)
	debug.SetMemoryLimit(256 << 20)
	os.Exit(cmd.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
