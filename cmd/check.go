package cmd

import (
	"context"
	"io"
	"path/filepath"
	"slices"

	"glassbrief/cmd/travel"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/schedule"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// checkData is what "check" says to programs.
type checkData struct {
	travel.Header
	Holds       bool             `json:"holds"`
	Fixed       []fixData        `json:"fixed"`
	Diagnostics lang.Diagnostics `json:"diagnostics"`
}

// check is the verb that looks at scenarios without printing a recommendation. It says
// nothing when all is well, which suits a hook that runs before a commit.
func (a *app) check() *cobra.Command {
	strict, fix := false, false
	c := &cobra.Command{
		Use:   "check FILE...",
		Short: "whether scenarios hold with their expectations and script",
		Long: `Reads each scenario with all that it names, and reports every fault in one run.
A scene that the script lacks is a fault; a heading that has changed, a scene
without a shot and light that its setting makes improbable are warnings. Then it
works out the recommendation and compares it with the "expect" statements, and
names the shots that cannot all be done at the times that they are given. It
prints nothing when all is well; it ends with 2 when a file has faults, and with
1 when an expectation does not hold or times contradict each other, or with
--strict when there is a warning. A file of choices is read with the scenarios
that it names; a choice of a lens that a veto or a limit excludes is a warning.
With --as json it always prints one document, with all that was found.

With --fix it first corrects what is only spelt otherwise than the language
spells it, in the scenario and in the catalogues and rules of its folder, and
prints each correction. Whatever takes a decision, such as a name that is not
known, stays as it is and is reported.`,
		Example: `  glassbrief check night-ferry.scenario orchard.scenario
  glassbrief check *.scenario --strict
  glassbrief check night-ferry.scenario --fix
  glassbrief check *.scenario --as json`,
		Args: someFiles,
		RunE: func(c *cobra.Command, args []string) error {
			if a.form.value != "text" && a.form.value != "json" {
				return a.noForm()
			}
			var fixed []fixData
			if fix {
				if slices.Contains(args, "-") {
					return usage(lang.Contradiction, "standard input cannot be corrected").because("Leave --fix out, or name a file.")
				}
				var err error
				if fixed, err = a.fix(args); err != nil {
					return err
				}
				if a.form.value == "text" {
					if err := a.write(func(w io.Writer) error { return sayFixed(w, fixed) }); err != nil {
						return err
					}
				}
			}
			var found lang.Diagnostics
			a.heard = &found
			defer func() { a.heard = nil }()
			faulty, broken := a.checkFiles(c.Context(), args)
			warned := strict && len(found) > 0
			answer := error(nil)
			switch {
			case faulty:
				answer = errBad
			case broken || warned:
				answer = errNo
			}
			if a.form.value == "json" {
				data := checkData{travel.HeaderOf("check"), answer == nil, append([]fixData{}, fixed...), append(lang.Diagnostics{}, found.Sorted()...)}
				if err := a.show(view{data: data}); err != nil {
					return err
				}
			}
			return answer
		},
	}
	c.Flags().BoolVar(&fix, "fix", false, "correct what is only spelt otherwise, then check")
	c.Flags().BoolVar(&strict, "strict", false, "end with 1 when there is a warning")
	return c
}

// checkFiles reports what is wrong with the files: whether any is faulty, and whether an
// expectation of any is broken or times of its shots contradict each other.
func (a *app) checkFiles(ctx context.Context, paths []string) (faulty, broken bool) {
	var faults, unmet lang.Diagnostics
	for _, path := range paths {
		a.settings = nil // each file may have settings beside it
		var found lang.Diagnostics
		var err error
		if filepath.Ext(path) == choicesExtension {
			_, err = a.study(ctx, []string{path})
		} else {
			found, err = a.checkScenario(ctx, path)
		}
		if err != nil {
			faults = append(faults, diagnosticsOf(err)...)
			continue
		}
		unmet = append(unmet, found...)
	}
	if all := append(slices.Clone(faults), unmet...); len(all) > 0 {
		a.report(all)
	}
	return len(faults) > 0, len(unmet) > 0
}

// checkScenario gives the expectations of a scenario that are broken, and the times that contradict each other.
func (a *app) checkScenario(ctx context.Context, path string) (lang.Diagnostics, error) {
	s, err := a.loadWithScript(path)
	if err != nil {
		return nil, err
	}
	found, err := engine.CheckExpectations(ctx, s)
	if err != nil {
		return nil, err
	}
	return append(found, schedule.Contradictions(ctx, s)...), nil
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
