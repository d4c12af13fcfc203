package whatif

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"glassbrief/cmd/browsertest"
	"glassbrief/cmd/whatif/program"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/whatif"
	"glassbrief/lang/langtest"

	"github.com/chromedp/chromedp/kb"
	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// engineHere is the engine of pages, built once for all tests.
var engineHere = sync.OnceValues(func() (*program.Program, error) {
	return program.Finder{Building: func() {}, Progress: func(int, int) {}}.Find(context.Background())
})

// briefInput is a scenario that reads nothing but the demo catalogue.
func briefInput(text string) whatif.Input {
	return whatif.Input{Name: "try.scenario", Files: map[string]string{"try.scenario": text}}
}

// htmlOf writes the page of a plan, with a change of its engine.
func htmlOf(t testing.TB, s *Session, change func(*Engine)) string {
	t.Helper()
	p, err := engineHere()
	if err != nil {
		t.Fatal(err)
	}
	r, err := engine.Recommend(t.Context(), s.Plan.Scenario, engine.Options{Runners: answer.Runners, Hold: answer.Ranked})
	if err != nil {
		t.Fatal(err)
	}
	whole, err := answer.Around(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	page := Page{s.Plan, whole, Engine(*p)}
	if change != nil {
		change(&page.Engine)
	}
	var b bytes.Buffer
	if err := page.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// saved puts a page into a file and gives its address.
func saved(t testing.TB, html string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "what if.html")
	if err := os.WriteFile(path, []byte(html), 0o600); err != nil {
		t.Fatal(err)
	}
	return (&url.URL{Scheme: "file", Path: path}).String()
}

// A trial is an open page, with what tests do on it.
type trial struct {
	*browsertest.Page
	t       testing.TB
	address string
}

// try opens a page without a network, and waits for the engine's first answer.
func try(t testing.TB, b *browsertest.Browser, address string) trial {
	t.Helper()
	page := trial{b.Blank(t, 1280, "light"), t, strings.Split(address, "#")[0]}
	page.CutNetwork()
	page.Go(address)
	page.Await(`document.documentElement.dataset.answered !== undefined`)
	return page
}

// sound ends a test: the page asked for nothing and complained of nothing.
func (p trial) sound() {
	p.t.Helper()
	for _, fault := range p.Faults() {
		p.t.Errorf("the console says %s", fault)
	}
	for _, asked := range p.Asked() {
		if base, _, _ := strings.Cut(asked, "#"); base != p.address && !strings.HasPrefix(asked, "blob:null/") {
			p.t.Errorf("the page asks for %s", asked)
		}
	}
}

// is awaits the answer of a state.
func (p trial) is(fragment string) {
	p.t.Helper()
	p.Await(fmt.Sprintf(`document.documentElement.dataset.answered === %q`, fragment))
}

// text gives what stands in an element.
func (p trial) text(id string) string {
	p.t.Helper()
	return browsertest.Eval[string](p.Page, fmt.Sprintf(`document.getElementById(%q).textContent`, id))
}

// slide moves the slider of a control, the near end where it has two, as a hand does.
func (p trial) slide(key, place string, end int) {
	p.t.Helper()
	browsertest.Eval[any](p.Page, fmt.Sprintf(`(() => {
		const c = [...document.querySelectorAll(".control")].filter(c => c.dataset.key === %q)[%d];
		const range = c.querySelector("input[type=range]");
		range.value = %s;
		range.dispatchEvent(new Event("input", {bubbles: true}));
		range.dispatchEvent(new Event("change", {bubbles: true}));
	})()`, key, end, place))
}

func TestPageInABrowser(t *testing.T) {
	browser := browsertest.Start(t)
	address := saved(t, htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), nil))
	for _, look := range []struct {
		width  int64
		scheme string
	}{{320, "dark"}, {360, "light"}, {800, "dark"}, {1280, "light"}, {800, browsertest.Forced}} {
		t.Run(fmt.Sprintf("%d %s", look.width, look.scheme), func(t *testing.T) {
			page := trial{browser.Blank(t, look.width, look.scheme), t, address}
			page.CutNetwork()
			page.Go(address)
			check := func(state string) {
				t.Helper()
				if got := browsertest.Eval[int64](page.Page, "document.documentElement.scrollWidth"); got > look.width {
					t.Errorf("%s: the page is %d px wide and scrolls", state, got)
				}
				for _, violation := range page.Violations() {
					t.Errorf("%s: %s", state, violation)
				}
				page.Screenshot(fmt.Sprintf("whatif-%d-%s-%s", look.width, look.scheme, state))
			}
			page.is("")
			check("saved")
			browsertest.Eval[any](page.Page, `document.querySelectorAll("details").forEach(d => d.open = true)`)
			page.slide("4A.distance", "2", 0)
			page.is("4A.distance=0.4m..2.8m")
			page.Await(`document.getElementById("said").textContent !== ""`)
			check("edited")
			page.sound()
		})
	}
}

