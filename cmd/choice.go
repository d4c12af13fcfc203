package cmd

import (
	"errors"
	"slices"

	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// forms are the forms in which a result can be shown; only the verb "framing" has fdl and
// svg, and only "days" has ics.
var forms = []string{"text", "json", "markdown", "csv", "html", "fdl", "svg", "ics"}

// A choice is the value of a flag that takes one of a few words.
type choice struct {
	value string
	words []string
}

func (c *choice) String() string { return c.value }
func (c *choice) Type() string   { return "word" }

func (c *choice) Set(text string) error {
	if !slices.Contains(c.words, text) {
		return errors.New("not one of the words") // flagError words it
	}
	c.value = text
	return nil
}

// A size is the value of a flag that takes the size of a budget.
type size string

func (s *size) String() string { return string(*s) }
func (s *size) Type() string   { return "size" }

func (s *size) Set(text string) error {
	if _, ok := lang.ParseBudget(text); !ok {
		return errors.New("no size of a budget") // flagError words it
	}
	*s = size(text)
	return nil
}

// complete offers words to the shell for a flag that takes other texts, too; what else is offered stands in
// [offers].
func complete(c *cobra.Command, flag string, words []string) {
	if err := c.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag does not exist: a mistake in this package
	}
}
