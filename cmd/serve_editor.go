package cmd

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"glassbrief/cmd/editor"
	"glassbrief/engine/brief"
	"glassbrief/lang"

	"github.com/spf13/cobra"
)

func (a *app) serveEditor() *cobra.Command {
	return &cobra.Command{
		Use:   "serve-editor",
		Short: "answer an editor, as a language server",
		Long: `Speaks the Language Server Protocol on standard input and output, for editors:
faults as you type and their corrections, layout, what a word or a number means,
what may be written here, where a lens is described and named, another name for
it in all files of the folder, and above each shot its lens, set-up and verdict.
An editor starts it by itself; files for colours stand under lang/editors.`,
		Example: `  glassbrief serve-editor`,
		Args:    noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := a.loadSettings(""); err != nil {
				return err
			}
			err := editor.Serve(c.Context(), a.stdin, a.stdout, editor.Session{
				Version: version(), Printer: a.printer(), Log: a.stderr, List: languageFiles,
				Files: func(path string, use func(brief.Files)) error {
					return a.alone().readable(path, func(files brief.Files) error {
						use(files)
						return nil
					})
				},
			})
			if errors.Is(err, editor.ErrNotShutDown) {
				return errNo
			}
			if err != nil {
				return usage(lang.UnexpectedText, "the session ended: %s", err).because("Look at what the editor sends.")
			}
			return nil
		},
	}
}

// mostListed bounds the files that are looked for in a folder, and those that are passed by.
const mostListed, mostPassed = 1_000, 100_000

// languageFiles gives the paths of the files of the language in a folder and below, but for folders whose
// name begins with a point, and whether that is all of them.
func languageFiles(folder string) (paths []string, all bool) {
	passed := 0
	all = true
	_ = filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		passed++
		switch {
		case passed > mostPassed || len(paths) == mostListed:
			all = false
			return fs.SkipAll
		case err != nil:
			all = false
			return fs.SkipDir
		case entry.IsDir() && path != folder && strings.HasPrefix(entry.Name(), "."):
			return fs.SkipDir
		case entry.Type().IsRegular() && slices.Contains(languageExtensions, strings.TrimPrefix(filepath.Ext(path), ".")):
			paths = append(paths, path)
		}
		return nil
	})
	return paths, all
}
