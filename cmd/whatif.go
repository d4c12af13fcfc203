package cmd

import (
	"context"
	"fmt"
	"path/filepath"

	"glassbrief/cmd/whatif"
	"glassbrief/cmd/whatif/program"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	trial "glassbrief/engine/whatif"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// whatif is the verb for a page on which the figures of a scenario can be moved.
func (a *app) whatif() *cobra.Command {
	return &cobra.Command{
		Use:   "whatif SCENARIO",
		Short: "a page on which distances and light can be moved",
		Long: `Writes the report of a scenario as one file for a browser, on which distances,
light, speeds, lenses, the camera and the weights of the rules can be moved: the
kit, the set-ups and the drawings follow, and what differs from the scenario is
given as lines for its file. Nothing is loaded from anywhere else.

The engine of the page is within a released glassbrief. Another one builds it
with Go from its source, which takes about a minute, and keeps it.`,
		Example: `  glassbrief whatif night-ferry.scenario -o whatif.html
  glassbrief whatif night-ferry.scenario --units imperial -o whatif.html`,
		Args: oneFile,
		RunE: func(c *cobra.Command, args []string) error {
			if a.form.value != "html" {
				return usage(lang.NotAllowed, "a page is written to a file of form \"html\"").
					because("Name one with -o, as in: %s %s -o whatif.html", c.CommandPath(), quotedArgs(args))
			}
			input, err := a.whatifInput(args[0])
			if err != nil {
				return err
			}
			plan, found := trial.Open(input)
			if plan == nil {
				return found
			}
			bar := a.progress("judging %d lenses", len(plan.Scenario.Catalogue.Lenses.Names()))
			defer bar.end()
			saved, err := answer.Of(c.Context(), plan.Scenario, engine.Options{Runners: answer.Runners, Hold: answer.Ranked, Progress: bar.step})
			if err != nil {
				return err
			}
			bar.end()
			// The engine comes last: what is wrong with the scenario is said before somebody waits for it.
			engine, err := a.pageEngine(c.Context())
			if err != nil {
				return err
			}
			page := whatif.Page{Plan: plan, Saved: saved, Engine: whatif.Engine(*engine)}
			if err := a.show(view{html: page.Write}); err != nil {
				return err
			}
			if len(saved.Kit.Uncovered) > 0 {
				return errNo
			}
			return nil
		},
	}
}

// whatifInput reads a scenario with all that it and the settings name, as a page takes it along.
func (a *app) whatifInput(path string) (trial.Input, error) {
	in := trial.Input{Files: map[string]string{}}
	bar := a.progress("reading %s and its catalogues", path)
	defer bar.end()
	err := a.withFiles(path, func(src *lang.Source, files brief.Files) error {
		in.Name = filepath.Base(src.Name)
		files.Heard = func(name, text string) { in.Files[name] = text }
		if _, err := a.loadFrom(src, files); err != nil {
			return err
		}
		in.Files[in.Name] = src.Text
		in.Catalogues, in.Rules = textsOf(files.Catalogues), textsOf(files.Rules)
		in.Units, in.ChangePrice, in.Crew = a.settings.Units, a.settings.ChangePrice, a.settings.Crew
		in.Budget, _ = lang.ParseBudget(a.settings.Budget) // 0 is the usual
		return nil
	})
	return in, err
}

func textsOf(sources []*lang.Source) (all []trial.Text) {
	for _, src := range sources {
		all = append(all, trial.Text{Name: src.Name, Text: src.Text})
	}
	return all
}

// pageEngine finds the engine of a page, or builds it and says so beforehand.
func (a *app) pageEngine(ctx context.Context) (*program.Program, error) {
	var bar *progress
	defer func() { bar.end() }()
	engine, err := program.Finder{
		Building: func() {
			fmt.Fprintln(a.stderr, "building the page's engine, about a minute, once")
			bar = a.progress("building the page's engine")
		},
		Progress: func(done, total int) { bar.step(done, total) },
	}.Find(ctx)
	if err != nil {
		return nil, usage(lang.UnreadableFile, "the page cannot be written: %s", err).causedBy(err).
			because("Take a released glassbrief, which has the engine within. Or install Go, from go.dev, and run this in the folder of glassbrief's source.")
	}
	return engine, nil
}
