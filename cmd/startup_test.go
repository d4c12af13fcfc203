//go:build unix

package cmd

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"glassbrief/lang/langtest"
)

const helloProgram = `package main

import "fmt"

func main() { fmt.Println("hello") }
`

// meterProgram runs the command of its arguments, and prints the nanoseconds that it took on
// the wall and of the processors, the most bytes of memory that it held, and its exit code. Systems count the memory of the process that
// starts another as the other's too, so that what starts a run to measure must be small:
// the process of a benchmark is not.
const meterProgram = `package main

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"syscall"
	"time"
)

func main() {
	c := exec.Command(os.Args[1], os.Args[2:]...)
	c.Stderr = os.Stderr
	start := time.Now()
	err := c.Run()
	took := time.Since(start)
	if c.ProcessState == nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	used := c.ProcessState.SysUsage().(*syscall.Rusage)
	most := int64(used.Maxrss)
	if runtime.GOOS != "darwin" { // where it is in bytes
		most *= 1024
	}
	fmt.Println(took.Nanoseconds(), used.Utime.Nano()+used.Stime.Nano(), most, c.ProcessState.ExitCode())
}
`

// A meter measures whole runs of programs.
type meter struct {
	b      testing.TB
	binary string
}

func newMeter(b testing.TB) meter {
	b.Helper()
	return meter{b, compileText(b, "meter", meterProgram)}
}

// A measurement is what one run of a program took.
type measurement struct {
	took, processor time.Duration
	megabytes       float64 // the most that it held
	code            int
	complaint       string // on standard error
}

// measure runs a program in a folder.
func (m meter) measure(folder, program string, args ...string) (got measurement) {
	m.b.Helper()
	c := exec.Command(m.binary, append([]string{program}, args...)...)
	c.Dir = folder
	c.Env = append(os.Environ(), "XDG_CONFIG_HOME="+m.b.TempDir())
	var complaint bytes.Buffer
	c.Stderr = &complaint
	out, err := c.Output()
	if err != nil {
		m.b.Fatalf("%s %v: %v\n%s", program, args, err, complaint.String())
	}
	var bytes int64
	if _, err := fmt.Sscan(string(out), &got.took, &got.processor, &bytes, &got.code); err != nil {
		m.b.Fatalf("%q: %v", out, err)
	}
	got.megabytes, got.complaint = float64(bytes)/(1<<20), complaint.String()
	return got
}

// run measures a run that goes well, with whatever answer.
func (m meter) run(program string, args ...string) measurement {
	m.b.Helper()
	got := m.measure("", program, args...)
	if got.code > exitNo {
		m.b.Fatalf("%s %v ended with %d\n%s", program, args, got.code, got.complaint)
	}
	return got
}

// A measuredRun is the best of several runs.
type measuredRun struct {
	program   string
	args      []string
	took      time.Duration
	busy      time.Duration // of processors
	megabytes float64
}

func newRun(program string, args ...string) *measuredRun {
	return &measuredRun{program: program, args: args, took: math.MaxInt64, busy: math.MaxInt64, megabytes: math.Inf(1)}
}

// again takes the run's turn.
func (r *measuredRun) again(m meter) {
	got := m.run(r.program, r.args...)
	r.took, r.busy, r.megabytes = min(r.took, got.took), min(r.busy, got.processor), min(r.megabytes, got.megabytes)
}

func (r *measuredRun) memory(name string, most float64) langtest.Bound {
	return langtest.Bound{Metric: name + "-MB", Value: func() float64 { return r.megabytes }, AtMost: most}
}

// BenchmarkStartup compares whole runs of the command with those of a Go program that
// prints one line.
func BenchmarkStartup(b *testing.B) {
	m := newMeter(b)
	ours := compile(b, "./glassbrief")
	scenario, err := filepath.Abs("../scenarios/night-ferry.scenario")
	if err != nil {
		b.Fatal(err)
	}
	hello := newRun(compileText(b, "hello", helloProgram))
	version, help, recommend := newRun(ours, "--version"), newRun(ours, "--help"), newRun(ours, "recommend", scenario)
	than := func(name string, run *measuredRun, most float64) langtest.Bound {
		return langtest.Bound{Metric: name + "/hello", AtMost: most, Value: func() float64 { return float64(run.took) / float64(hello.took) }}
	}
	langtest.Hold(b, func() {
		for range 5 { // of a few milliseconds each
			for _, run := range []*measuredRun{hello, version, help, recommend} {
				run.again(m)
			}
		}
	}, than("version", version, 2.5), than("help", help, 2.5), than("recommend", recommend, 6), recommend.memory("recommend", 32))
}

