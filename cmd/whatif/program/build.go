package program

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"time"
)

// limit is the most that a build may take; the first takes about a minute.
const limit = 15 * time.Minute

// flags are those of "go build": two builds in two folders give the same bytes. Inlining makes the
// packed program a seventh larger, and it starts no sooner; so only the runtime is inlined, without which
// everything takes half as long again.
var flags = []string{
	"-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-gcflags=all=-l",
	"-gcflags=runtime=-l=0", "-gcflags=internal/runtime/...=-l=0", "-gcflags=internal/abi=-l=0", "-gcflags=sync/...=-l=0", "-gcflags=internal/sync=-l=0",
}

// settled is the environment that decides what a build gives. A variable that is empty would be taken
// from the user's file of "go env", so each has a value.
var settled = []string{
	"GOOS=js", "GOARCH=wasm", "GOWASM=satconv,signext", "GOFLAGS=-mod=readonly", "GOWORK=off",
	"GOEXPERIMENT=none", "GOFIPS140=off", "CGO_ENABLED=0", "GO111MODULE=on",
}

// environment gives the environment of the Go tool-chain: that of this run, but for what would change
// what is built.
func environment() []string {
	env := slices.DeleteFunc(os.Environ(), func(pair string) bool {
		name, _, _ := strings.Cut(pair, "=")
		return name == "GODEBUG" || name == "PWD" || slices.ContainsFunc(settled, func(of string) bool { return strings.HasPrefix(of, name+"=") })
	})
	return append(env, settled...)
}

// A chain is the Go tool-chain that would build the engine.
type chain struct {
	tool    string // path of the go command; "" when there is none
	version string // as "go1.26.8"; without a command, of the one that built this program
	root    string
}

// findChain finds the tool-chain that the go command chooses in the folder of the source.
func findChain(ctx context.Context, source string) (chain, error) {
	tool, err := exec.LookPath("go")
	if err != nil {
		return chain{version: runtime.Version()}, nil
	}
	c := chain{tool: tool}
	out, err := c.run(ctx, source, nil, "env", "GOVERSION", "GOROOT")
	if err != nil {
		return c, err
	}
	lines := strings.Fields(out)
	if len(lines) < 2 {
		return c, &Missing{Why: fmt.Sprintf("%q does not say where it is", tool+" env GOROOT")}
	}
	c.version, c.root = lines[0], strings.TrimSpace(out[strings.Index(out, "\n"):])
	return c, nil
}

// key names the engine that this tool-chain would build.
func (c chain) key(source string) (string, error) {
	hash, err := hashSource(os.DirFS(source))
	if err != nil {
		return "", err
	}
	all := slices.Concat([]string{format, packing, c.version, hash}, flags, settled)
	return sumOf([]byte(strings.Join(all, "\n")))[:32], nil
}

// run runs a go command in the folder of the source and gives what it prints; heard gets each line of
// its standard error.
func (c chain) run(ctx context.Context, source string, heard func(line string), args ...string) (string, error) {
	ctx, stop := context.WithTimeout(ctx, limit)
	defer stop()
	command := exec.CommandContext(ctx, c.tool, args...)
	command.Dir, command.Env = source, environment()
	var out bytes.Buffer
	command.Stdout = &out
	command.WaitDelay = time.Second // for what the command itself started
	said, err := command.StderrPipe()
	if err == nil {
		err = command.Start()
	}
	if err != nil {
		return "", &Missing{"Go cannot be run", err}
	}
	var last []string
	for lines := bufio.NewScanner(said); lines.Scan(); {
		if heard != nil {
			heard(lines.Text())
		}
		if strings.Contains(lines.Text(), " ") { // all else are the packages that are compiled
			last = append(last[max(0, len(last)-4):], lines.Text())
		}
	}
	if err := command.Wait(); err != nil {
		if ctx.Err() != nil {
			return "", &Missing{"Go did not build the engine for pages: " + ended(ctx.Err()), ctx.Err()}
		}
		return "", &Missing{fmt.Sprintf("Go did not build the engine for pages: %s", strings.Join(last, "; ")), err}
	}
	return out.String(), nil
}

// scratch begins the name of a folder in which Go builds.
const scratch = "building-"

// build builds the engine in a new folder within another one, "" for that of the system, and packs it.
func (c chain) build(ctx context.Context, source, within string, progress func(done, total int)) (*built, error) {
	starter, err := os.ReadFile(filepath.Join(c.root, "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return nil, &Missing{"this Go lacks what a program for browsers is started by", err}
	}
	wasm, err := c.compile(ctx, source, within, progress)
	if err != nil {
		return nil, err
	}
	return &built{hash: sumOf(wasm), starter: starter, packed: pack(wasm)}, nil
}

// compile gives the engine as Go compiles it.
func (c chain) compile(ctx context.Context, source, within string, progress func(done, total int)) ([]byte, error) {
	folder, err := os.MkdirTemp(within, scratch)
	if err != nil {
		return nil, &Missing{"there is no folder to build the engine for pages in", err}
	}
	defer os.RemoveAll(folder)
	packages, err := c.run(ctx, source, nil, "list", "-deps", "./"+entry)
	if err != nil {
		return nil, err
	}
	total, done := strings.Count(packages, "\n"), 0
	name := filepath.Join(folder, "engine.wasm")
	_, err = c.run(ctx, source, func(string) { // each line of -v is a package that is compiled
		done++
		progress(min(done, total), total)
	}, slices.Concat([]string{"build", "-v", "-o", name}, flags, []string{"./" + entry})...)
	if err != nil {
		return nil, err
	}
	wasm, err := os.ReadFile(name)
	if err == nil && !bytes.HasPrefix(wasm, []byte("\x00asm")) {
		err = errors.New("it is no WebAssembly")
	}
	if err != nil {
		return nil, &Missing{"Go did not write the engine for pages", err}
	}
	return wasm, nil
}
