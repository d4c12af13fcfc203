package cmd

import (
	"fmt"

	"github.com/spf13/cobra"
)

const helpTemplate = `{{.CommandPath}}: {{.Short}}
{{with .Example}}
{{.}}
{{end}}{{with .Long}}
{{.}}
{{end}}
{{.UsageString}}`

// usageTemplate takes the topics and the exit codes.
const usageTemplate = `Usage:
  {{if .HasAvailableSubCommands}}{{.CommandPath}} VERB [flags]{{else}}{{.UseLine}}{{end}}
{{if .HasAvailableSubCommands}}
Verbs:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name .NamePadding}}  {{.Short}}{{end}}{{end}}
{{end}}{{if not .HasParent}}
Topics of help:
%s{{end}}{{if .HasAvailableLocalFlags}}
Flags:
{{.LocalFlags.FlagUsagesWrapped 80 | trimTrailingWhitespaces}}
{{end}}{{if .HasAvailableInheritedFlags}}
Flags of every verb:
{{.InheritedFlags.FlagUsagesWrapped 80 | trimTrailingWhitespaces}}
{{end}}
Exit code:
%s
`

// dressHelp gives the tree of commands our own help: what it does, examples, the rest.
func dressHelp(root *cobra.Command) {
	root.SetHelpTemplate(helpTemplate)
	root.SetUsageTemplate(fmt.Sprintf(usageTemplate, topicLines(), exitMeanings()))
}

// help is the verb "help", which cobra would word itself.
func (a *app) help() *cobra.Command {
	return &cobra.Command{
		Use:   "help [VERB | TOPIC]",
		Short: "show what a verb does and takes, or a topic",
		Example: `  glassbrief help reckon focus
  glassbrief reckon focus --help
  glassbrief help units`,
		RunE: func(_ *cobra.Command, args []string) error {
			verb, rest, err := a.root.Find(args)
			if err != nil {
				return err
			}
			asked := topicOf(args)
			if len(rest) > 0 && asked == nil {
				return noVerb(verb, rest[0], topicNames())
			}
			if len(rest) == 0 {
				if err := verb.Help(); err != nil || asked == nil {
					return err
				}
				fmt.Fprintln(a.stdout)
			}
			if err := a.loadSettings(""); err != nil {
				return err
			}
			return a.show(view{page: asked.page})
		},
	}
}
