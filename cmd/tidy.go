package cmd

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"glassbrief/cmd/travel"
	"glassbrief/engine/textdiff"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// languageExtensions are the files that are written in the language.
var languageExtensions = []string{"scenario", "catalog", "rules", "choices"}

// tidying is one run of the verb "tidy".
type tidying struct {
	*app
	write, list, diff bool
	changed           []string // the files that are not tidy
	text              strings.Builder
	found             lang.Diagnostics
}

type tidyData struct {
	travel.Header
	Files []string `json:"files"`
}

// tidyRow is a line of CSV.
type tidyRow struct {
	File string `json:"file"`
}

func (a *app) tidy() *cobra.Command {
	t := &tidying{app: a}
	c := &cobra.Command{
		Use:   "tidy FILE...",
		Short: "lay files out in the canonical form, with their comments",
		Long: `Only layout and the spelling of units change; what a file says does not, which
is checked before anything is written. Without a flag the tidy text of one file
is printed, and the exit code is 0. With --list and --diff nothing is written,
and the exit code is 1 when a file would change. - is standard input.`,
		Example: `  glassbrief tidy night-ferry.scenario
  glassbrief tidy -w *.scenario *.catalog
  glassbrief tidy --diff night-ferry.scenario`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 0 {
				return nil
			}
			return usage(lang.MissingValue, "%q lacks the name of a file", c.CommandPath()).
				because("Name one or more files, or - for standard input.")
		},
		RunE: func(_ *cobra.Command, args []string) error { return t.run(args) },
	}
	c.Flags().BoolVarP(&t.write, "write", "w", false, "write the tidy text back to each file, in one step")
	c.Flags().BoolVar(&t.list, "list", false, "print the names of files that would change")
	c.Flags().BoolVar(&t.diff, "diff", false, "print what would change, as a unified diff")
	return c
}

func (t *tidying) run(files []string) error {
	if err := t.check(files); err != nil {
		return err
	}
	if err := t.loadSettings(files[0]); err != nil {
		return err
	}
	for _, file := range files {
		if err := t.file(file); err != nil {
			t.found = append(t.found, diagnosticsOf(err)...)
		}
	}
	if err := t.result(); err != nil {
		return err
	}
	switch {
	case t.found.HasErrors():
		return t.found
	case len(t.changed) > 0 && (t.list || t.diff):
		return errNo
	}
	return nil
}

// check refuses flags and files that make no sense together.
func (t *tidying) check(files []string) error {
	modes := 0
	for _, mode := range []bool{t.write, t.list, t.diff} {
		if mode {
			modes++
		}
	}
	switch {
	case modes > 1:
		return usage(lang.Contradiction, "only one of \"--write\", \"--list\" and \"--diff\" can hold").
			because("Look with --list or --diff, then write.")
	case t.write && slices.Contains(files, "-"):
		return usage(lang.Contradiction, "standard input cannot be written back").because("Leave --write out: the tidy text is printed.")
	case modes == 0 && len(files) > 1:
		return usage(lang.ExtraValue, "the text of one file at a time can be printed").
			because("Use --write, --list or --diff for several files.")
	case !t.list && t.form.value != "text":
		return usage(lang.NotAllowed, "this has no form %q", t.form.value).because("Only --list has it.")
	}
	return nil
}

// file tidies one file.
func (t *tidying) file(name string) error {
	src, err := t.source(name)
	if err != nil {
		return err
	}
	tidy, found := lang.TidyChecked(src)
	if found.HasErrors() {
		return found
	}
	if tidy != src.Text {
		t.changed = append(t.changed, name)
	}
	switch {
	case t.list:
	case t.diff:
		t.text.WriteString(textdiff.Unified(lang.Printable(name), src.Text, lang.Printable(name)+" (tidy)", tidy))
	case t.write:
		return t.updateFile(name, func(now *lang.Source) (string, error) {
			if now == nil {
				return tidy, nil
			}
			text, found := lang.TidyChecked(now)
			return text, found.Err()
		})
	default:
		t.text.WriteString(tidy)
	}
	return nil
}

// result shows what the verb has to say.
func (t *tidying) result() error {
	if !t.list {
		return t.app.write(textWriter(t.text.String()))
	}
	if t.form.value == "text" {
		// Bare names, for other commands to read; JSON has those with characters that steer a terminal.
		return t.app.write(func(w io.Writer) error {
			for _, name := range t.changed {
				if _, err := fmt.Fprintln(w, lang.Printable(name)); err != nil {
					return err
				}
			}
			return nil
		})
	}
	rows := make([]tidyRow, len(t.changed))
	for i, name := range t.changed {
		rows[i] = tidyRow{name}
	}
	return t.show(view{data: tidyData{travel.HeaderOf("tidy"), append([]string{}, t.changed...)}, rows: rowsOf(rows)})
}
