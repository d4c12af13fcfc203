package cmd

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/travel"
	"glassbrief/engine/brief"
	"glassbrief/engine/learn"
	"glassbrief/engine/merge"
	"glassbrief/engine/rules"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// mergeData is what "merge" says to programs.
type mergeData struct {
	travel.Header
	Merged      bool                `json:"merged"`
	ByLines     bool                `json:"by_lines"`
	Text        string              `json:"text"`
	Conflicts   []mergeConflictData `json:"conflicts"`
	Diagnostics lang.Diagnostics    `json:"diagnostics"`
}

type mergeConflictData struct {
	Line   int    `json:"line"`
	Block  string `json:"block"`
	Field  string `json:"field"`
	Ours   string `json:"ours"`
	Theirs string `json:"theirs"`
}

// merging is one run of the verb "merge".
type merging struct {
	*app
	write        bool
	path         string
	ours, theirs string
	marks        int
}

// merge is the verb that version control calls for a file that two branches changed.
func (a *app) merge() *cobra.Command {
	m := &merging{app: a}
	c := &cobra.Command{
		Use:   "merge BASE OURS THEIRS",
		Short: "join two versions of a file by shots, lenses and statements",
		Long: `Joins what two versions of a scenario, a catalogue or a file of rules change of
a third that both come from. Statements are known by their keywords, blocks by
their names, too, and comments stay with what they belong to: two who change
different shots, or different statements of one, never meet. What one side
changes is taken as it stands, and what neither does stays byte for byte. The
order of shots is merged as well. Where both change the same, both stand in the
text between marks, and the exit code is 1; so it is when the merged text has a
fault that neither side has, as a name that one changed and the other uses. A
file of which a version cannot be read is merged by lines. "git-setup" prints
what makes git use it. A name that a side changed in another file is not seen
here: run "check" when all files are merged.`,
		Example: `  glassbrief merge base.scenario mine.scenario hers.scenario
  glassbrief merge base.scenario mine.scenario hers.scenario -o merged.scenario
  glassbrief merge -w base.rules mine.rules hers.rules --ours mine --theirs hers`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) == 3 {
				return nil
			}
			return usage(lang.MissingValue, "%q takes three versions of a file, not %d", c.CommandPath(), len(args)).
				because("Name the one that both come from, then yours, then the other.")
		},
		RunE: func(_ *cobra.Command, args []string) error { return m.run(args) },
	}
	c.Flags().BoolVarP(&m.write, "write", "w", false, "write the merged text to OURS, in one step")
	c.Flags().StringVar(&m.path, "path", "", "what the `file` is called in messages, and beside which lie the files that it names; OURS unless given")
	c.Flags().StringVar(&m.ours, "ours", "ours", "`label` of our side in marks")
	c.Flags().StringVar(&m.theirs, "theirs", "theirs", "`label` of the other side in marks")
	c.Flags().IntVar(&m.marks, "marks", 0, "how many `characters` a mark has; 0 is 7")
	return c
}

const mostMarks = 100 // characters of a mark

func (m *merging) run(args []string) error {
	switch {
	case m.form.value != "text" && m.form.value != "json":
		return m.noForm()
	case m.write && m.output != "" && m.form.value == "text":
		return usage(lang.Contradiction, "\"--write\" and \"-o\" cannot both hold").because("The text goes to one place.")
	case m.marks < 0 || m.marks > mostMarks:
		return usage(lang.OutOfRange, "a mark of %d characters is not possible", m.marks).because("Give --marks from 0 to %d.", mostMarks)
	}
	named := m.path != ""
	if !named {
		m.path = args[1]
	}
	if err := m.loadSettings(m.path); err != nil {
		return err
	}
	labels := []string{"the version that both come from", label(m.ours, "ours"), label(m.theirs, "theirs")}
	var versions [3]merge.Version
	for i, arg := range args {
		text, err := m.readText(arg)
		if err != nil {
			return err
		}
		if found := m.budget.Take(arg, text, lang.OfFile); found.HasErrors() {
			return found
		}
		versions[i] = merge.Version{Name: arg, Text: text}
		if named { // git gives the versions names of its own
			versions[i].Name = fmt.Sprintf("%s (%s)", m.path, labels[i])
		}
	}
	r := merge.Merge(versions[0], versions[1], versions[2], merge.Options{
		Shape: shapeOfAll(), Ours: labels[1], Theirs: labels[2], Marks: m.marks, Budget: m.budget,
	})
	found := m.conflicts(&r)
	if r.Conflicts == nil && r.Unread == nil {
		found = append(found, m.clashes(versions, r.Text)...)
	}
	return m.result(args[1], &r, found)
}

// label gives what git puts in for the name of a side; a git that knows none leaves its placeholder.
func label(given, usual string) string {
	if given == "" || strings.HasPrefix(given, "%") {
		return usual
	}
	return lang.Printable(given)
}

