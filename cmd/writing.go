package cmd

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"glassbrief/cmd/lock"
	"glassbrief/cmd/whatif/program"
	"glassbrief/lang"
)

const (
	lockPatience = 2 * time.Second // for another run to be done with a file
	lockPause    = 20 * time.Millisecond
	// savePause is how long a file that was displaced is looked at once more: a program that had it
	// open may have written to it meanwhile.
	savePause = 5 * time.Millisecond
	// saveTries is how often a change is made anew because another program saved the file meanwhile.
	saveTries = 50
)

// write hands the writer of the result to fill: standard output, or with -o a temporary
// file that takes the name only when it is complete, so that nobody ever reads half of
// a result and a failure leaves the old one. An input of the run is never overwritten.
func (a *app) write(fill func(io.Writer) error) error {
	if a.output == "" || a.output == "-" {
		err := error(nil)
		if a.stdout == io.Writer(os.Stdout) && isClosed(os.Stdout) {
			err = os.ErrClosed
		} else {
			err = fill(a.stdout)
		}
		if err != nil {
			return lost("standard output", err)
		}
		return nil
	}
	if err := a.spareInput(); err != nil {
		return err
	}
	if err := writeFile(a.output, fill); err != nil {
		return lost(a.output, err)
	}
	if a.verbose {
		fmt.Fprintf(a.stderr, "written: %s\n", a.output)
	}
	return nil
}

// spareInput refuses a result that would take the place of an input of the run.
func (a *app) spareInput() error {
	if a.output == "" || a.output == "-" || !a.isInput(a.output) {
		return nil
	}
	return usage(lang.NotAllowed, "%q is read by this run, and would be lost", a.output).because("Name another file with -o.")
}

// lost is the complaint about a result that cannot be written.
func lost(name string, err error) error {
	c := usage(lang.UnreadableFile, "%q cannot be written: %s", name, reasonOf(err)).causedBy(err)
	switch {
	case errors.As(err, &held{}):
		return c.because("Wait until it is done, and run this again.")
	case isBroken(err):
		return c.because("Nothing is lost: what stood there stands there still. Make room, or name another place with -o.")
	}
	return c.because("Name a file in a folder that exists and that you may write to.")
}

// isBroken reports whether a result could not be written for no fault of whoever asked for it.
func isBroken(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EIO) || errors.Is(err, syscall.EDQUOT) || errors.Is(err, syscall.EBADF) ||
		errors.Is(err, syscall.EPIPE) || errors.Is(err, os.ErrClosed) || errors.As(err, new(*program.Missing))
}

