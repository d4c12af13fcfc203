package cmd

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"glassbrief/cmd/browsertest"
	"glassbrief/cmd/whatif"
	"glassbrief/cmd/whatif/program"
	"glassbrief/lang/langtest"
)

// whatifPage writes the page of the demo and gives its path.
func whatifPage(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "whatif.html")
	var stderr strings.Builder
	if code := Main([]string{"whatif", filepath.Join("..", "scenarios", "night-ferry.scenario"), "-o", path}, strings.NewReader(""), io.Discard, &stderr); code != exitFine {
		t.Fatalf("whatif ends with %d: %s", code, stderr.String())
	}
	return path
}

// startInNode does in node what the page and its worker do until the first answer, and prints the
// milliseconds of the processor that it took.
const startInNode = `
const fs = require("node:fs"), page = fs.readFileSync(process.argv[1], "utf8"), began = process.cpuUsage();
const block = id => page.match(new RegExp("<script[^>]* id=\"" + id + "\">([^]*?)</script>"))[1];
globalThis.self = globalThis;
globalThis.require = require;
self.postMessage = message => {
	if (message.panic !== undefined) throw new Error(message.panic);
	if (message.ready) setTimeout(() => self.onmessage({data: {ask: ""}}));
	if (!message.reply) return;
	if (!message.reply.answered) throw new Error(JSON.stringify(message.reply));
	const used = process.cpuUsage(began);
	console.log((used.user + used.system) / 1000);
	process.exit(0);
};
(0, eval)(block("worker"));
self.onmessage({data: {engine: block("engine"), files: block("files")}});
`

// The page is small enough to be sent, and its engine is soon there.
func BenchmarkWhatIf(b *testing.B) {
	path := whatifPage(b)
	info, err := os.Stat(path)
	if err != nil {
		b.Fatal(err)
	}
	node, err := exec.LookPath("node")
	if err != nil {
		langtest.Lacking(b, "node")
	}
	browser := browsertest.Start(b)
	address := (&url.URL{Scheme: "file", Path: path}).String()
	verb := langtest.NewRace(langtest.Processor, langtest.Way{Name: "verb", Do: func() { whatifPage(b) }})
	first, processor := 1e9, 1e9
	langtest.Hold(b, func() {
		verb.Round()
		out, err := exec.CommandContext(b.Context(), node, "-e", startInNode, path).Output()
		used, fault := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
		if err != nil || fault != nil {
			b.Fatalf("the engine does not start in node: %v, %q", err, out)
		}
		processor = min(processor, used/1000)
		page := browser.Open(b, address, 1280, "light")
		first = min(first, browsertest.Eval[float64](page, `new Promise(done => {
			const look = () => document.documentElement.dataset.answered === undefined ? setTimeout(look, 5) : done(performance.now() / 1000);
			look();
		})`))
	},
		langtest.Bound{Metric: "MB", Value: func() float64 { return float64(info.Size()) / 1e6 }, AtMost: 4},
		langtest.Bound{Metric: "s-verb", Value: func() float64 { return verb.Seconds("verb") }, AtMost: 1},
		langtest.Bound{Metric: "s-processor-to-answer", Value: func() float64 { return processor }, AtMost: 2 * langtest.SlackOfCI()},
		langtest.Bound{Metric: "s-to-answer", Value: func() float64 { return first }, AtMost: 2 * langtest.SlackOfCI()},
	)
}