// What is moved while the engine starts is answered when it is there, and of many edits the newest stands.
func TestNewestEditWins(t *testing.T) {
	browser := browsertest.Start(t)
	address := saved(t, htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), nil))
	page := trial{browser.Blank(t, 1280, "light"), t, address}
	page.CutNetwork()
	page.Go(address)
	for place := range 12 {
		page.slide("4A.distance", fmt.Sprint(place), 0)
	}
	if answered := browsertest.Eval[bool](page.Page, `"answered" in document.documentElement.dataset`); answered {
		t.Log("the engine was there before the edits")
	}
	const last = "4A.distance=0.85m..2.8m"
	page.is(last)
	if got := browsertest.Eval[string](page.Page, `location.hash`); got != "#"+last {
		t.Errorf("the address ends with %s, want #%s", got, last)
	}
	const edits = `(async () => {
		const range = document.querySelector("[data-key='6A.light'] input[type=range]");
		const addresses = new Set();
		for (let i = 0; i < 60; i++) {
			range.value = i;
			range.dispatchEvent(new Event("input", {bubbles: true}));
			addresses.add(location.hash);
			if (i % 7 == 0) await new Promise(done => setTimeout(done, 5));
		}
		range.dispatchEvent(new Event("change", {bubbles: true}));
		addresses.add(location.hash);
		return addresses.size;
	})()`
	if got := browsertest.Eval[int](page.Page, edits); got != 2 {
		t.Errorf("60 edits wrote %d addresses, want the one before and the one at their end", got)
	}
	page.Await(`"#" + document.documentElement.dataset.answered === location.hash`)
	lux := browsertest.Eval[string](page.Page, `document.querySelector("[data-key='6A.light'] input[type=text]").value`)
	if brief := browsertest.Eval[string](page.Page, `document.querySelector("#b6 details .soft").textContent`); !strings.Contains(brief, "· "+lux) {
		t.Errorf("the section of 6A is for %q, and the control says %s", brief, lux)
	}
	page.sound()
}

// Ends of a distance push each other, a wrong text is said beside its field, and each control goes back.
func TestControls(t *testing.T) {
	browser := browsertest.Start(t)
	page := try(t, browser, saved(t, htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), nil)))
	const field = `document.querySelectorAll("[data-key='4A.distance'] input[type=text]")`
	set := func(end int, text string) {
		t.Helper()
		browsertest.Eval[any](page.Page, fmt.Sprintf(`(() => { const f = %s[%d]; f.value = %q; f.dispatchEvent(new Event("change", {bubbles: true})); })()`, field, end, text))
	}
	values := func() string {
		return browsertest.Eval[string](page.Page, `[...`+field+`].map(f => f.value).join(" to ")`)
	}
	set(0, "3,2")
	page.is("4A.distance=3.2m")
	if got := values(); got != "3,2 to 3,2" && got != "3.2 to 3.2" {
		t.Errorf("the near end at 3.2 m leaves %s", got)
	}
	set(1, "2")
	page.is("4A.distance=2m")
	set(0, "5ft")
	page.is("4A.distance=5ft..2m")
	if got := page.text("as-patch"); got != "" { // of a text area it is what the file had
		t.Errorf("the patch stands in the page as written: %q", got)
	}
	standing := browsertest.Eval[string](page.Page, `document.getElementById("a4").textContent`)
	set(0, "1.6kg")
	page.Await(`document.querySelector("[data-key='4A.distance'] [aria-invalid=true]") !== null`)
	if says := browsertest.Eval[string](page.Page, `document.querySelector("[data-key='4A.distance'] .fault").textContent`); !strings.Contains(says, "1.6kg") {
		t.Errorf("the field says %q", says)
	}
	if now := browsertest.Eval[string](page.Page, `document.getElementById("a4").textContent`); now != standing {
		t.Error("a text that is wrong took the last answer away")
	}
	browsertest.Eval[any](page.Page, `document.querySelectorAll("[data-key='4A.distance'] .back").forEach(b => b.hidden || b.click())`)
	page.is("")
	if got := values(); got != "1.6 to 2.8" {
		t.Errorf("as saved is %s", got)
	}
	if browsertest.Eval[bool](page.Page, `document.documentElement.classList.contains("edited")`) {
		t.Error("the saved plan counts as edited")
	}
	page.sound()
}

