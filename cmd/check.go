package cmd

import (
	"slices"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// check is the verb that looks at scenarios without printing a recommendation. It says
// nothing when all is well, which suits a hook that runs before a commit.
func (a *app) check() *cobra.Command {
	return &cobra.Command{
		Use:   "check SCENARIO...",
		Short: "whether scenarios hold with their expectations and script",
		Long: `Reads each scenario with all that it names, and reports every fault in one run.
A scene that the script lacks is a fault; a heading that has changed, a scene
without a shot and light that its setting makes improbable are warnings. Then it
works out the recommendation and compares it with the "expect" statements. It
prints nothing when all is well; it ends with 2 when a file has faults, and with
1 when an expectation does not hold.`,
		Example: `  glassbrief check night-ferry.scenario orchard.scenario
  glassbrief check *.scenario --as json`,
		Args:              someFiles,
		ValidArgsFunction: completeScenarios,
		RunE: func(c *cobra.Command, args []string) error {
			var faults, broken lang.Diagnostics
			for _, path := range args {
				a.settings = nil // each file may have settings beside it
				s, err := a.loadWithScript(path)
				if err != nil {
					faults = append(faults, diagnosticsOf(err)...)
					continue
				}
				found, err := engine.CheckExpectations(c.Context(), s)
				if err != nil {
					return err
				}
				broken = append(broken, found...)
			}
			if faults.HasErrors() {
				return append(faults, broken...)
			}
			if broken != nil {
				a.report(broken)
				return errNo
			}
			return nil
		},
	}
}

// loadWithScript reads a scenario and holds it against its script.
func (a *app) loadWithScript(path string) (scenario *brief.Scenario, err error) {
	err = a.withFiles(path, func(src *lang.Source, files brief.Files) (err error) {
		if scenario, err = a.loadFrom(src, files); err != nil {
			return err
		}
		found := brief.CheckScript(scenario, files)
		if len(found) > 0 && !found.HasErrors() {
			a.report(found)
		}
		return found.Err()
	})
	return scenario, err
}

// someFiles is for verbs that take one file or more.
func someFiles(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return usage(lang.MissingValue, "%q lacks the files", c.CommandPath()).
			because("Name at least one, as in: %s night-ferry.scenario; - reads standard input.", c.CommandPath())
	}
	if slices.Contains(args, "-") && len(args) > 1 {
		return usage(lang.ExtraValue, "%q takes standard input alone", c.CommandPath()).
			because("Leave out either \"-\" or the other files.")
	}
	return nil
}
