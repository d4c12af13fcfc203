//go:build unix

package cmd

import (
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"glassbrief/lang"
	"glassbrief/lang/langtest"
)

// A pipe that nobody writes to holds nothing up, whatever names it.
func TestPipesAreRefused(t *testing.T) {
	folder := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(folder, "config"))
	pipe := filepath.Join(folder, "pipe")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	brief := func(name, block, top string) string {
		path := filepath.Join(folder, name+".scenario")
		text := "use demo\n" + top + "scenario \"S\" {\n camera \"House body A\"\n rig \"Short sled\"\n" + block + "}\nshot \"1\" {\n scene \"1\"\n subject person 1.7m\n frame full\n distance 3m\n}\n"
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	plain := brief("plain", "", "")
	corrections := filepath.Join(folder, "corrections")
	if err := errors.Join(os.Mkdir(corrections, 0o700), syscall.Mkfifo(filepath.Join(corrections, "pipe.xml"), 0o600)); err != nil {
		t.Fatal(err)
	}
	for what, args := range map[string][]string{
		"scenario": {"recommend", pipe}, "use": {"recommend", brief("use", "", "use \"pipe\"\n")}, "script": {"check", brief("script", " script \"pipe\"\n", "")},
		"rules": {"recommend", brief("rules", " rules \"pipe\"\n", "")}, "settings": {"recommend", plain, "--settings", pipe},
		"list": {"catalog", "import", pipe}, "own rules": {"rules", "test", pipe}, "tidy": {"tidy", "-w", pipe}, "corrections": {"catalog", "import", corrections, "--find", "a"}, "a folder": {"recommend", folder},
	} {
		var complaint strings.Builder
		code := Main(args, strings.NewReader(""), io.Discard, &complaint)
		if code != exitBadInput || !strings.Contains(complaint.String(), "pipe") && what != "a folder" {
			t.Errorf("%s: ended with %d: %s", what, code, complaint.String())
		}
	}
	t.Setenv("XDG_CONFIG_HOME", os.DevNull)
	if code := Main([]string{"check", plain}, strings.NewReader(""), io.Discard, io.Discard); code != exitFine && code != exitNo {
		t.Errorf("a folder of settings that is none: ended with %d", code)
	}
}

// A stream that is closed takes nothing, which is said by the exit code. Output that is discarded on
// purpose is no fault, however the null device was opened for it.
func TestClosedOutput(t *testing.T) {
	binary := built(t)
	null, err := os.OpenFile(os.DevNull, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer null.Close()
	shell := func(redirection string) *exec.Cmd {
		return exec.CommandContext(t.Context(), "bash", "-c", fmt.Sprintf("%q facts %s", binary, redirection))
	}
	discarded := exec.CommandContext(t.Context(), binary, "facts")
	discarded.Stdout = null
	for _, run := range []struct {
		what string
		cmd  *exec.Cmd
		want int
	}{
		{"closed by a shell", shell(">&-"), exitFault},
		{"discarded by a shell", shell(">/dev/null"), exitFine},
		{"discarded by a program", discarded, exitFine},
		{"a full disk", shell(">/dev/full"), exitFault},
	} {
		if _, err := os.Stat("/dev/full"); err != nil && run.what == "a full disk" {
			continue
		}
		code := 0
		if exit := (*exec.ExitError)(nil); errors.As(run.cmd.Run(), &exit) {
			code = exit.ExitCode()
		}
		if code != run.want {
			t.Errorf("%s: ended with %d, want %d", run.what, code, run.want)
		}
	}
}

// built compiles the command.
func built(t *testing.T) string {
	t.Helper()
	binary := filepath.Join(t.TempDir(), "glassbrief")
	if out, err := exec.CommandContext(t.Context(), "go", "build", "-o", binary, "./glassbrief").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return binary
}

// A run that is killed at any moment leaves the old text or the new one, and the next run clears away
// what it left beside.
func TestKilledRunsLeaveNothing(t *testing.T) {
	binary, folder := built(t), t.TempDir()
	path := filepath.Join(folder, "kit.catalog")
	old := strings.Repeat("mount   \"M\" {\nflange 20mm\n}\n", 2000)
	save := func() {
		if err := os.WriteFile(path, []byte(old), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	save()
	src, _ := lang.NewSource(path, []byte(old))
	tidy, found := lang.TidyChecked(src)
	if found.HasErrors() {
		t.Fatal(found)
	}
	killed := 0
	for n := range langtest.Cases(200) {
		save()
		run := exec.CommandContext(t.Context(), binary, "tidy", "-w", path)
		if err := run.Start(); err != nil {
			t.Fatal(err)
		}
		timer := time.AfterFunc(time.Duration(rand.Int64N(int64(60*time.Millisecond))), func() { _ = run.Process.Kill() })
		if run.Wait() != nil {
			killed++
		}
		timer.Stop()
		if got, err := os.ReadFile(path); err != nil || string(got) != old && string(got) != tidy {
			t.Fatalf("run %d left %d bytes, %v", n, len(got), err)
		}
	}
	if killed == 0 {
		t.Error("no run was killed")
	}
	save()
	if err := exec.CommandContext(t.Context(), binary, "tidy", "-w", path).Run(); err != nil {
		t.Fatal(err)
	}
	if got, err := os.ReadFile(path); err != nil || string(got) != tidy {
		t.Errorf("the last run gives %d bytes, %v", len(got), err)
	}
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != 1 {
		t.Errorf("got %v, %v, want the file alone", entries, err)
	}
}

// Two imports into one catalogue at once are both in it, or one says that it is not.
func TestImportsAtOnceLoseNothing(t *testing.T) {
	binary, folder := built(t), t.TempDir()
	into := filepath.Join(folder, "kit.catalog")
	for round := range langtest.Cases(10) {
		var runs [2]*exec.Cmd
		for i := range runs {
			list := filepath.Join(folder, fmt.Sprintf("list-%d.csv", i))
			text := fmt.Sprintf("Lens,Mount,FL (mm),Aperture,Weight (g)\nLens %d of %d,Short,%d,f/2-22,600\n", i, round, 20+i)
			if err := os.WriteFile(list, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			runs[i] = exec.CommandContext(t.Context(), binary, "catalog", "import", list, "--into", into)
			runs[i].Dir = folder
			runs[i].Env = append(os.Environ(), "XDG_CONFIG_HOME="+folder)
			if err := runs[i].Start(); err != nil {
				t.Fatal(err)
			}
		}
		var errs [2]error
		for i, run := range runs {
			errs[i] = run.Wait()
		}
		text, err := os.ReadFile(into)
		if err != nil {
			t.Fatal(err)
		}
		for i, err := range errs {
			if has := strings.Contains(string(text), fmt.Sprintf("%q", fmt.Sprintf("Lens %d of %d", i, round))); has != (err == nil) {
				t.Errorf("round %d: import %d is in the catalogue: %t, and it ended with %v", round, i, has, err)
			}
		}
		if errs[0] != nil && errs[1] != nil {
			t.Errorf("round %d: neither import came through: %v, %v", round, errs[0], errs[1])
		}
	}
	if hidden, err := filepath.Glob(filepath.Join(folder, ".*")); err != nil || len(hidden) > 0 {
		t.Errorf("got %v, %v, want nothing left", hidden, err)
	}
}
