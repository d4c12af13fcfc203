package cmd

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"glassbrief/lang"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// What is wrong with a command line, in our words and with what was likely meant.

// knownVerb refuses arguments to a command that only holds verbs.
func knownVerb(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return noVerb(c, args[0], nil)
}

// verbOfFile gives what takes a file, by the ending of its name.
var verbOfFile = map[string]string{
	".scenario": "recommend", ".catalog": "catalog list --catalog", ".rules": "rules show", ".choices": "rules learn",
}

// noVerb is the complaint about a word that is no verb of a command; it may as well have been one of others.
func noVerb(c *cobra.Command, word string, others []string) error {
	complaint := usage(lang.UnknownWord, "%q is no verb of %q", word, c.CommandPath()).because("%s --help lists them.", c.CommandPath())
	if verb := verbOfFile[filepath.Ext(word)]; verb != "" {
		return complaint.because("Name a verb before the file, as \"glassbrief %s %s\".", verb, word)
	}
	if near := lang.Nearest(word, append(verbsOf(c), others...)); near != "" {
		return complaint.or(near)
	}
	var inner []string // verbs of that name in groups
	for _, group := range c.Commands() {
		if near := lang.Nearest(word, verbsOf(group)); near != "" {
			inner = append(inner, group.Name()+" "+near)
		}
	}
	switch {
	case len(inner) == 1:
		return complaint.or(inner[0])
	case len(inner) > 1:
		return complaint.because("There are %s.", lang.QuotedAll(inner))
	case slices.Contains(flagNames(c), "--"+word):
		return complaint.or("--" + word)
	}
	return complaint
}

// verbsOf names the verbs that a command holds.
func verbsOf(c *cobra.Command) (names []string) {
	for _, verb := range c.Commands() {
		if verb.IsAvailableCommand() {
			names = append(names, verb.Name())
		}
	}
	return names
}

// filesOrVerb refuses what is likelier a misspelt verb of a command that takes files as well.
func filesOrVerb(c *cobra.Command, args []string) error {
	if len(args) == 0 || lang.Nearest(args[0], verbsOf(c)) == "" {
		return nil
	}
	if _, err := os.Stat(args[0]); errors.Is(err, os.ErrNotExist) {
		return noVerb(c, args[0], nil)
	}
	return nil
}

// flagNames lists the flags that a command takes, with their dashes.
func flagNames(c *cobra.Command) (names []string) {
	for _, flags := range []*pflag.FlagSet{c.Flags(), c.InheritedFlags()} { // the first has the second only once they are parsed
		flags.VisitAll(func(f *pflag.Flag) {
			if !f.Hidden {
				names = append(names, "--"+f.Name)
			}
		})
	}
	return names
}

// flagError says in our words what is wrong with a flag.
func flagError(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var invalid *pflag.InvalidValueError
	help := c.CommandPath() + " --help"
	switch {
	case errors.As(err, &unknown):
		return noFlag(c, unknown)
	case errors.As(err, &bare):
		return usage(lang.MissingValue, "%q lacks its value", dashed(bare.GetSpecifiedName())).
			because("%s shows what it takes.", help)
	case errors.As(err, &invalid):
		value := invalid.GetValue()
		c := usage(lang.UnknownWord, "%q does not take %q", "--"+invalid.GetFlag().Name, value)
		if known, ok := invalid.GetFlag().Value.(*choice); ok {
			return c.or(lang.Nearest(value, known.words)).because("It takes %s.", lang.Quoted(known.words))
		}
		if _, err := time.ParseDuration(value + "s"); err == nil && invalid.GetFlag().Value.Type() == "duration" {
			return c.or(value + "s").because("It takes a time with its unit.")
		}
		return c.because("%s shows what it takes.", help)
	}
	return usage(lang.UnexpectedText, "%s", err.Error()).because("%s shows how flags are written.", help)
}

// noFlag is the complaint about a flag that a command does not take.
func noFlag(c *cobra.Command, unknown *pflag.NotExistError) error {
	name, names := dashed(unknown.GetSpecifiedName()), flagNames(c)
	if long := "--" + unknown.GetSpecifiedShortnames(); long != "--" && slices.Contains(names, long) { // "-camera"
		return usage(lang.UnknownWord, "%q is no flag of %q", long[1:], c.CommandPath()).
			or(long).because("A flag of more than one letter begins with two dashes.")
	}
	complaint := usage(lang.UnknownWord, "%q is no flag of %q", name, c.CommandPath()).because("%s --help lists them.", c.CommandPath())
	near := lang.Nearest(name, names)
	if form := strings.TrimPrefix(name, "--"); near == "" && slices.Contains(forms, form) && slices.Contains(names, "--as") {
		near = "--as " + form
	}
	if near != "" {
		return complaint.or(near)
	}
	var have []string // verbs that take it
	var look func(*cobra.Command)
	look = func(of *cobra.Command) {
		if of.LocalFlags().Lookup(strings.TrimPrefix(name, "--")) != nil {
			have = append(have, of.CommandPath())
		}
		for _, verb := range of.Commands() {
			look(verb)
		}
	}
	if look(Root()); have != nil {
		return complaint.because("It is one of %s. %s --help lists those that are taken here.", lang.QuotedAll(have), c.CommandPath())
	}
	return complaint
}

// dashed writes the name of a flag as it is typed.
func dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}
