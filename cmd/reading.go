package cmd

import (
	"errors"
	"math"
	"strings"

	"glassbrief/lang"

	"github.com/spf13/pflag"
)

// A reading takes quantities from flags and gathers all that is wrong with them, so
// that one run reports everything. What a flag does not give is unknown.
type reading struct {
	flags   *pflag.FlagSet
	printer lang.Printer
	found   lang.Diagnostics
}

func (r *reading) failed() bool { return r.found.HasErrors() }

func (r *reading) complain(c complaint) { r.found.Add(c.Diagnostic) }

// given reports whether the flag stands on the command line.
func (r *reading) given(flag string) bool { return r.flags.Changed(flag) }

func (r *reading) text(flag string) string { return r.flags.Lookup(flag).Value.String() }

// preset gives a flag the value that it has when it is left out.
func (r *reading) preset(flag, text string) {
	if err := r.flags.Set(flag, text); err != nil {
		panic(err) // the flag does not exist: a mistake in this package
	}
}

// need reports each flag that is missing.
func (r *reading) need(flags ...string) {
	for _, flag := range flags {
		if !r.given(flag) {
			r.complain(usage(lang.MissingValue, "%q is missing", "--"+flag).because("It gives the %s.", r.meaning(flag)))
		}
	}
}

// meaning gives the flag's help, which names what it takes between back quotes.
func (r *reading) meaning(flag string) string {
	return strings.ReplaceAll(r.flags.Lookup(flag).Usage, "`", "")
}

// read takes the value of a flag with one of lang's readers of texts.
func read[T any](r *reading, flag string, parse func(name, text string) (T, error)) T {
	var value T
	if !r.given(flag) {
		return value
	}
	value, err := parse("--"+flag, r.text(flag))
	var ds lang.Diagnostics
	if errors.As(err, &ds) {
		for _, d := range ds {
			r.found.Add(d)
		}
	}
	return value
}

// quantity takes a quantity above zero, of the dimension that the flag has.
func (r *reading) quantity(flag string) lang.Quantity {
	q := read(r, flag, func(name, text string) (lang.Quantity, error) {
		return lang.ParseQuantity(name, text, reckonFlags[flag].dim)
	})
	r.positive(q)
	return q
}

// positive reports a known quantity that is not finite and above zero.
func (r *reading) positive(q lang.Quantity) {
	if q.Known() && (!(q.Value > 0) || math.IsInf(q.Value, 0)) {
		r.complain(usage(lang.OutOfRange, "%q is not above zero", q.Span.Text()).
			because("Write a value above zero.").at(q.Span))
	}
}

// frame takes a size with both sides above zero.
func (r *reading) frame(flag string) lang.Size {
	size := read(r, flag, func(name, text string) (lang.Size, error) { return lang.ParseSize(name, text, lang.Length) })
	if size.Depth.Known() {
		r.complain(usage(lang.ExtraValue, "%q has three sides", size.Span.Text()).
			because("A frame has a width and a height.").at(size.Depth.Span))
	}
	r.positive(size.Width)
	r.positive(size.Height)
	return size
}

// word takes one of a few words, or the first if the flag is not given.
func (r *reading) word(flag string, words []string) string {
	if !r.given(flag) {
		return words[0]
	}
	text := r.text(flag)
	for _, word := range words {
		if word == text {
			return word
		}
	}
	r.complain(usage(lang.UnknownWord, "%q does not take %q", "--"+flag, text).
		or(lang.Nearest(text, words)).because("It takes %s.", lang.Quoted(words)).at(r.span(flag)))
	return words[0]
}

// span gives the whole text of a flag as a place for a complaint.
func (r *reading) span(flag string) lang.Span {
	src, ds := lang.NewSource("--"+flag, []byte(r.text(flag)))
	if ds.HasErrors() {
		return lang.Span{}
	}
	return lang.Span{Source: src, End: len(src.Text)}
}

// exclusive reports flags of which only one may be given, and gives the one that is, or "".
func (r *reading) exclusive(flags ...string) string {
	var given []string
	for _, flag := range flags {
		if r.given(flag) {
			given = append(given, flag)
		}
	}
	switch len(given) {
	case 0:
		return ""
	case 1:
		return given[0]
	}
	r.complain(usage(lang.Contradiction, "\"--%s\" and \"--%s\" cannot both hold", given[0], given[1]).
		because("Give one of %s.", flagList(flags)))
	return given[0]
}

// oneOf is [reading.exclusive] of flags of which one must be given.
func (r *reading) oneOf(what string, flags ...string) string {
	flag := r.exclusive(flags...)
	if flag == "" {
		r.complain(usage(lang.MissingValue, "%s is missing", what).because("Give one of %s.", flagList(flags)))
	}
	return flag
}

// flagList joins flags for a sentence: "--a", "--b" or "--c".
func flagList(flags []string) string {
	names := make([]string, len(flags))
	for i, flag := range flags {
		names[i] = "--" + flag
	}
	return lang.Quoted(names)
}
