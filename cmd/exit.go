package cmd

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"runtime"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/parallel"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

// The exit codes.
const (
	exitFine = iota
	exitNo
	exitBadInput
	exitFault
)

// exitCodes says what each exit code means, and when a run ends with it.
var exitCodes = [...]struct{ means, such string }{
	exitFine:     {"fine", ""},
	exitNo:       {`the answer is "no"`, "audit failed, shot left uncovered, expectation or case broken, plan changed, tidy would change, a warning under check --strict"},
	exitBadInput: {"bad usage or bad input", ""},
	exitFault:    {"a fault of glassbrief itself, or the result cannot be written", "a full disk"},
}

// exitMeanings writes the exit codes as the help of every verb shows them.
func exitMeanings() string {
	var lines []string
	for code, row := range exitCodes {
		text := row.means
		if row.such != "" {
			text += ": " + row.such
		}
		for i, line := range show.Wrap(text, 75) {
			start := "     "
			if i == 0 {
				start = fmt.Sprintf("  %d  ", code)
			}
			lines = append(lines, start+line)
		}
	}
	return strings.Join(lines, "\n")
}

// errNo is what a verb returns when it ran well, has shown its result, and the answer
// is "no".
var errNo = errors.New("the answer is no")

// errBad is what a verb returns when it has shown itself what is wrong with its input.
var errBad = errors.New("the input is bad")

// exitCode reports the error of a run, if there is something to say, and gives the code.
func (a *app) exitCode(err error) int {
	switch {
	case err == nil:
		return exitFine
	case errors.Is(err, errNo):
		return exitNo
	case errors.Is(err, errBad):
		return exitBadInput
	}
	a.report(diagnosticsOf(err))
	if isBroken(err) {
		return exitFault
	}
	return exitBadInput
}

// diagnosticsOf gives what an error has to say about the input.
func diagnosticsOf(err error) lang.Diagnostics {
	var ds lang.Diagnostics
	if errors.As(err, &ds) {
		return ds
	}
	return lang.Diagnostics{{Severity: lang.Error, Code: lang.UnreadableFile, Summary: err.Error()}}
}

// diagnosticsData is the object that carries diagnostics to programs.
type diagnosticsData struct {
	travel.Header
	Diagnostics lang.Diagnostics `json:"diagnostics"`
}

// report prints diagnostics on standard error, as an object when JSON is asked for. A verb that
// hears them itself puts them into its own object.
func (a *app) report(ds lang.Diagnostics) {
	a.bar.end()
	if a.heard != nil {
		if ds = ds.Beyond(*a.heard); len(ds) == 0 {
			return
		}
		if *a.heard = append(*a.heard, ds...); a.form.value == "json" {
			return
		}
	}
	if a.form.value == "json" {
		data := diagnosticsData{travel.HeaderOf("diagnostics"), ds.Sorted()}
		var b bytes.Buffer
		encoder := json.NewEncoder(&b)
		encoder.SetEscapeHTML(false)
		encoder.SetIndent("", "  ")
		_ = encoder.Encode(data)
		_, _ = a.stderr.Write(travel.CleanJSON(b.Bytes())) // there is no other stream to say that this one is gone
		return
	}
	_ = lang.Report(a.stderr, ds, a.palette(a.stderr).Role) // as above
}

// reportWarnings reports what was found, if anything was.
func (a *app) reportWarnings(found lang.Diagnostics) {
	if len(found) > 0 {
		a.report(found)
	}
}

// reportFault says that the program itself failed, and how to have it fail again; the stack is for its
// developers.
func (a *app) reportFault(fault any, stack []byte) int {
	if of, ok := fault.(*parallel.Fault); ok {
		fault, stack = of.Value, of.Stack
	}
	fmt.Fprintf(a.stderr, "glassbrief: a fault of the program, not of your files: %s\n", lang.Printable(fmt.Sprint(fault)))
	fmt.Fprintf(a.stderr, "It came with: glassbrief %s\n", lang.Printable(quotedArgs(a.args)))
	if a.verbose {
		fmt.Fprintf(a.stderr, "%s, %s, %s/%s\n%s", a.root.Version, runtime.Version(), runtime.GOOS, runtime.GOARCH, stack)
	} else {
		fmt.Fprintln(a.stderr, "Please report it with your input and with what the same command prints under --verbose; \"glassbrief help bugs\" says where.")
	}
	return exitFault
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
		because("A value with spaces goes between quotes, as in --sensor \"36mm x 24mm\".")
}
