// Package browsertest opens pages in a real browser for tests, and says what is wrong
// with them. It is for tests alone; the product does not import it.
package browsertest

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"glassbrief/lang/langtest"

	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// A Browser is a running browser.
type Browser struct{ ctx context.Context }

// patience is how long a test waits for what must come at once, on however busy a machine.
const patience = 2 * time.Minute

// Start starts a browser for the length of a test. Where there is none the test is
// skipped, but not under CI, where it fails.
func Start(t testing.TB) *Browser {
	t.Helper()
	if !found("chromium", "chromium-browser", "google-chrome", "google-chrome-stable") {
		langtest.Lacking(t, "Chromium")
	}
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Minute)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx, chromedp.WithAllocatorOptions(chromedp.WSURLReadTimeout(patience)))
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	return &Browser{ctx}
}

func found(programs ...string) bool {
	for _, program := range programs {
		if _, err := exec.LookPath(program); err == nil {
			return true
		}
	}
	return false
}

// A Page is an open page.
type Page struct {
	t   testing.TB
	ctx context.Context

	mu     sync.Mutex
	faults []string
	asked  []string
}

// Forced is the scheme of a reader who sets all colours.
const Forced = "forced"

// Open opens an address in a window of the given width, in the light or the dark scheme, or in
// forced colours.
func (b *Browser) Open(t testing.TB, address string, width int64, scheme string) *Page {
	t.Helper()
	p := b.Blank(t, width, scheme)
	p.Go(address)
	return p
}

// Blank gives a window as [Browser.Open] does, with nothing in it yet.
func (b *Browser) Blank(t testing.TB, width int64, scheme string) *Page {
	t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	t.Cleanup(cancel)
	p := &Page{t: t, ctx: ctx}
	p.do(chromedp.EmulateViewport(width, 900))
	feature := emulation.MediaFeature{Name: "prefers-color-scheme", Value: scheme}
	if scheme == Forced {
		feature = emulation.MediaFeature{Name: "forced-colors", Value: "active"}
	}
	p.emulate(emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{&feature}})
	if err := chromedp.Listen(ctx, p.hear); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	return p
}

// Go goes to an address, and waits until it is loaded.
func (p *Page) Go(address string) {
	p.t.Helper()
	p.do(chromedp.Navigate(address))
}

// CutNetwork lets nothing through that is not a file, or of the page itself.
func (p *Page) CutNetwork() {
	p.t.Helper()
	if _, err := chromedp.Call(p.ctx, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
		MatchedNetworkConditions: []*network.Conditions{{Offline: true}},
	}); err != nil {
		p.t.Fatal(err)
	}
}

// ForbidScripts lets no script of a page run from now on.
func (p *Page) ForbidScripts() {
	p.t.Helper()
	if _, err := chromedp.Call(p.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true}); err != nil {
		p.t.Fatal(err)
	}
}

// LetClipboard lets pages read and write the clipboard, or refuses it to all of the browser.
func (p *Page) LetClipboard(may bool) {
	p.t.Helper()
	setting := browser.PermissionSettingDenied
	if may {
		setting = browser.PermissionSettingGranted
	}
	for _, name := range []string{"clipboard-read", "clipboard-write"} {
		if _, err := chromedp.CallBrowser(p.ctx, browser.SetPermission, browser.SetPermissionParams{
			Permission: &browser.PermissionDescriptor{Name: name}, Setting: setting,
		}); err != nil {
			p.t.Fatal(err)
		}
	}
}

// Throttle makes the thread of the page so many times slower; workers stay as quick as they are.
func (p *Page) Throttle(rate float64) {
	p.t.Helper()
	if _, err := chromedp.Call(p.ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: rate}); err != nil {
		p.t.Fatal(err)
	}
}

// Press types keys, which may be those of the package kb, into what has the focus.
func (p *Page) Press(keys string) {
	p.t.Helper()
	p.do(chromedp.KeyEvent(keys))
}

// Print shows the page as it prints on a sheet whose text is so many pixels wide.
func (p *Page) Print(width int64) {
	p.t.Helper()
	p.do(chromedp.EmulateViewport(width, 900))
	p.emulate(emulation.SetEmulatedMediaParams{Media: "print"})
}

func (p *Page) emulate(media emulation.SetEmulatedMediaParams) {
	p.t.Helper()
	if _, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, media); err != nil {
		p.t.Fatal(err)
	}
}

func (p *Page) do(step chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	if err := chromedp.Do(p.ctx, step); err != nil {
		p.t.Fatal(err)
	}
}

// hear notes what the page says and asks for.
func (p *Page) hear(event any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch event := event.(type) {
	case *runtime.EventConsoleAPICalled:
		p.faults = append(p.faults, fmt.Sprintf("console %s", event.Type))
	case *runtime.EventExceptionThrown:
		p.faults = append(p.faults, "exception "+event.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		p.faults = append(p.faults, fmt.Sprintf("%s: %s", event.Entry.Source, event.Entry.Text))
	case *network.EventRequestWillBeSent:
		p.asked = append(p.asked, event.Request.URL)
	}
}

// Faults gives what the page wrote to the console.
func (p *Page) Faults() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string{}, p.faults...)
}

