package cmd

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"glassbrief/lang"
)

// openInput opens a regular file to read it, and keeps in mind that it is an input of the run. It never
// waits: a pipe that nobody writes to, and whatever else is no file, is refused.
func (a *app) openInput(path string) (*os.File, error) {
	return a.regular(os.OpenFile(path, os.O_RDONLY|unblocked, 0))
}

// regular lets only a regular file through.
func (a *app) regular(file *os.File, err error) (*os.File, error) {
	if err != nil {
		return nil, err
	}
	info, err := file.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = errors.New("it is " + kindOf(info.Mode()) + ", and no file")
	}
	if err != nil {
		file.Close()
		return nil, err
	}
	a.read.Store(file.Name(), info)
	return file, nil
}

// kindOf says what stands where a file should.
func kindOf(mode fs.FileMode) string {
	switch {
	case mode.IsDir():
		return "a folder"
	case mode&fs.ModeNamedPipe != 0:
		return "a pipe"
	case mode&fs.ModeSocket != 0:
		return "a socket"
	}
	return "a device"
}

// isInput reports whether a file is one that the run has read.
func (a *app) isInput(path string) bool {
	info, err := os.Stat(path)
	if err != nil {
		return false
	}
	found := false
	a.read.Range(func(_, read any) bool {
		found = os.SameFile(info, read.(os.FileInfo))
		return !found
	})
	return found
}

// mayReplace lets a result take the place of a file that the run has read.
func (a *app) mayReplace(path string) {
	info, err := os.Stat(path)
	if err != nil {
		return
	}
	a.read.Range(func(name, read any) bool {
		if os.SameFile(info, read.(os.FileInfo)) {
			a.read.Delete(name)
		}
		return true
	})
}

// A folder is the tree of files that a scenario may read, each opened as an input.
type folder struct {
	app  *app
	root *os.Root
}

// Open opens a file of the folder, as [fs.FS] asks.
func (f folder) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	file, err := f.app.regular(f.root.OpenFile(name, os.O_RDONLY|unblocked, 0))
	if err != nil { // a nil file must not become an interface that is not nil
		return nil, err
	}
	return file, nil
}

// A database is a folder, wherever it lies, each file of which is opened as an input.
type database struct {
	fs.FS
	app  *app
	path string
}

// Open opens a file of the folder, or the folder itself to list it.
func (d database) Open(name string) (fs.File, error) {
	if name == "." || !fs.ValidPath(name) {
		return d.FS.Open(name)
	}
	file, err := d.app.openInput(filepath.Join(d.path, filepath.FromSlash(name)))
	if err != nil {
		return nil, err
	}
	return file, nil
}

// readSource reads a text file. It fails with [lang.Diagnostics]; the system's own error is wrapped too.
func (a *app) readSource(path string) (*lang.Source, error) { return a.readPortion(path, lang.OfFile) }

func (a *app) readPortion(path string, of lang.Portion) (*lang.Source, error) {
	text, err := a.readText(path)
	if err != nil {
		return nil, err
	}
	src, found := a.budget.Source(path, text, of)
	return src, found.Err()
}

// readText reads a file whatever it holds, which costs nothing of the budget yet. It fails as readSource does.
func (a *app) readText(path string) (string, error) {
	file, err := a.openInput(path)
	if err != nil {
		return "", unreadable(path, err)
	}
	defer file.Close()
	text, err := a.budget.Read(file)
	if err != nil {
		return "", unreadable(path, err)
	}
	return text, nil
}

// unreadable is the complaint about a file that cannot be read, with the system's reason.
func unreadable(path string, err error) error {
	return usage(lang.UnreadableFile, "%q cannot be read: %s", path, reasonOf(err)).
		because("Check the name, and the folder that you run the command in.").causedBy(err)
}
