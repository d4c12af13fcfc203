package cmd

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"glassbrief/lang/langtest"

	"golang.org/x/sys/unix"
)

// shells begins each shell with nothing but its own script: init is what it reads first, of which %s is
// the file of the script. It gives the command "show" the completion of glassbrief; show hands its
// arguments to the test through a pipe.
var shells = []struct {
	name, file, init string
	args             []string
}{
	{"bash", "init", `
source %s
complete -o default -F _glassbrief show
show() { printf '%%s\0' "$@" > said; }
PS1='READY> '
`, []string{"--noprofile", "--rcfile", "init", "-i"}},
	{"zsh", ".zshrc", `
autoload -Uz compinit
compinit -u -D
source %s
compdef _glassbrief show
bindkey '^I' complete-word # as it is, the tab key runs a command in the word first, whatever it completes
show() { printf '%%s\0' "$@" > said }
PROMPT='READY> '
`, []string{"-d", "-i"}},
	{"fish", "init", `
source %s
complete -c show -f -k -a '(__glassbrief_offers)'
function show; printf '%%s\0' $argv > said; end
function fish_prompt; echo 'READY> '; end
function fish_greeting; end
`, []string{"--no-config", "-i", "-C", "source init"}},
}

// A terminal is a shell that somebody types into.
type terminal struct {
	t      *testing.T
	folder string
	keys   *os.File

	mutex sync.Mutex
	shown bytes.Buffer
}

// startShell begins a shell in a folder, on a terminal of its own, and waits until it is ready.
func startShell(t *testing.T, name, folder string, args []string) *terminal {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { master.Close() })
	number, err := unix.IoctlGetInt(int(master.Fd()), unix.TIOCGPTN)
	if err == nil {
		err = unix.IoctlSetPointerInt(int(master.Fd()), unix.TIOCSPTLCK, 0)
	}
	if err != nil {
		t.Fatal(err)
	}
	slave, err := os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer slave.Close()
	if err := unix.IoctlSetWinsize(int(slave.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 50, Col: 200}); err != nil {
		t.Fatal(err)
	}
	c := exec.CommandContext(t.Context(), name, args...)
	c.Dir, c.Stdin, c.Stdout, c.Stderr = folder, slave, slave, slave
	c.Env = append(os.Environ(), "HOME="+folder, "ZDOTDIR="+folder, "XDG_CONFIG_HOME="+folder, "XDG_DATA_HOME="+folder, "XDG_CACHE_HOME="+folder,
		"GORACE=atexit_sleep_ms=0", // else the race detector keeps each run for a second at its end
		"TERM=xterm", "INPUTRC="+os.DevNull, "HISTFILE=", "LC_ALL=C.UTF-8")
	c.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		// With what it started: a shell that asks for completions has a copy of itself wait, and that would
		// try for ever to get hold of a terminal that is gone.
		_ = syscall.Kill(-c.Process.Pid, syscall.SIGKILL) // it may have ended
		_ = c.Wait()                                      // it was killed
	})
	s := &terminal{t: t, folder: folder, keys: master}
	ready := make(chan bool)
	go func() {
		told := false
		for part := make([]byte, 4096); ; {
			n, err := master.Read(part)
			s.mutex.Lock()
			s.shown.Write(part[:n])
			isReady := bytes.Contains(s.shown.Bytes(), []byte("READY> "))
			s.mutex.Unlock()
			if !told && (isReady || err != nil) {
				close(ready)
				told = true
			}
			if err != nil {
				return
			}
		}
	}()
	<-ready
	return s
}