// Asked gives the addresses that the page asked for, its own first.
func (p *Page) Asked() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string{}, p.asked...)
}

// Eval gives the value of an expression in the page.
func Eval[T any](p *Page, expression string) T {
	p.t.Helper()
	value, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%.80s: %v", expression, err)
	}
	return value
}

// Await waits until an expression in the page is true.
func (p *Page) Await(expression string) {
	p.t.Helper()
	for until := time.Now().Add(patience); time.Now().Before(until); time.Sleep(20 * time.Millisecond) {
		if ok, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool](expression)); err == nil && ok {
			return
		}
	}
	text, _ := chromedp.Run(p.ctx, chromedp.Evaluate[string]("document.body.innerText.slice(0, 2000)"))
	p.t.Fatalf("%s does not come true; the page reads:\n%s", expression, text)
}

// AxeVersion is the release of axe-core that the tests are made for.
const AxeVersion = "4.14.1"

// Violations gives what the accessibility rules of axe-core find. The script is that of
// the npm package, in the folder of packages that NODE_PATH names.
func (p *Page) Violations() []string {
	p.t.Helper()
	script, err := os.ReadFile(filepath.Join(os.Getenv("NODE_PATH"), "axe-core", "axe.min.js"))
	if err != nil {
		langtest.Lacking(p.t, "axe-core "+AxeVersion+" in NODE_PATH")
	}
	Eval[any](p, string(script)+"\n;0")
	if got := Eval[string](p, "axe.version"); got != AxeVersion {
		p.t.Fatalf("axe-core is %s, want %s", got, AxeVersion)
	}
	return Eval[[]string](p, `axe.run(document, {resultTypes: ["violations"]}).then(result => result.violations.flatMap(v =>
		v.nodes.slice(0, 3).map(n => v.id + " (" + v.help + "): " + n.html.slice(0, 200) + " " + n.failureSummary.slice(0, 300))))`)
}

// A Paper is a size of paper in inches.
type Paper = chromedp.PaperSize

// The papers that reports are made for.
var (
	A4     = chromedp.PaperA4
	Letter = chromedp.PaperLetter
)

// PDF prints the page, on the paper that it asks for itself or else on that given.
func (p *Page) PDF(paper Paper) PDF {
	p.t.Helper()
	data, err := chromedp.Run(p.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(paper), chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
	if err != nil {
		p.t.Fatal(err)
	}
	path := filepath.Join(p.t.TempDir(), "page.pdf")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		p.t.Fatal(err)
	}
	return PDF{p.t, path}
}

// A PDF is a printed page.
type PDF struct {
	t    testing.TB
	Path string
}

// Pages gives the number of pages and the size of the first, in points, as pdfinfo says.
func (d PDF) Pages() (pages int, size string) {
	d.t.Helper()
	for line := range strings.Lines(d.run("pdfinfo", d.Path)) {
		name, value, _ := strings.Cut(line, ":")
		switch value = strings.TrimSpace(value); name {
		case "Pages":
			fmt.Sscan(value, &pages)
		case "Page size":
			size = value
		}
	}
	return pages, size
}

// Text gives the text of the pages, each ended by a form feed.
func (d PDF) Text() string {
	d.t.Helper()
	return d.run("pdftotext", "-layout", d.Path, "-")
}

// TypeSizes gives the sizes of the type of the pages, in points, to a third.
func (d PDF) TypeSizes() []float64 {
	d.t.Helper()
	const zoom = 3 // the most that there is; the program gives whole numbers
	var sizes []float64
	for _, found := range regexp.MustCompile(`<fontspec [^>]*size="(\d+)"`).FindAllStringSubmatch(d.run("pdftohtml", "-xml", "-i", "-zoom", fmt.Sprint(zoom), "-stdout", d.Path), -1) {
		size, _ := strconv.ParseFloat(found[1], 64)
		sizes = append(sizes, size/zoom)
	}
	return sizes
}

func (d PDF) run(program string, args ...string) string {
	d.t.Helper()
	if !found(program) {
		langtest.Lacking(d.t, program+" (package poppler-utils)")
	}
	out, err := exec.CommandContext(d.t.Context(), program, args...).Output()
	if err != nil {
		d.t.Fatalf("%s: %v", program, err)
	}
	return string(out)
}

// Screenshot puts a picture of the whole page into the folder that SCREENSHOTS names, for
// people to look at; without one it does nothing.
func (p *Page) Screenshot(name string) {
	p.t.Helper()
	folder := os.Getenv("SCREENSHOTS")
	if folder == "" {
		return
	}
	picture, err := chromedp.Run(p.ctx, chromedp.FullScreenshot(100))
	if err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, name+".png"), picture, 0o644); err != nil {
		p.t.Fatal(err)
	}
}