// textWriter gives what writes a text.
func textWriter(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

// writeFile gives a file what fill writes, in one step.
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
	release, err := hold(target)
	if err != nil {
		return err
	}
	defer release()
	temporary, err := filled(target, mode, fill)
	if err == nil {
		if err = os.Rename(temporary, target); err == nil {
			settle(target)
			return nil
		}
		os.Remove(temporary)
	}
	return reasonOf(err)
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

// A held is a file that another run is changing.
type held struct{ owner string }

func (h held) Error() string { return "it is being changed by another run" + h.owner }

// hold keeps other runs from a file until it is released, and clears away what a run that was cut off
// left beside it.
func hold(target string) (release func(), err error) {
	folder, base := filepath.Split(target)
	name := filepath.Join(folder, "."+base+".lock")
	ctx, stop := context.WithTimeout(context.Background(), lockPatience)
	defer stop()
	release, err = lock.Take(ctx, name, lockPause)
	if errors.Is(err, context.DeadlineExceeded) {
		owner := ""
		if text, err := os.ReadFile(name); err == nil {
			if process, since, ok := strings.Cut(string(text), " "); ok {
				owner = fmt.Sprintf(", process %s, since %s", process, since)
			}
		}
		return nil, held{owner}
	}
	if err != nil {
		return nil, reasonOf(err)
	}
	_ = os.WriteFile(name, fmt.Appendf(nil, "%d %s", os.Getpid(), time.Now().Format(time.TimeOnly)), 0o644) // for the complaint of another run alone
	left, _ := filepath.Glob(escaped(filepath.Join(folder, "."+base)) + "-*.tmp")
	for _, temporary := range left {
		os.Remove(temporary)
	}
	return release, nil
}

// escaped writes a path as a pattern that only it matches.
func escaped(path string) string {
	return strings.NewReplacer(`*`, `\*`, `?`, `\?`, `[`, `\[`, `\`, `\\`).Replace(path)
}

// filled makes a temporary file beside a target and fills it, down to the disk. When anything fails
// it is gone.
func filled(target string, mode fs.FileMode, fill func(io.Writer) error) (name string, err error) {
	temporary, err := os.CreateTemp(filepath.Dir(target), "."+filepath.Base(target)+"-*.tmp")
	if err != nil {
		return "", err
	}
	if err = fill(temporary); err == nil {
		err = errors.Join(temporary.Chmod(mode.Perm()), temporary.Sync())
	}
	if err = errors.Join(err, temporary.Close()); err != nil {
		os.Remove(temporary.Name())
		return "", err
	}
	return temporary.Name(), nil
}

// settle brings the new name of a file to the disk.
func settle(target string) {
	if folder, err := os.Open(filepath.Dir(target)); err == nil {
		_ = folder.Sync() // not every system can, and the file itself is safe
		folder.Close()
	}
}

// updateFile changes a text file that other runs and programs may change at the same time: the change
// sees what stands there, and what it gives takes its place in one step, unless another text has come
// there meanwhile; then it is made anew from that. A file that does not exist is seen as nil.
func (a *app) updateFile(path string, change func(old *lang.Source) (text string, err error)) error {
	target, mode, err := writable(path)
	if err != nil {
		return lost(path, err)
	}
	if !mode.IsRegular() {
		return lost(path, errors.New("it is no file"))
	}
	release, err := hold(target)
	if err != nil {
		return lost(path, err)
	}
	defer release()
	for range saveTries {
		old, err := a.readSource(target)
		if errors.Is(err, fs.ErrNotExist) {
			old, err = nil, nil
		}
		if err != nil {
			return err
		}
		text, err := change(old)
		if err != nil {
			return err
		}
		if old != nil && text == old.Text {
			return nil
		}
		temporary, err := filled(target, mode, textWriter(text))
		if err != nil {
			return lost(path, err)
		}
		done, err := take(temporary, target, old, text)
		os.Remove(temporary)
		if err != nil {
			return lost(path, err)
		}
		if done {
			settle(target)
			if a.verbose {
				fmt.Fprintf(a.stderr, "written: %s\n", path)
			}
			return nil
		}
	}
	return lost(path, errors.New("another program keeps saving it"))
}

// take puts a temporary file in the place of a text, and reports whether that text stood there. If
// another did, the last that came there stands there again.
func take(temporary, target string, old *lang.Source, text string) (bool, error) {
	if old == nil {
		err := os.Link(temporary, target) // it takes a name only when nothing has it
		if errors.Is(err, fs.ErrExist) {
			return false, nil
		}
		return err == nil, err
	}
	displaced, err := exchange(temporary, target)
	if err != nil {
		return false, err
	}
	if same(displaced, old.Text) {
		time.Sleep(savePause)
		if late, err := os.ReadFile(temporary); err == nil && !same(late, old.Text) && !same(late, text) {
			displaced = late
		} else {
			return true, nil
		}
	}
	for ours := []byte(text); ; {
		out, err := exchange(temporary, target)
		if err != nil {
			return false, err
		}
		if bytes.Equal(out, ours) {
			return false, nil
		}
		ours, displaced = displaced, out
	}
}

// same reports whether a file holds a text, behind a byte-order mark or not: a source has none.
func same(content []byte, text string) bool {
	return string(bytes.TrimPrefix(content, []byte("\ufeff"))) == text
}

// takeName is [exchange] where two names cannot be exchanged in one step.
func takeName(temporary, target string) (displaced []byte, err error) {
	if displaced, err = os.ReadFile(target); err != nil {
		return nil, err
	}
	aside := temporary + "-aside.tmp"
	if err := os.Link(target, aside); err != nil {
		return nil, err
	}
	if err := os.Rename(temporary, target); err != nil {
		os.Remove(aside)
		return nil, err
	}
	return displaced, os.Rename(aside, temporary)
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
