package cmd

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/cmd/show"
	"glassbrief/lang"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// A question is one thing that matters about a lens: a flag, and what is asked in a
// terminal.
type question struct {
	keyword string
	ask     string
	usage   string
	needed  bool
}

func (q question) flag() string { return strings.ReplaceAll(q.keyword, "_", "-") }

// lensQuestions are asked in this order: what the lens is first, then what is quick to read
// off it, then what has to be measured.
var lensQuestions = []question{
	{"name", "Name, as on the barrel", "`name`, unique in the catalogue", true},
	{"mount", "Mount", "`name` of the mount", true},
	{"focal", "Focal length, as 35mm or 24-70mm", "focal `length`, as 35mm or 24-70mm", true},
	{"have", "Whose is it: owned, borrowed, or rent with the price of a day", "whose it is, as a `word`: owned, borrowed, or \"rent 35 EUR\"", false},
	{"aperture", "Widest and smallest f-number, as f/2.8-22", "`stops`, as f/2.8 or f/2.8-22", false},
	{"transmission", "T-number at the widest stop, as T3.1", "`T-number` at the widest stop, as T3.1", false},
	{"focus", "Focus: manual, auto or wire", "how it is focused, as a `word`: manual, auto or wire", false},
	{"close_focus", "Closest focus from the sensor plane, as 0.45m or 1ft 6in", "closest `distance` from the sensor plane, as 0.45m", false},
	{"circle", "Image circle, as 43mm", "`diameter` of the image circle, as 43mm", false},
	{"mass", "Mass with the hood on, as 640g", "`mass` with the hood on, as 640g", false},
	{"length", "Length from the flange, as 95mm", "`length` from the flange, as 95mm", false},
	{"diameter", "Outer diameter, as 80mm", "outer `diameter`, as 80mm", false},
	{"thread", "Filter thread, as 77mm, or none", "filter `thread`, as 77mm, or none", false},
	{"balance", "Balance point in front of the flange, as 40mm", "`distance` of the balance point in front of the flange", false},
	{"distortion", "Distortion at the edge, as -1.5%", "`share` of distortion at the edge, as -1.5%", false},
	{"about", "Remarks", "remarks as a `text`", false},
}

// catalogNew is the group of verbs that write a new item.
func (a *app) catalogNew(files *[]string) *cobra.Command {
	c := group("new", "write a new item of the catalogue", "Asks for what matters, and writes tidy text.", `  glassbrief catalog new lens --name "Yard 21" --mount "Cine collar" \
    --focal 21mm`)
	c.AddCommand(a.catalogNewLens(files))
	return c
}

func (a *app) catalogNewLens(files *[]string) *cobra.Command {
	into := ""
	c := &cobra.Command{
		Use: "lens", Short: "describe a lens", Args: noArguments,
		Long: `Asks in the terminal for what is not given by flags, checks each answer at once,
and prints the lens, or adds it to the catalogue that --into names. An empty
answer means that it is not known. Without a terminal the flags are all.`,
		Example: `  glassbrief catalog new lens --name "Yard 21" --mount "Cine collar" \
    --focal 21mm --transmission T2.1 --mass "1.12 kg"
  glassbrief catalog new lens --name "Old 85" --mount "Deep bayonet" \
    --focal 85mm --aperture f/1.8-16 --into mine.catalog`,
		RunE: func(c *cobra.Command, _ []string) error {
			context, err := a.importContext(*files, into)
			if err != nil {
				return err
			}
			f := form{app: a, context: context, options: sheet.Options{Mounts: context.all.Mounts.Names()}}
			if err := f.fromFlags(c.Flags()); err != nil {
				return err
			}
			if show.IsTerminal(a.stdin) {
				err = f.fromTerminal(a.stdin, a.stderr)
			} else {
				err = f.complete()
			}
			if err != nil {
				return err
			}
			drafts, found := addMounts([]catalog.Draft{f.draft()}, context.all, nil)
			return a.addDrafts(into, context, drafts, found)
		},
	}
	flags := c.Flags()
	flags.SortFlags = false
	flags.StringVar(&into, "into", "", "add to this catalogue `file`, in one step")
	for _, q := range lensQuestions {
		flags.String(q.flag(), "", q.usage)
	}
	complete(c, "focus", []string{catalog.FocusManual, catalog.FocusAuto, catalog.FocusWire})
	complete(c, "have", []string{catalog.Owned, catalog.Borrowed})
	return c
}

