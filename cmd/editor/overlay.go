package editor

import (
	"io/fs"
	"path/filepath"
	"testing/fstest" // its map of files is the standard library's file system in memory
)

// An overlay is a tree of files in which the texts of open documents stand in the place
// of the files that they are of.
type overlay struct {
	tree      fs.FS
	folder    string
	documents map[string]*document
}

func (o overlay) Open(name string) (fs.File, error) {
	path := filepath.Join(o.folder, filepath.FromSlash(name))
	for _, d := range o.documents {
		if d.path != "" && d.path == path {
			return fstest.MapFS{name: {Data: []byte(d.text)}}.Open(name)
		}
	}
	if o.tree == nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return o.tree.Open(name)
}
