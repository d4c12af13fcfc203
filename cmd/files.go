package cmd

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"glassbrief/lang"
)

// readSource reads a text file, no further than one byte past the limit of the
// language. It fails with [lang.Diagnostics]; the system's own error is wrapped too.
func readSource(path string) (*lang.Source, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, unreadable(path, err)
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, lang.MaxFileBytes+1))
	if err != nil {
		return nil, unreadable(path, err)
	}
	src, found := lang.NewSource(path, text)
	return src, found.Err()
}

// unreadable is the complaint about a file that cannot be read, with the system's reason.
func unreadable(path string, err error) error {
	return usage(lang.UnreadableFile, "%q cannot be read: %s", path, reasonOf(err)).
		because("Check the name, and the folder that you run the command in.").causedBy(err)
}

// write hands the writer of the result to fill: standard output, or with -o a temporary
// file that takes the name only when it is complete, so that nobody ever reads half of
// a result and a failure leaves the old one.
func (a *app) write(fill func(io.Writer) error) error {
	if a.output == "" || a.output == "-" {
		return fill(a.stdout)
	}
	if err := writeFile(a.output, fill); err != nil {
		return usage(lang.UnreadableFile, "%q cannot be written: %s", a.output, err).
			because("Name a file in a folder that exists and that you may write to.")
	}
	if a.verbose {
		fmt.Fprintf(a.stderr, "written: %s\n", a.output)
	}
	return nil
}

func writeFile(path string, fill func(io.Writer) error) (err error) {
	temporary, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"-*.tmp")
	if err != nil {
		return reasonOf(err)
	}
	defer func() {
		if err != nil {
			os.Remove(temporary.Name())
		}
	}()
	mode := fs.FileMode(0o644)
	if old, statErr := os.Stat(path); statErr == nil {
		mode = old.Mode().Perm()
	}
	if err = errors.Join(fill(temporary), temporary.Chmod(mode), temporary.Close()); err != nil {
		return reasonOf(err)
	}
	return reasonOf(os.Rename(temporary.Name(), path))
}

// reasonOf gives the system's reason without the name of the file, which is said before
// it, or is that of a temporary file.
func reasonOf(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}