// shapeOfAll says how statements may stand in files of every kind: no two kinds have a keyword in common.
func shapeOfAll() lang.Shape {
	all := brief.Shape()
	maps.Copy(all, catalog.Shape())
	maps.Copy(all, rules.Shape())
	maps.Copy(all, learn.Shape())
	return all
}

// conflicts says where both sides change the same, and why a text is merged by lines.
func (m *merging) conflicts(r *merge.Result) (found lang.Diagnostics) {
	if len(r.Unread) > 0 {
		d := r.Unread[0]
		d.Severity, d.Summary = lang.Warning, "this cannot be read, and so the file is merged by lines: "+d.Summary
		found.Add(d)
	}
	src, _ := lang.NewSource(m.path, []byte(r.Text)) // what cannot be read has no places
	for _, c := range r.Conflicts {
		d := usage(lang.UnfinishedMerge, "both sides change %s", what(c)).
			because("Keep the lines of one side, or of both where they do not exclude each other, and remove the lines of marks.")
		if line, start := src.Line(c.Line); line != "" {
			d = d.at(lang.Span{Source: src, Start: start, End: start + len(line)})
		}
		found.Add(d.Diagnostic)
	}
	return found
}

// what names the place of a conflict.
func what(c merge.Conflict) string {
	verb := ""
	if c.Ours == "" || c.Theirs == "" {
		verb = ", and one takes it out"
	}
	switch {
	case c.Field == "order":
		return "the place of " + c.Block
	case c.Field == "" && c.Block == "":
		return "the same lines"
	case c.Field == "":
		return c.Block + verb
	case c.Block == "":
		return fmt.Sprintf("the same %q%s", c.Field, verb)
	}
	return fmt.Sprintf("%q of %s%s", c.Field, c.Block, verb)
}

// clashes gives the faults of the merged text that neither side has, as far as the files beside it say.
func (m *merging) clashes(versions [3]merge.Version, text string) (found lang.Diagnostics) {
	type fault struct {
		code    lang.Code
		summary string
	}
	var known []fault
	err := m.readable(m.path, func(files brief.Files) error {
		for _, version := range versions[1:] {
			for _, d := range m.faults(version.Text, files) {
				known = append(known, fault{d.Code, d.Summary})
			}
		}
		for _, d := range m.faults(text, files) {
			if !slices.Contains(known, fault{d.Code, d.Summary}) {
				found.Add(d)
			}
		}
		return nil
	})
	if err != nil || found == nil { // without the folder of the file there is nothing to read beside it
		return nil
	}
	found.Add(usage(lang.UnfinishedMerge, "%q has faults that neither side has: the sides do not go together", m.path).
		because("There are no marks in it: mend what the other findings name.").Diagnostic)
	return found
}

// faults gives the faults of a version, without its warnings.
func (m *merging) faults(text string, files brief.Files) lang.Diagnostics {
	src, found := m.budget.Source(m.path, text, lang.OfFile)
	if !found.HasErrors() {
		switch filepath.Ext(m.path) {
		case ".scenario":
			_, found = brief.Load(src, files)
		case ".catalog":
			_, found = catalog.Load(src)
		case ".rules":
			_, found = rules.Standard().Extend(src)
		case choicesExtension:
			_, found = learn.Read(src)
		}
	}
	return slices.DeleteFunc(found, func(d lang.Diagnostic) bool { return d.Severity != lang.Error })
}

// printable refuses a text for standard output that would steer a terminal, or is no text.
func (m *merging) printable(text string) error {
	if m.output != "" && m.output != "-" {
		return nil
	}
	_, found := lang.NewSource(m.path, []byte(text))
	for i := range found {
		found[i].Detail += " Or write what is merged to a file, with -o or --write."
	}
	return found.Err()
}

// result writes the merged text and says what is wrong with it.
func (m *merging) result(ours string, r *merge.Result, found lang.Diagnostics) error {
	if m.write {
		if err := writeFile(ours, textWriter(r.Text)); err != nil {
			return lost(ours, err)
		}
	}
	switch {
	case m.form.value == "json":
		data := mergeData{
			Header: travel.HeaderOf("merge"), Merged: !found.HasErrors(), ByLines: r.Unread != nil, Text: r.Text,
			Conflicts: []mergeConflictData{}, Diagnostics: append(lang.Diagnostics{}, found...),
		}
		for _, c := range r.Conflicts {
			data.Conflicts = append(data.Conflicts, mergeConflictData(c))
		}
		if err := m.show(view{data: data}); err != nil {
			return err
		}
	default:
		m.reportWarnings(found)
		if m.write {
			break
		}
		if err := m.printable(r.Text); err != nil {
			return err
		}
		if err := m.writeText(textWriter(r.Text)); err != nil {
			return err
		}
	}
	if found.HasErrors() {
		return errNo
	}
	return nil
}