// An address brings its state, what it names that is not there is said, and a link within the page
// leaves it alone.
func TestAddressHoldsTheState(t *testing.T) {
	browser := browsertest.Start(t)
	address := saved(t, htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), nil))
	const state = "carry=3&4A.distance=1.4m..2.8m"
	page := try(t, browser, address+"#"+state)
	page.is(state)
	if got := browsertest.Eval[string](page.Page, `document.querySelector("[data-key='4A.distance'] input[type=text]").value`); got != "1.4" {
		t.Errorf("the control says %s, want 1.4", got)
	}
	browsertest.Eval[any](page.Page, `document.querySelector('a[href="#s4"]').click()`)
	page.Await(`location.hash === "#` + state + `"`)
	browsertest.Eval[any](page.Page, `location.hash = "nowhere.light=3lx&4A.distance=2m..2.8m"`)
	page.Await(`document.getElementById("unknown").textContent.includes("nowhere.light")`)
	page.Await(`document.querySelector("[data-key='4A.distance'] input[type=text]").value === "2"`)
	page.sound()
}

// The engine's thread may die. The page says so, shows the saved plan, and a new engine answers.
func TestPanicIsSurvived(t *testing.T) {
	browser := browsertest.Start(t)
	html := htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), func(e *Engine) {
		// An import of the running program throws when it is asked for one state.
		e.Starter += `
{
	const Go = self.Go;
	let dying = false;
	self.Go = class extends Go {
		constructor() {
			super();
			const imports = this.importObject.gojs, was = imports["runtime.nanotime1"];
			imports["runtime.nanotime1"] = sp => { if (dying) throw new Error("unreachable"); was(sp); };
		}
	};
	self.dieAt = fragment => { dying = fragment.includes("0.35m"); };
}`
		e.Unpack += `
{
	const unpack = self.unpack;
	self.unpack = text => {
		setTimeout(function wrap() {
			const answer = self.glassbriefAnswer;
			if (!answer) return setTimeout(wrap, 1);
			self.glassbriefAnswer = fragment => { self.dieAt(fragment); return answer(fragment); };
		});
		return unpack(text);
	};
}`
	})
	page := try(t, browser, saved(t, html))
	plan := page.text("a0")
	page.slide("4A.distance", "4", 0)
	page.Await(`document.documentElement.dataset.answered.includes("0.5m")`)
	page.slide("4A.distance", "1", 0)
	page.Await(`!document.getElementById("trouble").hidden`)
	if why := page.text("why"); !strings.Contains(why, "unreachable") {
		t.Errorf("the page says %q", why)
	}
	if got := page.text("a0"); got != plan {
		t.Error("the saved plan does not stand where the engine failed")
	}
	page.slide("4A.distance", "5", 0)
	page.Await(`document.documentElement.dataset.answered.includes("0.55m")`)
	if !browsertest.Eval[bool](page.Page, `document.getElementById("trouble").hidden`) {
		t.Error("the page still says that the engine stopped")
	}
	if got := page.text("a0"); got == plan {
		t.Error("the new engine drew nothing")
	}
}

// Every control is reached by Tab, in the order of the page, and moved by keys; an answer leaves the focus.
func TestEveryControlByKeyboard(t *testing.T) {
	browser := browsertest.Start(t)
	page := try(t, browser, saved(t, htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), nil)))
	browsertest.Eval[any](page.Page, `document.querySelectorAll("details").forEach(d => d.open = true); document.activeElement.blur(); scrollTo(0, 0)`)
	want := browsertest.Eval[int](page.Page, `document.querySelectorAll(".control input, .control select").length`)
	seen := map[string]bool{}
	const focused = `(() => { const e = document.activeElement, c = e.closest(".control"); return c && e.localName != "button" ? [e.type, c.dataset.key, c.dataset.end ?? "", e.type == "range" ? e.value : "", e.max ?? ""] : [] })()`
	for range 1000 {
		page.Press(kb.Tab)
		at := browsertest.Eval[[]string](page.Page, focused)
		if len(at) == 0 {
			if browsertest.Eval[bool](page.Page, `document.activeElement === document.body`) {
				break
			}
			continue
		}
		name := strings.Join(at[:3], " ")
		if seen[name] {
			break
		}
		seen[name] = true
		if at[0] != "range" {
			continue
		}
		page.Press(kb.ArrowRight)
		one := browsertest.Eval[[]string](page.Page, focused)
		page.Press(kb.PageUp)
		ten := browsertest.Eval[[]string](page.Page, focused)
		if strings.Join(one[:3], " ") != name || strings.Join(ten[:3], " ") != name {
			t.Fatalf("the focus went from %s to %v and %v", name, one, ten)
		}
		place := func(at []string) (n int) { fmt.Sscan(at[3], &n); return n }
		most := 0
		fmt.Sscan(at[4], &most)
		if most < 5 || place(one) != min(most, place(at)+1) || place(ten) != min(most, place(one)+max(1, min(10, most/10))) && place(ten) <= place(one) && place(one) < most {
			t.Errorf("%s goes from %s by an arrow to %s and by a page to %s", name, at[3], one[3], ten[3])
		}
		page.Press(kb.ArrowLeft)
	}
	if len(seen) != want {
		t.Errorf("Tab reaches %d of %d fields", len(seen), want)
	}
	page.Await(`"#" + document.documentElement.dataset.answered === location.hash`)
	page.sound()
}

