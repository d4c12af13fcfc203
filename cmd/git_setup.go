package cmd

import (
	"github.com/spf13/cobra"
)

// gitSetup is what "git-setup" prints: comments, and commands for a shell. A revision
// that cannot be parsed is shown as it is, since git gives up when a filter fails.
const gitSetup = `# For .gitattributes, which is committed:
#
#   *.scenario diff=glassbrief
#   *.catalog  diff=glassbrief
#   *.rules    diff=glassbrief
#   *.choices  diff=glassbrief
#
# For each clone, since git takes no commands from a repository:

git config diff.glassbrief.xfuncname '^([a-z].*[^ ]) *\{'
git config diff.glassbrief.textconv 'tidy() { glassbrief tidy "$1" 2>/dev/null || cat "$1"; }; tidy'
`

func (a *app) gitSetup() *cobra.Command {
	return &cobra.Command{
		Use:   "git-setup",
		Short: "print how to make git show changes of a scenario well",
		Long: `With it, git diff shows scenarios as tidy lays them out, so that layout alone is
no change, and names the shot, lens or criterion above each change. It prints
commands for a shell and changes nothing by itself.`,
		Example: `  glassbrief git-setup
  glassbrief git-setup | sh`,
		Args: noArguments,
		RunE: func(*cobra.Command, []string) error {
			return a.writeText(textWriter(gitSetup))
		},
	}
}
