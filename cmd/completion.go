package cmd

import (
	"io"

	"github.com/spf13/cobra"
)

// completion is the verb that prints a script for the user's shell.
func (a *app) completion() *cobra.Command {
	shells := []struct {
		name  string
		write func(io.Writer) error
	}{
		{"bash", func(w io.Writer) error { return a.root.GenBashCompletionV2(w, true) }},
		{"fish", func(w io.Writer) error { return a.root.GenFishCompletion(w, true) }},
		{"powershell", func(w io.Writer) error { return a.root.GenPowerShellCompletionWithDesc(w) }},
		{"zsh", func(w io.Writer) error { return a.root.GenZshCompletion(w) }},
	}
	c := group("completion", "print a script that completes verbs and flags",
		"It completes verbs, flags and the values that a flag takes, in your shell.",
		`  glassbrief completion bash > /etc/bash_completion.d/glassbrief
  glassbrief completion fish > ~/.config/fish/completions/glassbrief.fish`)
	for _, shell := range shells {
		c.AddCommand(&cobra.Command{
			Use: shell.name, Short: "the script for " + shell.name, Args: noArguments,
			RunE: func(*cobra.Command, []string) error { return a.writeText(shell.write) },
		})
	}
	return c
}
