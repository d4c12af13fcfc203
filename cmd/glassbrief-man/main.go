// Command glassbrief-man writes the manual pages of glassbrief into a folder:
//
//	go run ./cmd/glassbrief-man DIR
//
// It stands apart so that the command itself does not carry what draws the pages. The
// pages bear the date in SOURCE_DATE_EPOCH, or today's.
package main

import (
	"fmt"
	"os"

	"glassbrief/cmd"

	"github.com/spf13/cobra/doc"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: glassbrief-man DIR")
		os.Exit(2)
	}
	if err := write(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "glassbrief-man:", err)
		os.Exit(2)
	}
}

// write makes the folder if need be, and a page for each verb and each topic of help in it.
func write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	root, err := cmd.Manual()
	if err != nil {
		return err
	}
	root.DisableAutoGenTag = true
	return doc.GenManTree(root, &doc.GenManHeader{Source: "glassbrief", Manual: "glassbrief"}, dir)
}