// BenchmarkManyLenses reads and judges a hundred thousand lenses, which takes several files.
func BenchmarkManyLenses(b *testing.B) {
	const files, each = 5, 20_000
	folder := b.TempDir()
	brief := "scenario \"Many\" {\n camera \"Body\"\n rig \"Sled\"\n}\nshot \"1A\" {\n subject person 1.75m\n frame medium\n distance 2m..2.4m\n light 400lx\n}\n"
	for i := range files {
		name, text := fmt.Sprintf("part-%d.catalog", i), manyLenses(i*each+1, (i+1)*each)
		if i == 0 {
			text = largeEquipment + text
		}
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			b.Fatal(err)
		}
		brief = fmt.Sprintf("use %q\n", name) + brief
	}
	path := filepath.Join(folder, "many.scenario")
	if err := os.WriteFile(path, []byte(brief), 0o600); err != nil {
		b.Fatal(err)
	}
	m := newMeter(b)
	run := newRun(compile(b, "./glassbrief"), "recommend", path)
	langtest.Hold(b, func() { run.again(m) }, run.memory("recommend", 400))
}

// BenchmarkLongRankings ranks twenty thousand lenses in nine shots. What programs read of that is
// little and takes little more than text; all of it is written without being held.
func BenchmarkLongRankings(b *testing.B) {
	path := scenarioOf(b, largeBrief(9, "\"Body\""), 20_000)
	few := filepath.Join(b.TempDir(), "few.json")
	m, ours := newMeter(b), compile(b, "./glassbrief")
	text, json, all := newRun(ours, "recommend", path), newRun(ours, "recommend", path, "-o", few), newRun(ours, "recommend", path, "--as", "json", "--all")
	langtest.Hold(b, func() {
		text.again(m)
		json.again(m)
		if math.IsInf(all.megabytes, 1) { // once: it writes a gigabyte
			all.again(m)
		}
	}, langtest.Bound{Metric: "json/text", AtMost: 1.5, Value: func() float64 { return float64(json.busy) / float64(text.busy) }},
		langtest.Bound{Metric: "json-MB", AtMost: 5, Value: func() float64 {
			info, err := os.Stat(few)
			if err != nil {
				b.Fatal(err)
			}
			return float64(info.Size()) / 1e6
		}}, all.memory("all", 300))
}

// BenchmarkManyShots examines the equipment for two thousand shots and sixty lenses.
func BenchmarkManyShots(b *testing.B) {
	path := scenarioOf(b, largeBrief(2000, `"Body"`), 60)
	m := newMeter(b)
	doctor := newRun(compile(b, "./glassbrief"), "catalog", "doctor", path)
	langtest.Hold(b, func() { doctor.again(m) },
		langtest.Bound{Metric: "doctor-s", Value: func() float64 { return doctor.busy.Seconds() }, AtMost: 3}, doctor.memory("doctor", 300))
}

// BenchmarkStartupOfLibrary measures what the library that checks our workbooks in tests
// would cost every start, if the program held it. Once it misses its bound, the library
// should write the workbooks in place of package sheet.
func BenchmarkStartupOfLibrary(b *testing.B) {
	m := newMeter(b)
	hello := newRun(compileText(b, "hello", helloProgram))
	library := newRun(compileText(b, "library", strings.Replace(helloProgram, `import "fmt"`, "import (\n\t\"fmt\"\n\n\t_ \"github.com/xuri/excelize/v2\"\n)", 1)))
	langtest.Hold(b, func() {
		for range 5 {
			hello.again(m)
			library.again(m)
		}
	}, langtest.Bound{Metric: "library/hello", Value: func() float64 { return float64(library.took) / float64(hello.took) }, AtLeast: 1.5})
}

// compileText compiles a program of one file and gives the path of the binary.
func compileText(b testing.TB, name, text string) string {
	b.Helper()
	path := filepath.Join(b.TempDir(), name+".go")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		b.Fatal(err)
	}
	return compile(b, path)
}

// compile compiles a program and gives the path of the binary.
func compile(b testing.TB, what string) string {
	b.Helper()
	binary := filepath.Join(b.TempDir(), strings.TrimSuffix(filepath.Base(what), ".go"))
	c := exec.Command("go", "build", "-o", binary, what)
	c.Env = append(os.Environ(), "CGO_ENABLED=0") // as where no C compiler is, which takes less to start
	if out, err := c.CombinedOutput(); err != nil {
		b.Fatalf("building %s: %v\n%s", what, err, out)
	}
	return installed(b, binary)
}

// installed writes a program anew, as whoever unpacks it does. The linker writes here and there, and the
// system then keeps the file in single pages, from which a start takes up to a fifth longer.
func installed(b testing.TB, binary string) string {
	b.Helper()
	text, err := os.ReadFile(binary)
	if err != nil {
		b.Fatal(err)
	}
	path := binary + "-installed"
	if err := os.WriteFile(path, text, 0o755); err != nil {
		b.Fatal(err)
	}
	return path
}
