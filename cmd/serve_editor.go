package cmd

import (
	"errors"

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
what may be written here, and where a lens is described. An editor starts it by
itself; files for colours stand under lang/editors.`,
		Example: `  glassbrief serve-editor`,
		Args:    noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			if err := a.loadSettings(""); err != nil {
				return err
			}
			err := editor.Serve(c.Context(), a.stdin, a.stdout, editor.Session{
				Version: version(), Printer: a.printer(), Log: a.stderr,
				Files: func(path string, use func(brief.Files)) error {
					a.forget()
					return a.readable(path, func(files brief.Files) error {
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
