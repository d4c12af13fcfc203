package cmd

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/catalog/sheet"
	"glassbrief/lang"

	"github.com/spf13/pflag"
)

// A form is an item on its way from a person into a catalogue.
type form struct {
	app       *app
	kind      string // keyword of its block
	questions []question
	context   *importContext
	options   sheet.Options
	answers   map[string]catalog.Line // by their statement
	given     map[string]bool         // questions that are settled, with or without an answer
}

func (a *app) newForm(kind string, questions []question, context *importContext) *form {
	return &form{
		app: a, kind: kind, questions: questions, context: context, options: sheet.Options{Mounts: context.all.Mounts.Names()},
		answers: map[string]catalog.Line{}, given: map[string]bool{},
	}
}

// answer reads one answer and checks it with what is known so far. An empty one settles a
// question that need not be answered.
func (f *form) answer(q question, where, text string) lang.Diagnostics {
	line, ok, found := sheet.Line(f.kind, q.keyword, where, text, f.options)
	if found.HasErrors() {
		return found
	}
	if ok && q.upper {
		wrong := ""
		switch isRange := strings.Contains(line.Value, ".."); {
		case q.needed && strings.HasSuffix(line.Value, ".."):
			wrong = "leaves the upper end open"
		case !isRange && strings.HasPrefix(line.Value, lang.About+" "):
			wrong = "is rough, and leaves the lower end open" // the language has no form for it
		}
		if wrong != "" {
			c := usage(lang.BadInterval, "%q %s", text, wrong).because("Write both ends, or the upper one alone and without a word for roughly.")
			return lang.Diagnostics{c.at(line.At).Diagnostic}
		}
	}
	if !ok && q.needed {
		c := usage(lang.MissingValue, "a %s needs a %s", f.kind, strings.ReplaceAll(q.flag(), "-", " "))
		return lang.Diagnostics{c.Diagnostic}
	}
	if ok && q.keyword == "name" {
		if name, _ := lang.Unquote(line.Value); f.context.all.Has(f.kind, name) {
			c := usage(lang.DuplicateName, "there is a %s %q already", f.kind, name).because("Give this one another name.")
			return lang.Diagnostics{c.Diagnostic}
		}
	}
	f.given[q.keyword] = true
	if !ok {
		return found
	}
	if q.upper && !strings.Contains(line.Value, "..") {
		line.Value = ".." + line.Value
	}
	f.answers[line.Keyword] = line // which may be of the other kind of stop
	f.given[line.Keyword] = true
	return append(found, f.check(line)...)
}

// check gives what a catalogue has against an answer, beside the others.
func (f *form) check(answer catalog.Line) lang.Diagnostics {
	_, _, found := f.context.add(f.context.into, "", []catalog.Draft{f.draft()})
	return slices.DeleteFunc(found, func(d lang.Diagnostic) bool {
		return d.Span.Source != answer.At.Source || d.Code == lang.MissingField || d.Code == lang.UnknownName
	})
}

// draft gives the item as far as it is known, its lines in the order of the language.
func (f *form) draft() catalog.Draft {
	d := catalog.Draft{Kind: f.kind}
	if line, ok := f.answers["name"]; ok {
		d.Name, _ = lang.Unquote(line.Value)
		d.At = line.At
	}
	for _, keyword := range catalog.Keywords(f.kind) {
		if line, ok := f.answers[keyword]; ok {
			d.Lines = append(d.Lines, line)
		}
	}
	return d
}

// fromFlags takes the answers that stand on the command line.
func (f *form) fromFlags(flags *pflag.FlagSet) lang.Diagnostics {
	var found lang.Diagnostics
	for _, q := range f.questions {
		if flags.Changed(q.flag()) {
			found = append(found, f.answer(q, "--"+q.flag(), flags.Lookup(q.flag()).Value.String())...)
		}
	}
	if found.HasErrors() {
		return found
	}
	return nil // warnings are said when the item is written
}

// missing lists the questions that need an answer and have none.
func (f *form) missing() []question {
	return slices.DeleteFunc(slices.Clone(f.questions), func(q question) bool { return !q.needed || f.given[q.keyword] })
}

// complete reports what an item needs and nobody gave.
func (f *form) complete() lang.Diagnostics {
	var found lang.Diagnostics
	for _, q := range f.missing() {
		found.Add(usage(lang.MissingValue, "%q is missing", "--"+q.flag()).because("It gives the %s.", strings.ReplaceAll(q.usage, "`", "")).Diagnostic)
	}
	return found
}

// errLeft is the end of the input before the end of the questions.
var errLeft = errors.New("the questions were left before the end, and nothing is written")

// An asking is where questions are put, and where their answers come from.
type asking struct {
	lines *bufio.Scanner
	out   io.Writer
}

func (a *app) asking() *asking {
	fmt.Fprintln(a.stderr, "An empty answer means that it is not known.")
	return &asking{bufio.NewScanner(a.stdin), a.stderr}
}

// line asks one question and gives the line that is answered.
func (t *asking) line(question string) (string, error) {
	fmt.Fprintf(t.out, "%s: ", question)
	if t.lines.Scan() {
		return t.lines.Text(), nil
	}
	fmt.Fprintln(t.out)
	if err := t.lines.Err(); err != nil {
		return "", err
	}
	return "", usage(lang.MissingValue, "%s", errLeft).because("Begin again, or give what you know by flags.")
}

// fromTerminal asks for what is not given, again until an answer can be used. A warning is
// said, and the answer taken.
func (f *form) fromTerminal(t *asking) error {
	for _, q := range f.questions {
		for !f.given[q.keyword] {
			text, err := t.line(q.ask + f.hint(q))
			if err != nil {
				return err
			}
			f.app.reportWarnings(f.answer(q, "answer", text))
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