// hostile is a scenario whose names try to be mark-up, or to end what they stand in.
const hostile = `use demo
scenario "</script><script>alert('x')</script>" {
  camera "House body A"
  rig    "Short sled"
}
shot "<b>1&2=3.#</b>" "\"><img src=x onerror=alert(1)> <!-- מצלמה" {
  subject  person 1.78m
  frame    medium-full
  distance 1.6m..2.8m
  light    320lx
}
shot "{{.}}'\"" "</textarea></style><svg onload=alert(2)>" {
  subject  object 0.5m
  frame    full
  distance 1.5m
}
`

func TestHostileNamesStayTextOnThePage(t *testing.T) {
	browser := browsertest.Start(t)
	s := sessionOf(t, briefInput(hostile))
	page := try(t, browser, saved(t, htmlOf(t, s, nil)))
	elements := func() map[string]int {
		return browsertest.Eval[map[string]int](page.Page, `Object.fromEntries(["script", "img", "b b", "svg[onload]", "textarea", "style"].map(s => [s, document.querySelectorAll(s).length]))`)
	}
	before := elements()
	if before["script"] != 5 || before["img"]+before["b b"]+before["svg[onload]"] != 0 {
		t.Errorf("names made elements: %v", before)
	}
	for _, shot := range s.Plan.Scenario.Shots {
		key := ""
		for _, c := range s.Plan.Controls {
			if c.Name == "distance" && s.Plan.Scenario.Shots[max(0, c.Shot-1)] == shot {
				key = c.Key
			}
		}
		page.slide(key, "3", 0)
		page.Await(`"#" + document.documentElement.dataset.answered === location.hash && document.documentElement.dataset.answered.includes(` + fmt.Sprintf("%q", key) + `)`)
		page.Await(`document.querySelector("#l0 li") !== null`)
		body := browsertest.Eval[string](page.Page, `document.body.innerText`)
		for _, name := range []string{shot.ID, shot.Title, s.Plan.Scenario.Name} {
			if !strings.Contains(body, name) {
				t.Errorf("%q is not to be read on the page", name)
			}
		}
		if list := page.text("l0"); !strings.Contains(list, shot.ID) {
			t.Errorf("the list of changes reads %q, and lacks %q", list, shot.ID)
		}
	}
	after := elements()
	if after["script"] != before["script"] || after["img"]+after["b b"]+after["svg[onload]"] != 0 || after["textarea"] != before["textarea"] {
		t.Errorf("after edits there are %v", after)
	}
	page.sound()
}

// Without script the page is the report, with one line on what it could do; and a script that is not the
// one of the page does not run.
func TestPageWithoutItsScript(t *testing.T) {
	browser := browsertest.Start(t)
	html := htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), nil)
	visible := func(page *browsertest.Page, what string) int {
		return browsertest.Eval[int](page, fmt.Sprintf(`[...document.querySelectorAll(%q)].filter(e => e.checkVisibility()).length`, what))
	}
	page := browser.Blank(t, 800, "light")
	page.ForbidScripts()
	page.Go(saved(t, html))
	if n := visible(page, ".control, textarea, button, #starting"); n != 0 {
		t.Errorf("%d controls stand on a page without script", n)
	}
	if text := browsertest.Eval[string](page, `document.body.innerText`); !strings.Contains(text, "browser that runs scripts") || !strings.Contains(text, "Every lens in every shot") {
		t.Errorf("the page reads %.300s", text)
	}
	broken := browser.Open(t, saved(t, strings.Replace(html, "const root = document.documentElement;", "const root = document.documentElement ;", 1)), 800, "light")
	if browsertest.Eval[bool](broken, `document.documentElement.dataset.live !== undefined`) {
		t.Error("a script with another text runs")
	}
	if faults := broken.Faults(); len(faults) == 0 {
		t.Error("the browser does not say that the script is not allowed")
	}
}

