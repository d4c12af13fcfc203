package cmd

import (
	"github.com/spf13/cobra"
)

// gitSetup is what "git-setup" prints: comments, and commands for a shell. A revision
// that cannot be parsed is shown as it is, since git gives up when a filter fails. Where
// glassbrief is missing or fails, git merges by lines, or a conflict would have no marks.
const gitSetup = `# For .gitattributes, which is committed:
#
#   *.scenario diff=glassbrief merge=glassbrief
#   *.catalog  diff=glassbrief merge=glassbrief
#   *.rules    diff=glassbrief merge=glassbrief
#   *.choices  diff=glassbrief merge=glassbrief
#
# For each clone, since git takes no commands from a repository:

git config diff.glassbrief.xfuncname '^([a-z].*[^ ]) *\{'
git config diff.glassbrief.textconv 'tidy() { glassbrief tidy "$1" 2>/dev/null || cat "$1"; }; tidy'
git config merge.glassbrief.name 'by shots, lenses and statements'
git config merge.glassbrief.driver 'glassbrief merge --write --path %P --marks %L --ours %X --theirs %Y %O %A %B; code=$?; if [ $code -gt 1 ]; then git merge-file --marker-size=%L %A %O %B; code=$?; fi; exit $code'
`

func (a *app) gitSetup() *cobra.Command {
	return &cobra.Command{
		Use:   "git-setup",
		Short: "print how to make git show and merge scenarios well",
		Long: `With it, git diff shows scenarios as tidy lays them out, so that layout alone is
no change, and names the shot, lens or criterion above each change; git merge
and git rebase join files as "merge" does. It prints commands for a shell and
changes nothing by itself.`,
		Example: `  glassbrief git-setup
  glassbrief git-setup | sh`,
		Args: noArguments,
		RunE: func(*cobra.Command, []string) error {
			return a.writeText(textWriter(gitSetup))
		},
	}
}
