package cmd

import (
	"errors"
	"fmt"
	"runtime"
	"strings"

	"glassbrief/cmd/show"
	"glassbrief/engine/parallel"
	"glassbrief/lang"
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