// Paper has the plan and the lines that are changed, and nothing to press.
func TestPrinted(t *testing.T) {
	browser := browsertest.Start(t)
	page := try(t, browser, saved(t, htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), nil)))
	page.slide("6A.light", "30", 0)
	page.Await(`document.querySelector("#l0 li") !== null`)
	text := strings.Join(strings.Fields(page.PDF(browsertest.A4).Text()), " ")
	changed := browsertest.Eval[string](page.Page, `document.querySelector("#l0 li ins").innerText.trim()`)
	for _, want := range []string{"6A light: " + changed, "Every lens in every shot", "too tight"} {
		if !strings.Contains(text, want) {
			t.Errorf("paper lacks %q", want)
		}
	}
	for _, other := range []string{"as saved", "All as saved", "Copy as"} {
		if strings.Contains(text, other) {
			t.Errorf("paper has %q", other)
		}
	}
}

// Nothing on the page moves by itself.
func TestNothingMovesByItself(t *testing.T) {
	browser := browsertest.Start(t)
	page := try(t, browser, saved(t, htmlOf(t, sessionOf(t, inputOf(t, "night-ferry.scenario")), nil)))
	page.slide("4A.distance", "3", 0)
	page.Await(`"#" + document.documentElement.dataset.answered === location.hash`)
	if n := browsertest.Eval[int](page.Page, `document.getAnimations().length + [...document.querySelectorAll("*")].filter(e => getComputedStyle(e).transitionDuration != "0s" || getComputedStyle(e).scrollBehavior != "auto").length`); n != 0 {
		t.Errorf("%d elements move", n)
	}
}

// What the engine of the page answers is what the command gives for the file with the page's patch in it:
// 200 edits of sliders that are drawn, compared after every fifth, and as saved after ten. Exponentials differ between processors in
// their last bits.
func TestPageAnswersAsTheCommand(t *testing.T) {
	if _, err := exec.LookPath("patch"); err != nil {
		langtest.Lacking(t, "patch")
	}
	browser := browsertest.Start(t)
	in := inputOf(t, "night-ferry.scenario")
	page := try(t, browser, saved(t, htmlOf(t, sessionOf(t, in), nil)))
	draw := rand.New(rand.NewPCG(17, 200))
	places := browsertest.Eval[int](page.Page, `(window.ranges = [...document.querySelectorAll(".control input[type=range]")].filter(r => r.max > 0)).length`)
	const answered = `"#" + document.documentElement.dataset.answered === location.hash`
	for n := range langtest.Cases(200) {
		if n%10 == 0 {
			browsertest.Eval[any](page.Page, `document.querySelector(".bar button[data-do=saved]").click()`)
			page.is("")
		}
		browsertest.Eval[any](page.Page, fmt.Sprintf(`(() => {
			const r = ranges[%d];
			r.value = Math.round(%g * r.max);
			r.dispatchEvent(new Event("input", {bubbles: true}));
			r.dispatchEvent(new Event("change", {bubbles: true}));
		})()`, draw.IntN(places), draw.Float64()))
		page.Await(`(location.hash === "" ? document.documentElement.dataset.answered === "" : ` + answered + `)`)
		if browsertest.Eval[bool](page.Page, `document.querySelector("[aria-invalid=true]") !== null`) {
			continue // the last answer stands
		}
		if n%5 != 4 {
			continue
		}
		changed := in
		changed.Files = patched(t, in, browsertest.Eval[string](page.Page, `document.getElementById("as-patch").value`))
		want, err := sessionOf(t, changed).JSON("")
		if err != nil {
			t.Fatal(err)
		}
		browsertest.Eval[any](page.Page, `(document.getElementById("as-json").value = "", document.querySelector("button[data-do=json]").click())`)
		page.Await(`document.getElementById("as-json").value !== ""`)
		got := browsertest.Eval[string](page.Page, `document.getElementById("as-json").value`)
		var a, b any
		if err := errors.Join(json.Unmarshal([]byte(got), &a), json.Unmarshal([]byte(want), &b)); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(b, a, cmpopts.EquateApprox(1e-9, 1e-9)); diff != "" {
			t.Fatalf("after %s the page answers otherwise than the command (-command +page):\n%.1500s", browsertest.Eval[string](page.Page, `location.hash`), diff)
		}
	}
	page.sound()
}
