package cmd

import (
	"fmt"
	"io"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"glassbrief/lang/langtest"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"pgregory.net/rapid"
)

// Each row of the table is for something that there is, and what takes a file, a name or an argument has a row.
func TestOffersCoverFlagsAndArguments(t *testing.T) {
	a := newApp(strings.NewReader(""), io.Discard, io.Discard)
	a.addVerbs(nil)
	a.offer(a.root)
	used := map[string]bool{"help": true} // cobra adds the verb when it runs
	argument := regexp.MustCompile(`^[a-z-]+ (\[?[A-Z]+)`)
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		path := strings.TrimPrefix(strings.TrimPrefix(c.CommandPath(), "glassbrief"), " ")
		used[path] = true
		if _, ok := offers[path]; !ok && argument.MatchString(c.Use) {
			t.Errorf("%q takes an argument, and no row says what is offered for it", path)
		}
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			used[path+" --"+f.Name], used["--"+f.Name] = true, true
			takes, _ := pflag.UnquoteUsage(f)
			_, ofVerb := offers[path+" --"+f.Name]
			_, ofAll := offers["--"+f.Name]
			if slices.Contains([]string{"file", "lens", "camera", "mode", "id"}, takes) && !ofVerb && !ofAll {
				t.Errorf("%q takes a %s for --%s, and no row says what is offered for it", path, takes, f.Name)
			}
		})
		for _, verb := range c.Commands() {
			walk(verb)
		}
	}
	walk(a.root)
	for key := range offers {
		if !used[key] {
			t.Errorf("there is no %q", key)
		}
	}
}

// What is quoted for bash is the same text to bash and to the reader of its lines.
func TestBashReadsWhatIsQuoted(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		langtest.Lacking(t, "bash")
	}
	text := rapid.StringOfN(rapid.RuneFrom([]rune(" !\"#$%&'()*+,-./09:;<=>?@AZ[\\]^_`az{|}~é日")), 1, 12, -1)
	rapid.Check(t, func(t *rapid.T) {
		var script strings.Builder
		var want []string
		for range 30 { // in one run of bash
			for _, quote := range []string{"", "'", `"`} {
				s := text.Draw(t, "text")
				l := readBash("glassbrief "+quote, "")
				// Bash closes a quote, and takes the first for that of the text, as the session with a terminal shows.
				word := l.quoted(s)
				if quote != "" {
					if !strings.HasPrefix(word, quote) {
						word = quote + word
					}
					if !strings.HasSuffix(word, quote) {
						word += quote
					}
				}
				if got := readBash("glassbrief "+word+" ", "=:"); got.unknown || !slices.Equal(got.words, []string{"glassbrief", s, ""}) {
					t.Fatalf("%q is quoted as %s, and read as %q", s, word, got.words)
				}
				script.WriteString(`printf '%s\0' ` + word + "\n")
				want = append(want, s)
			}
		}
		// What bash says of a locale that is not installed is no word of its output.
		out, err := exec.Command(bash, "--norc", "--noprofile", "-c", script.String()).Output()
		if got := strings.Split(strings.TrimSuffix(string(out), "\x00"), "\x00"); err != nil || !slices.Equal(got, want) {
			t.Fatalf("bash reads %q (%v), want %q, from\n%s", got, err, want, &script)
		}
	})
}

// Somebody who presses the tab key does not wait, however large the production is.
func TestOffersAreQuick(t *testing.T) {
	folder := t.TempDir()
	var b strings.Builder
	b.WriteString("mount \"Deep bayonet\" {\n  flange 44mm\n}\n")
	for i := range 10000 {
		fmt.Fprintf(&b, "lens \"Prime %d\" {\n  mount \"Deep bayonet\"\n  focal 35mm\n  aperture f/2..f/22\n  mass 600g\n}\n", i)
	}
	writeTestFile(t, folder, "house.catalog", b.String())
	b.Reset()
	b.WriteString("use \"house.catalog\"\n")
	for i := range 2000 {
		fmt.Fprintf(&b, "shot \"S%d\" {\n  subject person 1.8m\n  frame medium\n  distance 2m..3m\n  light 300lx\n}\n", i)
	}
	writeTestFile(t, folder, "long.scenario", b.String())
	for flag, want := range map[string]int{"--shot": 2000, "--lens": 10000} {
		var out strings.Builder
		took := langtest.Clock(langtest.Processor).Time(func() {
			newApp(strings.NewReader(""), &out, io.Discard).run([]string{cobra.ShellCompRequestCmd, "why", filepath.Join(folder, "long.scenario"), flag, ""})
		})
		if got := strings.Count(out.String(), "\n") - 1; got != want {
			t.Errorf("%s offers %d names, want %d", flag, got, want)
		}
		if most := langtest.Allowed(time.Second); took > most {
			t.Errorf("%s takes %v of the processor, and may take %v", flag, took, most)
		}
	}
}