// Without Go, cache and release it is said what to do, and nothing is written.
func TestWhatIfWithoutGo(t *testing.T) {
	page := filepath.Join(t.TempDir(), "whatif.html")
	scenario, err := filepath.Abs(filepath.Join("..", "scenarios", "night-ferry.scenario"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"PATH", "HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME"} {
		t.Setenv(name, t.TempDir())
	}
	var stderr strings.Builder
	code := Main([]string{"whatif", scenario, "-o", page}, strings.NewReader(""), io.Discard, &stderr)
	if _, err := os.Stat(page); code != exitFault || err == nil {
		t.Errorf("it ends with %d, want %d, and writes nothing: %v", code, exitFault, err)
	}
	want := `error: the page cannot be written: this program has no engine for pages within, and there is no Go to build one
  Take a released glassbrief, which has the engine within. Or install Go, from
  go.dev, and run this in the folder of glassbrief's source.
`
	if got := stderr.String(); got != want {
		t.Errorf("it says\n%s\nwant\n%s", got, want)
	}
	stderr.Reset()
	if code := Main([]string{"whatif", scenario}, strings.NewReader(""), io.Discard, &stderr); code != exitBadInput || !strings.Contains(stderr.String(), "-o whatif.html") {
		t.Errorf("without a file it ends with %d and says %s", code, stderr.String())
	}
}

// Two runs write the same bytes, and the page says which engine it holds.
func TestWhatIfIsTheSameAgain(t *testing.T) {
	first, err := os.ReadFile(whatifPage(t))
	if err != nil {
		t.Fatal(err)
	}
	second, err := os.ReadFile(whatifPage(t))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first, second) {
		t.Error("two runs write different pages")
	}
	engine, err := program.Finder{}.Find(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(first, []byte(engine.Hash)) || !bytes.Contains(first, []byte(engine.Text)) {
		t.Error("the page does not hold the engine and its hash")
	}
}

// In a browser, on the page that the verb writes, edits give the JSON that the command gives.
func TestEngineInABrowserAnswersAsTheCommand(t *testing.T) {
	path := whatifPage(t)
	page := browsertest.Start(t).Open(t, (&url.URL{Scheme: "file", Path: path}).String(), 1280, "light")
	engine, err := program.Finder{}.Find(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	files := browsertest.Eval[string](page, `document.getElementById("files").textContent`)
	session, err := whatif.OpenSession(files)
	if err != nil {
		t.Fatal(err)
	}
	browsertest.Eval[any](page, engine.Starter+"\n"+engine.Unpack+"\n;0")
	if got := browsertest.Eval[string](page, `(async () => {
		const go = new Go(), text = id => document.getElementById(id).textContent;
		go.run((await WebAssembly.instantiate(await unpack(text("engine")), go.importObject)).instance);
		return glassbriefOpen(text("files"));
	})()`); got != "null" {
		t.Fatalf("the engine does not open the plan: %s", got)
	}
	r := rand.New(rand.NewPCG(17, 4))
	answered, cases := 0, langtest.Cases(20)
	for range cases {
		var pairs []string
		for _, i := range r.Perm(len(session.Plan.Controls)) {
			c := &session.Plan.Controls[i]
			if c.Choice || c.Shot == 0 || !(c.Saved[0].Value > 0) {
				continue
			}
			var ends []string
			for _, saved := range c.Saved {
				ends = append(ends, fmt.Sprintf("%.2f%s", saved.Value*(0.95+0.1*r.Float64()*float64(len(ends)+1)), c.Unit))
			}
			if pairs = append(pairs, c.Key+"="+strings.Join(ends, "..")); len(pairs) > r.IntN(3) {
				break
			}
		}
		fragment := strings.Join(pairs, "&")
		got := browsertest.Eval[string](page, fmt.Sprintf(`JSON.parse(glassbriefAnswer(%q)).answered ? glassbriefJSON() : "no answer"`, fragment))
		want, err := session.JSON(fragment)
		if err != nil {
			want = "no answer"
		} else {
			answered++
		}
		if difference := differAtPrintedDigits(got, want); difference != "" {
			t.Errorf("%s: %s", fragment, difference)
		}
	}
	if answered < cases/2 {
		t.Errorf("only %d of %d edits are answered", answered, cases)
	}
}

// differAtPrintedDigits says where two texts differ by more than their last digits: exponentials differ in the
// last bits between processors, and so what is rounded from them may.
func differAtPrintedDigits(got, want string) string {
	number := regexp.MustCompile(`-?\d+(\.\d+)?([eE][-+]?\d+)?`)
	if a, b := number.ReplaceAllString(got, "#"), number.ReplaceAllString(want, "#"); a != b {
		return fmt.Sprintf("the texts differ:\n%.3000s\nwant\n%.3000s", got, want)
	}
	all, wanted := number.FindAllString(got, -1), number.FindAllString(want, -1)
	for i, text := range all {
		_, digits, _ := strings.Cut(text, ".")
		a, _ := strconv.ParseFloat(text, 64)
		b, _ := strconv.ParseFloat(wanted[i], 64)
		if text != wanted[i] && !(math.Abs(a-b) <= 1.01*math.Pow10(-len(digits)) && digits != "") {
			return fmt.Sprintf("number %d is %s, want %s", i, text, wanted[i])
		}
	}
	return ""
}
