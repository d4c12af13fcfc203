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
	text, err := lang.ReadLimited(file)
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

// textWriter gives what writes a text.
func textWriter(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

func writeFile(path string, fill func(io.Writer) error) error {
	target, mode, err := writable(path)
	if err != nil {
		return err
	}
	if !mode.IsRegular() { // a device or a pipe has nothing that could be half written
		file, err := os.OpenFile(target, os.O_WRONLY, 0)
		if err != nil {
			return reasonOf(err)
		}
		return reasonOf(errors.Join(fill(file), file.Close()))
	}
	temporary, err := os.CreateTemp(filepath.Dir(target), "."+filepath.Base(target)+"-*.tmp")
	if err != nil {
		return reasonOf(err)
	}
	return replace(target, mode, temporary, fill)
}

// writable gives the file that a path leads to and the mode that it has or shall have, or
// says why nothing may be written there.
func writable(path string) (target string, mode fs.FileMode, err error) {
	target, err = filepath.EvalSymlinks(path)
	if errors.Is(err, fs.ErrNotExist) {
		return path, 0o644, nil
	}
	if err != nil {
		return "", 0, reasonOf(err)
	}
	info, err := os.Stat(target)
	switch {
	case err != nil:
		return "", 0, reasonOf(err)
	case info.IsDir():
		return "", 0, errors.New("it is a folder")
	case info.Mode().IsRegular() && info.Mode().Perm()&0o222 == 0:
		return "", 0, errors.New("it is read-only")
	}
	return target, info.Mode(), nil
}

// replace fills a temporary file, brings it to the disk and gives it the name of the
// target. When anything fails the target stays as it was, and the temporary file goes.
func replace(target string, mode fs.FileMode, temporary *os.File, fill func(io.Writer) error) error {
	err := fill(temporary)
	if err == nil {
		err = errors.Join(temporary.Chmod(mode.Perm()), temporary.Sync())
	}
	if err = errors.Join(err, temporary.Close()); err == nil {
		err = os.Rename(temporary.Name(), target)
	}
	if err != nil {
		os.Remove(temporary.Name())
		return reasonOf(err)
	}
	if folder, err := os.Open(filepath.Dir(target)); err == nil {
		_ = folder.Sync() // not every system can, and the file itself is safe
		folder.Close()
	}
	return nil
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