// types types keys, which must run "show" once, and gives its arguments.
func (s *terminal) types(t *testing.T, keys string) []string {
	t.Helper()
	if _, err := s.keys.WriteString(keys); err != nil {
		t.Fatal(err)
	}
	pipe := filepath.Join(s.folder, "said")
	// A line that the shell takes for something else would be waited for without end.
	stuck := time.AfterFunc(2*time.Minute, func() {
		if end, err := os.OpenFile(pipe, os.O_WRONLY|syscall.O_NONBLOCK, 0); err == nil {
			end.Close()
		}
	})
	said, err := os.ReadFile(pipe)
	if !stuck.Stop() {
		s.mutex.Lock()
		defer s.mutex.Unlock()
		t.Fatalf("%q runs nothing; the terminal shows\n%q", keys, s.shown.Bytes()[max(0, s.shown.Len()-400):])
	}
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(said), "\x00"), "\x00")
}

// hostileNames are names of shots that a shell would take for something else.
var hostileNames = []string{
	"two words", "it's", `say "go"`, "$(touch pwned)", "`touch pwned`", "a;touch pwned", "a&touch pwned", "a|touch pwned", ">pwned", "<x", "(x)",
	"*", "?[a-z]", "~", "~root", "#1", "!!", "a!", "a!b", `\`, `a\`, `\'`, `\"`, "{a,b}", "-x", "--lens", "a:b", "a=b", "=ls", "@host", "a@b", "%d", "^a^b", "$HOME", "'", `"`, "a'", `a"`,
	`'"`, "née", "日本", "a,b", "f/2.8", "4A",
}

// shotFile writes a scenario with shots of some names.
func shotFile(t *testing.T, folder, name string, shots ...string) {
	t.Helper()
	var b strings.Builder
	b.WriteString("use demo\nscenario \"s\" {\n  camera \"House body A\"\n}\n")
	for _, shot := range shots {
		fmt.Fprintf(&b, "shot \"%s\" \"a title\" {\n  distance 2m\n}\n", strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(shot))
	}
	writeTestFile(t, folder, name, b.String())
}

