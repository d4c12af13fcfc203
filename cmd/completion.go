package cmd

import (
	_ "embed"
	"io"

	"github.com/spf13/cobra"
)

// The scripts ask the program what to offer, which [offers] lists.
var (
	//go:embed shells/glassbrief.bash
	bashScript string
	//go:embed shells/glassbrief.fish
	fishScript string
	//go:embed shells/glassbrief.zsh
	zshScript string
)

// completion is the verb that prints a script for the user's shell.
func (a *app) completion() *cobra.Command {
	shells := []struct {
		name  string
		write func(io.Writer) error
	}{
		{"bash", textWriter(bashScript)},
		{"fish", textWriter(fishScript)},
		{"powershell", func(w io.Writer) error { return a.root.GenPowerShellCompletionWithDesc(w) }},
		{"zsh", textWriter(zshScript)},
	}
	c := group("completion", "print what lets a shell complete verbs, files and names",
		`It completes verbs, flags, files by their endings, and names: the shots, lenses
and cameras of the scenario that stands on the line, what a catalogue has, codes
and facts. A file with faults gives what can be read of it. The script for bash
needs no other package: source it in ~/.bashrc.`,
		`  glassbrief completion bash > ~/.glassbrief.bash
  glassbrief completion fish > ~/.config/fish/completions/glassbrief.fish
  glassbrief completion zsh > ~/.zfunc/_glassbrief`)
	for _, shell := range shells {
		c.AddCommand(&cobra.Command{
			Use: shell.name, Short: "the script for " + shell.name, Args: noArguments,
			RunE: func(*cobra.Command, []string) error { return a.writeText(shell.write) },
		})
	}
	return c
}
