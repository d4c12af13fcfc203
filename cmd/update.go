package cmd

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"glassbrief/lang"
)

const (
	updatePatience = 2 * time.Second // for another run to be done with a file
	updatePause    = 20 * time.Millisecond
)

// updateFile changes a text file that other runs may change at the same time: the change
// sees what stands there, and what it gives takes its place in one step. A file that does
// not exist is seen as nil. The new text is written beside the file under a name that only
// one run can have, so that no change is lost.
func (a *app) updateFile(path string, change func(old *lang.Source) (text string, err error)) error {
	cannot := func(err error) error {
		return usage(lang.UnreadableFile, "%q cannot be written: %s", path, reasonOf(err)).
			because("Name a file in a folder that exists and that you may write to.").causedBy(err)
	}
	target, mode, err := writable(path)
	if err != nil {
		return cannot(err)
	}
	if !mode.IsRegular() {
		return cannot(errors.New("it is no file"))
	}
	beside := filepath.Join(filepath.Dir(target), "."+filepath.Base(target)+".new")
	lock, err := claim(beside)
	if errors.Is(err, fs.ErrExist) {
		return usage(lang.UnreadableFile, "%q is being changed by another run", path).
			because("Wait until it is done. If there is none, one was cut off: remove %q.", beside).causedBy(err)
	}
	if err != nil {
		return cannot(err)
	}
	var ours error
	err = replace(target, mode, lock, func(w io.Writer) error {
		var old *lang.Source
		if old, ours = readSource(target); errors.Is(ours, fs.ErrNotExist) {
			old, ours = nil, nil
		}
		if ours != nil {
			return ours
		}
		var text string
		if text, ours = change(old); ours != nil {
			return ours
		}
		if old != nil && text == old.Text {
			ours = errSame
			return ours
		}
		_, err := io.WriteString(w, text)
		return err
	})
	if ours == errSame {
		return nil
	}
	if ours != nil {
		return ours
	}
	if err != nil {
		return cannot(err)
	}
	if a.verbose {
		fmt.Fprintf(a.stderr, "written: %s\n", path)
	}
	return nil
}

// errSame leaves a file as it is, because the change gives the text that it has.
var errSame = errors.New("nothing changes")

// claim makes a file that must not exist yet, and waits for a while when it does.
func claim(path string) (*os.File, error) {
	for end := time.Now().Add(updatePatience); ; time.Sleep(updatePause) {
		file, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
		if !errors.Is(err, fs.ErrExist) || time.Now().After(end) {
			return file, err
		}
	}
}