// A form is a lens on its way from a person into a catalogue.
type form struct {
	app     *app
	context *importContext
	options sheet.Options
	answers map[string]catalog.Line // by their statement
	given   map[string]bool         // questions that are settled, with or without an answer
}

// answer reads one answer and checks it with what is known so far. An empty one settles a
// question that need not be answered.
func (f *form) answer(q question, where, text string) lang.Diagnostics {
	line, ok, found := sheet.Line("lens", q.keyword, where, text, f.options)
	if found.HasErrors() {
		return found
	}
	if !ok && q.needed {
		c := usage(lang.MissingValue, "a lens needs a %s", strings.ReplaceAll(q.keyword, "_", " "))
		return lang.Diagnostics{c.Diagnostic}
	}
	if ok && q.keyword == "name" {
		if name, _ := lang.Unquote(line.Value); f.taken(name) {
			c := usage(lang.DuplicateName, "there is a lens %q already", name).because("Give this one another name.")
			return lang.Diagnostics{c.Diagnostic}
		}
	}
	if f.answers == nil {
		f.answers, f.given = map[string]catalog.Line{}, map[string]bool{}
	}
	f.given[q.keyword] = true
	if !ok {
		return found
	}
	f.answers[line.Keyword] = line // which may be of the other kind of stop
	f.given[line.Keyword] = true
	return append(found, f.check(line)...)
}

func (f *form) taken(name string) bool {
	_, ok := f.context.all.Lenses.Lookup(name)
	return ok
}

// check gives what a catalogue has against an answer, beside the others.
func (f *form) check(answer catalog.Line) lang.Diagnostics {
	_, _, found := f.context.add(f.context.into, "", []catalog.Draft{f.draft()})
	return slices.DeleteFunc(found, func(d lang.Diagnostic) bool {
		return d.Span.Source != answer.At.Source || d.Code == lang.MissingField || d.Code == lang.UnknownName
	})
}

// draft gives the lens as far as it is known, its lines in the order of the language.
func (f *form) draft() catalog.Draft {
	d := catalog.Draft{Kind: "lens"}
	if line, ok := f.answers["name"]; ok {
		d.Name, _ = lang.Unquote(line.Value)
		d.At = line.At
	}
	keywords, _ := lang.Keywords(reflect.TypeFor[catalog.Lens]())
	for _, keyword := range keywords {
		if line, ok := f.answers[keyword]; ok {
			d.Lines = append(d.Lines, line)
		}
	}
	return d
}

// fromFlags takes the answers that stand on the command line.
func (f *form) fromFlags(flags *pflag.FlagSet) error {
	var found lang.Diagnostics
	for _, q := range lensQuestions {
		if flags.Changed(q.flag()) {
			found = append(found, f.answer(q, "--"+q.flag(), flags.Lookup(q.flag()).Value.String())...)
		}
	}
	if found.HasErrors() {
		return found
	}
	return nil // warnings are said when the lens is written
}

// complete reports what a lens needs and nobody gave.
func (f *form) complete() error {
	var found lang.Diagnostics
	for _, q := range lensQuestions {
		if q.needed && !f.given[q.keyword] {
			found.Add(usage(lang.MissingValue, "%q is missing", "--"+q.flag()).because("It gives the %s.", strings.ReplaceAll(q.usage, "`", "")).Diagnostic)
		}
	}
	return found.Err()
}

// errLeft is the end of the input before the end of the questions.
var errLeft = errors.New("the questions were left before the end, and nothing is written")

// fromTerminal asks for what is not given, again until an answer can be used. A warning is
// said, and the answer taken.
func (f *form) fromTerminal(in io.Reader, out io.Writer) error {
	lines := bufio.NewScanner(in)
	fmt.Fprintln(out, "An empty answer means that it is not known.")
	for _, q := range lensQuestions {
		for !f.given[q.keyword] {
			fmt.Fprintf(out, "%s%s: ", q.ask, f.hint(q))
			if !lines.Scan() {
				fmt.Fprintln(out)
				if err := lines.Err(); err != nil {
					return err
				}
				return usage(lang.MissingValue, "%s", errLeft).because("Begin again, or give what you know by flags.")
			}
			f.app.reportWarnings(f.answer(q, "answer", lines.Text()))
		}
	}
	return nil
}

// hint names what may be answered, or that something must be.
func (f *form) hint(q question) string {
	switch {
	case q.keyword == "mount" && len(f.options.Mounts) > 0:
		return " (" + strings.Join(f.options.Mounts, ", ") + ")"
	case q.needed:
		return " (needed)"
	}
	return ""
}
