//go:build js

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io/fs"
	"time"

	"glassbrief/cmd/report"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/lang"
)

type session struct {
	s *brief.Scenario
}

type input struct {
	Name  string
	Files map[string]string
}

type tree map[string]string
type file struct {
	*bytes.Reader
	name string
}

func (t tree) Open(name string) (fs.File, error) {
	text, ok := t[name]
	if !ok {
		return nil, fs.ErrNotExist
	}
	return &file{bytes.NewReader([]byte(text)), name}, nil
}
func (f *file) Stat() (fs.FileInfo, error) { return f, nil }
func (f *file) Close() error               { return nil }
func (f *file) Name() string               { return f.name }
func (f *file) Mode() fs.FileMode          { return 0o444 }
func (f *file) ModTime() time.Time         { return time.Time{} }
func (f *file) IsDir() bool                { return false }
func (f *file) Sys() any                   { return nil }

func openSession(text string) (session, error) {
	var in input
	if err := json.Unmarshal([]byte(text), &in); err != nil {
		return session{}, err
	}
	b := lang.NewBudget(lang.DefaultBudget)
	src, _ := b.Source(in.Name, in.Files[in.Name], lang.OfFile)
	s, found := brief.Load(src, brief.Files{Tree: tree(in.Files), Budget: b})
	return session{s}, found.Err()
}

func (s session) answer(string) any {
	r, err := engine.Recommend(context.Background(), s.s, engine.Options{})
	if err != nil {
		panic(err)
	}
	a, _ := answer.Around(context.Background(), r)
	var o bytes.Buffer
	report.Writer{}.Recommendation(&o, a)
	return o.String()
}
func (s session) json() (any, error) { return "", errClosed }
func (s session) warm() bool         { return false }
