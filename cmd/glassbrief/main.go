// Command glassbrief says which lenses to bring for a scenario, and why.
package main

import (
	"os"

	"glassbrief/cmd"
)

func main() { os.Exit(cmd.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
