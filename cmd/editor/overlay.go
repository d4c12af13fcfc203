package editor

import (
	"io/fs"
	"path/filepath"
	"strings"
	"time"
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
			return openText{strings.NewReader(d.text), textInfo{filepath.Base(path), int64(len(d.text))}}, nil
		}
	}
	if o.tree == nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return o.tree.Open(name)
}

// openText is the text of a document as a file.
type openText struct {
	*strings.Reader
	info textInfo
}

func (t openText) Stat() (fs.FileInfo, error) { return t.info, nil }
func (openText) Close() error                 { return nil }

type textInfo struct {
	name string
	size int64
}

func (i textInfo) Name() string     { return i.name }
func (i textInfo) Size() int64      { return i.size }
func (textInfo) Mode() fs.FileMode  { return 0o444 }
func (textInfo) ModTime() time.Time { return time.Time{} }
func (textInfo) IsDir() bool        { return false }
func (textInfo) Sys() any           { return nil }
