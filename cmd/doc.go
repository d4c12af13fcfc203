// Package cmd is glassbrief's command line: the verbs, their flags, and every form in
// which a result is shown.
//
// [Main] runs one command and gives its exit code. A verb lives in a file of its own,
// which reads its flags and builds a view; the view is shown as text, JSON, Markdown,
// CSV or HTML by one piece of code (output.go); a verb itself prints only what is no result.
//
// This is the only package that reads files, environment, settings and terminals.
package cmd