func writeTestFile(t *testing.T, folder, name, text string) {
	t.Helper()
	path := filepath.Join(folder, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// What somebody gets by the tab key arrives at a command as the name that it is, in each shell.
func TestShellsComplete(t *testing.T) {
	for _, shell := range shells {
		t.Run(shell.name, func(t *testing.T) {
			t.Parallel()
			if _, err := exec.LookPath(shell.name); err != nil {
				langtest.Lacking(t, shell.name)
			}
			folder := t.TempDir()
			var script bytes.Buffer
			if code := Main([]string{"completion", shell.name}, strings.NewReader(""), &script, os.Stderr); code != 0 {
				t.Fatalf("the script ends with %d", code)
			}
			writeTestFile(t, folder, "glassbrief."+shell.name, script.String())
			writeTestFile(t, folder, shell.file, fmt.Sprintf(shell.init, "./glassbrief."+shell.name))
			for i, name := range hostileNames {
				shotFile(t, folder, fmt.Sprintf("%d.scenario", i), name)
			}
			shotFile(t, folder, "film one.scenario", "4A", "4B", "5")
			shotFile(t, folder, "sub dir/deep.scenario", "1")
			writeTestFile(t, folder, "film one.txt", "")
			writeTestFile(t, folder, "broken.scenario", "use demo\nscenario \"s\" {\n  camera \"House body A\n}\nshot \"B1\" {\n  distance 2 parsecs\n")
			for _, pipe := range []string{"said", "pipe.scenario", "pipe.catalog"} {
				if err := syscall.Mkfifo(filepath.Join(folder, pipe), 0o600); err != nil {
					t.Fatal(err)
				}
			}
			writeTestFile(t, folder, "waits.scenario", "use \"pipe.catalog\"\nshot \"W1\" {\n}\n")
			s := startShell(t, shell.name, folder, shell.args)
			opened := []string{" ", ` "`, "="}
			if shell.name == "bash" { // for which we quote ourselves
				opened = append(opened, " '", `="`, "='")
			}
			for i, name := range hostileNames {
				for _, open := range opened {
					want := []string{"why", fmt.Sprintf("%d.scenario", i), "--shot", name}
					if open[0] == '=' {
						want = append(want[:2], "--shot="+name)
					}
					if shell.name == "fish" && open == " " && name[0] == '~' { // it is not offered
						want = want[:3]
					}
					keys := fmt.Sprintf("show why %d.scenario --shot%s\t\n", i, open)
					if got := s.types(t, keys); !slices.Equal(got, want) {
						t.Errorf("%q gives %q, want %q", keys, got, want)
					}
				}
			}
			for _, test := range []struct{ keys, want string }{
				{"recom\t", "recommend"},
				{"recommend --ow\t", "recommend --ow"},
				{"audit --ow\t", "audit --owned-only"},
				{"recommend --as j\t", "recommend --as json"},
				{"recommend --units=i\t", "recommend --units=imperial"},
				{"recommend fil\t", "recommend film one.scenario"},
				{`recommend "fil` + "\t", "recommend film one.scenario"},
				{"recommend su\td\t", "recommend sub dir/deep.scenario"},
				{"begin su\t.", "begin sub dir/."}, // zsh takes the last / of a folder away
				{"recommend -o film\\ one.t\t", "recommend -o film one.txt"},
				{"why film\\ one.scenario --shot 4\tB\t", "why film one.scenario --shot 4B"},
				{"why 0.scenario --lens W\t2\t", "why 0.scenario --lens Wide 24"},
				{`why 0.scenario --lens "W` + "\t2\t", "why 0.scenario --lens Wide 24"},
				{`why 0.scenario --against 'W` + "\t2\t", "why 0.scenario --against Wide 24"},
				{"why ~/0.scenario --shot tw\t", "why " + folder + "/0.scenario --shot two words"},
				{"cards 0.scenario --camera H\t", "cards 0.scenario --camera House body A"},
				{"framing 0.scenario --mode H\t", "framing 0.scenario --mode H"}, // it has none of that name
				{"catalog show Sho\t", "catalog show Short sled"},
				{"catalog import x.csv --lens Nor\t3\t", "catalog import x.csv --lens Normal 35"},
				{"reckon focus --lens Nor\t3\t", "reckon focus --lens Normal 35"},
				{"reckon focus --sensor 24\t", "reckon focus --sensor 24.89mm x 18.67mm"},
				{"reckon light --light off\t", "reckon light --light office"},
				{"explain missing-u\t", "explain missing-unit"},
				{"facts face_st\t", "facts face_stretch"},
				{"why broken.scenario --shot \t", "why broken.scenario --shot B1"},
				{"why waits.scenario --shot \t", "why waits.scenario --shot W1"},
				{"why pipe.scenario --shot \tx", "why pipe.scenario --shot x"},
				{"why pipe.scenario/\t --shot x", "why pipe.scenario/ --shot x"},
				{"why - --shot \tx", "why - --shot x"},
				{"reckon focus --focal \t35mm", "reckon focus --focal 35mm"},
				{"git-setup \tx", "git-setup x"},
				{"why \"0\".scenario --shot tw\t", "why 0.scenario --shot two words"},
				{"x\x15true && X=1 show recom\t", "recommend"}, // Ctrl-U takes back what was typed,
				// What is typed is not run by the question, whatever it holds.
				{"why $(touch pwned) `touch pwned` 0.scenario --shot \t\x15show why x", "why x"},
				{"recommend $(touch pwned)\t\x15show why x", "why x"},
				{"recommend fil$(touch pwned)\t\x15show why x", "why x"},
				{"why \"$(touch pwned)\" --shot \t\x15show why x", "why x"},
				{"why 0.scenario --shot $(touch pwned)\t\x15show why x", "why x"},
				{"why 0.scenario --shot \"`touch pwned`\t\x15show why x", "why x"},
				{"why 0.scenario --shot='$(touch pwned)\t\x15show why x", "why x"},
			} {
				if got := strings.Join(s.types(t, "show "+test.keys+"\n"), " "); got != test.want {
					t.Errorf("%q gives %q, want %q", test.keys, got, test.want)
				}
			}
			if _, err := os.Stat(filepath.Join(folder, "pwned")); err == nil {
				t.Error("a command that stood in a name or on the line was run")
			}
		})
	}
}
