//go:build unix

package cmd

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"
)

// BenchmarkStartup compares whole runs of the command with those of a Go program that
// prints one line: the median over rounds of the ratio of their times, for the two run in
// turn, and the most memory that a run held. Linux counts from the memory of the process
// that starts another, so that the last is a bound from above. For numbers worth keeping:
//
//	go test ./cmd -run '^$' -bench Startup -benchtime 80x
func BenchmarkStartup(b *testing.B) {
	folder := b.TempDir()
	hello := build(b, folder, "hello.go", `package main

import "fmt"

func main() { fmt.Println("hello") }
`)
	ours := filepath.Join(folder, "glassbrief")
	compile(b, ours, "./glassbrief")
	scenario, err := filepath.Abs("../scenarios/night-ferry.scenario")
	if err != nil {
		b.Fatal(err)
	}
	runs := []struct {
		name  string
		args  []string
		ratio []float64
		most  int64 // of memory, in kilobytes
	}{
		{name: "version", args: []string{"--version"}},
		{name: "help", args: []string{"--help"}},
		{name: "recommend", args: []string{"recommend", scenario}},
	}
	for b.Loop() {
		for i := range runs {
			run := &runs[i]
			base, _ := timed(b, hello)
			took, memory := timed(b, ours, run.args...)
			run.ratio = append(run.ratio, float64(took)/float64(base))
			run.most = max(run.most, memory)
		}
	}
	for _, run := range runs {
		slices.Sort(run.ratio)
		b.ReportMetric(run.ratio[len(run.ratio)/2], run.name+"/hello")
		b.ReportMetric(float64(run.most)/1024, run.name+"-MB")
	}
}

// build compiles a program of one file and gives the path of the binary.
func build(b *testing.B, folder, name, text string) string {
	b.Helper()
	path := filepath.Join(folder, name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		b.Fatal(err)
	}
	binary := path + ".bin"
	compile(b, binary, path)
	return binary
}

func compile(b *testing.B, binary, what string) {
	b.Helper()
	c := exec.Command("go", "build", "-o", binary, what)
	c.Env = append(os.Environ(), "CGO_ENABLED=0") // as where no C compiler is, which takes less to start
	if out, err := c.CombinedOutput(); err != nil {
		b.Fatalf("building %s: %v\n%s", what, err, out)
	}
}

// timed runs a command to its end, and gives how long that took and the most kilobytes of
// memory that it held.
func timed(b *testing.B, name string, args ...string) (took time.Duration, memory int64) {
	b.Helper()
	c := exec.Command(name, args...)
	c.Env = append(os.Environ(), "XDG_CONFIG_HOME="+b.TempDir())
	start := time.Now()
	if err := c.Run(); err != nil {
		b.Fatalf("%s %v: %v", name, args, err)
	}
	took = time.Since(start)
	if usage, ok := c.ProcessState.SysUsage().(*syscall.Rusage); ok {
		memory = usage.Maxrss
	}
	return took, memory
}
