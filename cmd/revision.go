package cmd

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"strings"
	"testing/fstest" // its map of files is the standard library's file system in memory
	"time"

	"glassbrief/engine/brief"
	"glassbrief/lang"
)

// gitPatience bounds one run of git, which takes milliseconds unless something is wrong.
const gitPatience = 30 * time.Second

// withVersion calls use with a version of a scenario: a file, standard input, or
// "REVISION:PATH" as git has it. A file that is called so comes first.
func (a *app) withVersion(ctx context.Context, name string, use func(*lang.Source, brief.Files) error) error {
	revision, file, isRevision := strings.Cut(name, ":")
	if _, err := os.Stat(name); err == nil || name == "-" || !isRevision {
		return a.withFiles(name, use)
	}
	tree, inner, err := a.openRevision(ctx, revision, file)
	if err != nil {
		return err
	}
	text, err := brief.Files{Tree: tree, Budget: a.budget}.Text(inner)
	if err != nil {
		return usage(lang.UnreadableFile, "%q cannot be read: %s", name, reasonOf(err)).
			because("The path counts from this folder, and the file must be in that revision.").causedBy(err)
	}
	src, found := a.budget.Source(name, text, lang.OfFile)
	if found.HasErrors() {
		return found
	}
	// Settings are those of today for every version: they are the reader's.
	return a.readable(file, func(files brief.Files) error {
		files.Tree, files.Name = tree.below(path.Dir(inner)), path.Dir(name)
		return use(src, files)
	})
}

// A revision is the tree of files of a commit.
type revision struct {
	app    *app
	ctx    context.Context
	commit string // its full name
	folder string // from the top of the repository
}

// openRevision finds a commit by what a user calls it, and gives its tree and the path of
// a file in it; file counts from the working folder, as everywhere.
func (a *app) openRevision(ctx context.Context, name, file string) (revision, string, error) {
	if name == "" || strings.HasPrefix(name, "-") || strings.ContainsFunc(name, func(c rune) bool { return c < ' ' }) {
		return revision{}, "", usage(lang.UnknownName, "%q is no name of a revision", name).
			because("Write a branch, a tag or a commit before the colon, as in HEAD~1:%s.", file)
	}
	// The commit's own name is used from here on, so that what the user wrote is read by
	// git once, and as nothing else.
	commit, err := a.git(ctx, "rev-parse", "--verify", "--quiet", "--end-of-options", name+"^{commit}")
	if err != nil {
		return revision{}, "", revisionError(err, name)
	}
	prefix, err := a.git(ctx, "rev-parse", "--show-prefix")
	if err != nil {
		return revision{}, "", revisionError(err, name)
	}
	inner := path.Join(strings.TrimSuffix(prefix, "\n"), filepath.ToSlash(file))
	if path.IsAbs(filepath.ToSlash(file)) || filepath.IsAbs(file) || !fs.ValidPath(inner) || inner == "." {
		return revision{}, "", usage(lang.OutsideTree, "%q lies outside the repository", file).
			because("Write the path from this folder to a file that git has.")
	}
	return revision{app: a, ctx: ctx, commit: strings.TrimSpace(commit)}, inner, nil
}

func revisionError(err error, name string) error {
	var exit *exec.ExitError
	switch {
	case errors.Is(err, exec.ErrNotFound):
		return usage(lang.UnreadableFile, "git is needed to read %q, and there is none", name).
			because("Install git, or give two files.").causedBy(err)
	case errors.As(err, &exit) && strings.Contains(string(exit.Stderr), "not a git repository"):
		return usage(lang.UnreadableFile, "this folder is in no git repository").
			because("Run it in the folder of the scenario, or give two files.").causedBy(err)
	}
	return usage(lang.UnknownName, "the repository has no revision %q", name).
		because("Write a branch, a tag or a commit before the colon; \"git log\" lists commits.").causedBy(err)
}

// below gives the tree of a folder.
func (r revision) below(folder string) revision {
	r.folder = path.Join(r.folder, folder)
	return r
}

// Open gives a file of the commit, no more of it than makes one byte too many.
func (r revision) Open(name string) (fs.File, error) {
	fail := func(err error) (fs.File, error) { return nil, &fs.PathError{Op: "open", Path: name, Err: err} }
	if !fs.ValidPath(name) {
		return fail(fs.ErrInvalid)
	}
	text, err := r.app.git(r.ctx, "cat-file", "blob", r.commit+":"+path.Join(r.folder, name))
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		return fail(fs.ErrNotExist)
	}
	if err != nil {
		return fail(err)
	}
	return fstest.MapFS{name: {Data: []byte(text)}}.Open(name)
}

// git runs git without a shell and gives what it prints, up to one byte more than a file
// may hold. It asks nothing, fetches nothing and takes no locks.
func (a *app) git(ctx context.Context, arguments ...string) (string, error) {
	ctx, cancel := context.WithTimeout(ctx, gitPatience)
	defer cancel()
	command := exec.CommandContext(ctx, "git", arguments...)
	command.Env = append(os.Environ(), "LC_ALL=C", "GIT_OPTIONAL_LOCKS=0", "GIT_TERMINAL_PROMPT=0", "GIT_NO_LAZY_FETCH=1")
	var faults bytes.Buffer
	command.Stderr = &faults
	pipe, err := command.StdoutPipe()
	if err != nil {
		return "", err
	}
	if err := command.Start(); err != nil {
		return "", err
	}
	text, readErr := a.budget.Read(pipe)
	if more, _ := pipe.Read(make([]byte, 1)); more > 0 {
		cancel() // there is too much: the rest is of no use
		_ = command.Wait()
		return text, nil
	}
	err = command.Wait()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		exit.Stderr = faults.Bytes()
	}
	if err = errors.Join(err, readErr); err != nil {
		return "", fmt.Errorf("git %s: %w", arguments[0], err)
	}
	return text, nil
}
