package cmd

import (
	"fmt"
	"path/filepath"
	"strings"

	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// A complaint is one finding about the command line or a file while it is being worded.
// As an error it is [lang.Diagnostics].
type complaint struct {
	lang.Diagnostic
	cause error
}

func usage(code lang.Code, format string, args ...any) complaint {
	return complaint{Diagnostic: lang.Diagnostic{Severity: lang.Error, Code: code, Summary: fmt.Sprintf(format, args...)}}
}

func (c complaint) or(instead string) complaint {
	c.Instead = instead
	return c
}

func (c complaint) because(format string, args ...any) complaint {
	c.Detail = fmt.Sprintf(format, args...)
	return c
}

func (c complaint) at(span lang.Span) complaint {
	c.Span = span
	return c
}

func (c complaint) causedBy(err error) complaint {
	c.cause = err
	return c
}

func (c complaint) Unwrap() error { return c.cause }

func (c complaint) As(target any) bool {
	ds, ok := target.(*lang.Diagnostics)
	if ok {
		*ds = lang.Diagnostics{c.Diagnostic}
	}
	return ok
}

// noArguments is for verbs that take flags only.
func noArguments(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return usage(lang.ExtraValue, "%q takes no %q: it takes flags only", c.CommandPath(), args[0]).
		because("%s", extraRemedy(c, args[0], ", as in --sensor \"36mm x 24mm\""))
}

// extraRemedy says what to do about one argument too many: most are a value with spaces, or a catalogue for a
// verb that takes it by a flag.
func extraRemedy(c *cobra.Command, arg, example string) string {
	if c.Flag("catalog") != nil && filepath.Ext(arg) == ".catalog" {
		return "A catalogue is named by a flag: --catalog " + quotedArgs([]string{arg}) + "."
	}
	return "A value with spaces goes between quotes" + example + "."
}

// quotedArgs writes arguments as a shell takes them.
func quotedArgs(args []string) string {
	quoted := make([]string, len(args))
	for i, arg := range args {
		if quoted[i] = arg; arg == "" || strings.ContainsAny(arg, " \t\n\"'\\$`*?[]{}()<>|&;#~!") {
			quoted[i] = "'" + strings.ReplaceAll(arg, "'", `'\''`) + "'"
		}
	}
	return strings.Join(quoted, " ")
}
