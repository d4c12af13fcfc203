// Package textfile gives texts that are no files on disk as files of a tree: those that an
// editor has open, and those of another revision.
package textfile

import (
	"io/fs"
	"path"
	"strings"
	"time"
)

// Open gives a text as an open file of a name.
func Open(name, text string) fs.File {
	return file{strings.NewReader(text), info{path.Base(name), int64(len(text))}}
}

type file struct {
	*strings.Reader
	info info
}

func (f file) Stat() (fs.FileInfo, error) { return f.info, nil }
func (file) Close() error                 { return nil }

type info struct {
	name string
	size int64
}

func (i info) Name() string     { return i.name }
func (i info) Size() int64      { return i.size }
func (info) Mode() fs.FileMode  { return 0o444 }
func (info) ModTime() time.Time { return time.Time{} }
func (info) IsDir() bool        { return false }
func (info) Sys() any           { return nil }
