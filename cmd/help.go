package cmd

import "github.com/spf13/cobra"

const helpTemplate = `{{.CommandPath}}: {{.Short}}
{{with .Example}}
{{.}}
{{end}}{{with .Long}}
{{.}}
{{end}}
{{.UsageString}}`

const usageTemplate = `Usage:
  {{if .HasAvailableSubCommands}}{{.CommandPath}} VERB [flags]{{else}}{{.UseLine}}{{end}}
{{if .HasAvailableSubCommands}}
Verbs:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}}  {{.Short}}{{end}}{{end}}
{{end}}{{if .HasAvailableLocalFlags}}
Flags:
{{.LocalFlags.FlagUsagesWrapped 80 | trimTrailingWhitespaces}}
{{end}}{{if .HasAvailableInheritedFlags}}
Flags of every verb:
{{.InheritedFlags.FlagUsagesWrapped 80 | trimTrailingWhitespaces}}
{{end}}
Exit code:
`

// dressHelp gives the tree of commands our own help: what it does, examples, the rest.
func dressHelp(root *cobra.Command) {
	root.SetHelpTemplate(helpTemplate)
	root.SetUsageTemplate(usageTemplate + exitMeanings() + "\n")
}

// help is the verb "help", which cobra would word itself.
func (a *app) help() *cobra.Command {
	return &cobra.Command{
		Use:   "help [VERB]",
		Short: "show what a verb does and takes",
		Example: `  glassbrief help reckon focus
  glassbrief reckon focus --help`,
		RunE: func(_ *cobra.Command, args []string) error {
			verb, rest, err := a.root.Find(args)
			if err != nil {
				return err
			}
			if len(rest) > 0 {
				return knownVerb(verb, rest)
			}
			return verb.Help()
		},
	}
}
