package report_test

import (
	"bytes"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"glassbrief/cmd/browsertest"
	"glassbrief/cmd/report"
	"glassbrief/cmd/show"
	"glassbrief/engine"
	"glassbrief/engine/audit"
	"glassbrief/engine/brief"
	"glassbrief/engine/compare"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// saved writes a report to a file and gives its address.
func saved(t *testing.T, name, html string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name+".html")
	if err := os.WriteFile(path, []byte(html), 0o600); err != nil {
		t.Fatal(err)
	}
	return (&url.URL{Scheme: "file", Path: path}).String()
}

// A look is how wide a window is, and which scheme the reader's system asks for.
type look struct {
	width  int64
	scheme string
}

var everyLook = []look{{320, "dark"}, {360, "light"}, {768, "dark"}, {1280, "light"}, {768, browsertest.Forced}}

// openAll opens all that is folded.
const openAll = `document.querySelectorAll("details").forEach(d => d.open = true)`

// coveredTexts lists the texts that another text runs into, as far as they are seen. The boxes of
// characters are taller than what is drawn of most, so lines that are set tight do not count.
const coveredTexts = `(() => {
	const texts = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), range = document.createRange();
	while (walk.nextNode()) {
		const node = walk.currentNode;
		if (!node.data.trim() || !node.parentElement.checkVisibility() || node.parentElement.closest("details:not([open]) > :not(summary)")) continue;
		const seen = {left: 0, right: Infinity, top: -Infinity, bottom: Infinity};
		for (let e = node.parentElement; e; e = e.parentElement) {
			const style = getComputedStyle(e), box = e.getBoundingClientRect();
			if (style.clipPath !== "none") seen.right = 0;
			if (style.overflowX !== "visible") seen.left = Math.max(seen.left, box.left), seen.right = Math.min(seen.right, box.right);
			if (style.overflowY !== "visible") seen.top = Math.max(seen.top, box.top), seen.bottom = Math.min(seen.bottom, box.bottom);
		}
		range.selectNodeContents(node);
		for (const box of range.getClientRects()) {
			const spare = box.height / 4, left = Math.max(box.left, seen.left) + 1, right = Math.min(box.right, seen.right) - 1;
			const top = Math.max(box.top + spare, seen.top), bottom = Math.min(box.bottom - spare, seen.bottom);
			if (left < right && top < bottom) texts.push({node, left, right, top, bottom});
		}
	}
	texts.sort((a, b) => a.top - b.top);
	const covered = new Set(), short = text => text.node.data.trim().slice(0, 40);
	texts.forEach((a, i) => {
		for (let k = i + 1; k < texts.length && texts[k].top < a.bottom; k++) {
			const b = texts[k];
			if (a.node !== b.node && a.left < b.right && b.left < a.right) covered.add(short(a) + " / " + short(b));
		}
	});
	return [...covered].slice(0, 10).join("\n");
})()`

// checkPage holds a page to what every report promises.
func checkPage(t *testing.T, browser *browsertest.Browser, name, html string, looks ...look) {
	t.Helper()
	address := saved(t, name, html)
	for _, look := range looks {
		t.Run(fmt.Sprintf("%s at %d, %s", name, look.width, look.scheme), func(t *testing.T) {
			page := browser.Open(t, address, look.width, look.scheme)
			checkWidth := func() {
				t.Helper()
				if got := browsertest.Eval[int64](page, "document.documentElement.scrollWidth"); got > look.width {
					wide := browsertest.Eval[string](page, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > innerWidth + 1).map(e => e.outerHTML.slice(0, 120)).slice(0, 5).join("\n")`)
					t.Errorf("the page is %d px wide, and scrolls at %d px:\n%s", got, look.width, wide)
				}
			}
			for _, state := range []string{"", "-open"} {
				if state != "" {
					browsertest.Eval[any](page, openAll)
				}
				checkWidth()
				if cut := browsertest.Eval[string](page, `[...document.querySelectorAll("svg.drawing text")].filter(e => {
					const text = e.getBoundingClientRect(), svg = e.ownerSVGElement.getBoundingClientRect();
					return text.width > 0 && (text.left < svg.left - 1 || text.right > svg.right + 1 || text.top < svg.top - 1 || text.bottom > svg.bottom + 1);
				}).map(e => e.textContent).join(", ")`); cut != "" {
					t.Errorf("a drawing cuts its labels off: %s", cut)
				}
				if covered := browsertest.Eval[string](page, coveredTexts); covered != "" {
					t.Errorf("texts run into each other:\n%s", covered)
				}
				page.Screenshot(fmt.Sprintf("%s-%d-%s%s", name, look.width, look.scheme, state))
				for _, violation := range page.Violations() {
					t.Error(violation)
				}
			}
			if look.width == 360 { // with text at twice the size
				browsertest.Eval[any](page, `document.documentElement.style.fontSize = "200%"`)
				checkWidth()
				page.Screenshot(fmt.Sprintf("%s-%d-twice", name, look.width))
			}
			for _, fault := range page.Faults() {
				t.Errorf("the console says %s", fault)
			}
			for _, asked := range page.Asked() {
				if asked != address {
					t.Errorf("the page asks for %s", asked)
				}
			}
		})
	}
}

func TestRecommendationInABrowser(t *testing.T) {
	browser := browsertest.Start(t)
	answers := answersOf(t, demo(t))
	checkPage(t, browser, "recommend", htmlOf(t, answers, lang.Printer{}), everyLook...)
	checkPage(t, browser, "imperial", htmlOf(t, answers, lang.Printer{System: lang.Imperial}), look{360, "dark"})
	checkPage(t, browser, "free", htmlOf(t, answersOf(t, freePlace), lang.Printer{}), everyLook...)
	checkPage(t, browser, "hostile", htmlOf(t, answersOf(t, hostile), lang.Printer{}), look{360, "light"})
}

// A shot that no lens does has no set-up and no way to draw, and what is said of it stands below its name.
func TestShotOfNoLensInABrowser(t *testing.T) {
	browser := browsertest.Start(t)
	address := saved(t, "undone", htmlOf(t, answersOf(t, undone), lang.Printer{}))
	for _, look := range everyLook {
		page := browser.Open(t, address, look.width, look.scheme)
		if covered := browsertest.Eval[string](page, coveredTexts); covered != "" {
			t.Errorf("at %d px texts run into each other:\n%s", look.width, covered)
		}
	}
}

const undone = `use demo
scenario "Undone" {
  camera "House body A"
  rig    "Short sled"
}
shot "1" "Heron on the far bank" {
  subject  object 0.5m x 0.9m
  frame    full
  distance 200m
  light    2klx
}
shot "2" "The landing stage" {
  subject  person 1.7m
  frame    full
  distance 3m
  light    2klx
}
`

// freePlace has shots in which the camera may stand anywhere in a room, a small one and one that
// the picture is wider than.
const freePlace = `use demo
scenario "Free place" {
  camera "House body A"
  rig    "Short sled"
  carry  2 lenses
}
shot "1" "Portrait at the window" {
  subject  person 1.74m
  frame    medium-close
  distance within 1m..4m
  move     hold
  light    320lx
}
shot "2" "Vats" {
  subject  place 5m x 3m
  frame    wide
  distance within 2m..9m
  move     orbit 0.5m/s
  light    90lx
}
`

// crowdedBrief has a shot with every caution that there is.
const crowdedBrief = `use demo
scenario "Crowded" {
  camera "House body A"
  rig    "Short sled"
}
shot "110-A" "Backwards past the boiler room in the rain, with everybody running and shouting at once" {
  subject  people 1.1m x 1.76m
  frame    medium-full
  distance 1.2m..2.4m
  move     lead 2.5m/s run low mode
  beside   road water height public
  passage  0.6m
  light    sun at 52.37N 4.90E on 2027-06-03 13:40 Europe/Amsterdam clear
}
shot "111" {
  subject  object 0.6m
  frame    full
  distance 1.5m
}
`

func cardsOf(t *testing.T, text string, pocket bool) string {
	t.Helper()
	r := answersOf(t, text)[0]
	deck := floor.NewDeck(r)
	var b bytes.Buffer
	if err := (report.Writer{}).Cards(&b, r, deck, []string{r.Scenario.Name, r.Camera.Name.Value, "revision 0123456"}, pocket); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestCardsInABrowser(t *testing.T) {
	browser := browsertest.Start(t)
	checkPage(t, browser, "cards", cardsOf(t, demo(t), false), everyLook...)
	checkPage(t, browser, "crowded", cardsOf(t, crowdedBrief, true), look{360, "dark"})
}

// shortOfGlass is a brief that the house of the demo cannot meet.
const shortOfGlass = `use demo
scenario "Short of glass" {
  camera "House body A"
  rig    "Short sled"
  rent   120 EUR
  leave  "Fast cine 25" "Wide 24"
}
shot "1" "Dark corridor" {
  subject  person 1.78m
  frame    medium-full
  distance 2.6m..3m
  move     follow 1m/s
  light    1.5lx
}
`

func TestAuditInABrowser(t *testing.T) {
	s := answersOf(t, shortOfGlass)[0].Scenario
	r, err := audit.Run(t.Context(), s, s.Limits, engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Specifications) == 0 {
		t.Fatal("nothing is missing")
	}
	titles := []string{"for", "focal length", "T", "focuses to", "circle", "mass"}
	table := show.Grid{Rows: [][]show.Cell{make([]show.Cell, len(titles))}}
	for i, title := range titles {
		table.Columns = append(table.Columns, show.Column{Title: title, Right: true})
		table.Rows[0][i].Text = "from 18.25 mm to 24 mm"
	}
	var words show.Page
	words.Heading("Short of glass")
	words.Paragraph("It does not suit.")
	words.Grid(table)
	var b bytes.Buffer
	if err := (report.Writer{}).Audit(&b, words, r); err != nil {
		t.Fatal(err)
	}
	checkPage(t, browsertest.Start(t), "audit", b.String(), look{360, "dark"}, look{1280, "light"}, look{768, browsertest.Forced})
}

// comparisonOf compares the demo with itself on a darker and closer day.
func comparisonOf(t *testing.T) string {
	t.Helper()
	var sides []compare.Side
	for _, text := range []string{demo(t), strings.NewReplacer("distance  2.4m\n", "distance  1.2m\n", "hazy-sun", "40lx").Replace(demo(t))} {
		src, found := lang.NewSource("night-ferry.scenario", []byte(text))
		if found.HasErrors() {
			t.Fatal(found)
		}
		sides = append(sides, compare.Side{Source: src, Files: brief.Files{Tree: os.DirFS("../../scenarios")}})
	}
	r, err := compare.Compare(t.Context(), sides[0], sides[1], engine.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if r.SamePlan() {
		t.Fatal("the plan stays the same")
	}
	var words show.Page
	words.Heading("now against before")
	words.Paragraph("The plan changes.")
	words.Heading("What changed")
	words.Grid(show.Grid{
		Columns: []show.Column{{Title: "no", Right: true}, {Title: "what"}},
		Rows:    [][]show.Cell{{{Text: "1"}, {Text: "<b>shot</b> distance", Tone: show.Strong}}},
	})
	var b bytes.Buffer
	if err := (report.Writer{}).Comparison(&b, words, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestComparisonInABrowser(t *testing.T) {
	html := comparisonOf(t)
	for _, want := range []string{"&lt;b&gt;shot&lt;/b&gt; distance", `<span class="said">before </span>`, `class="old`} {
		if !strings.Contains(html, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	checkPage(t, browsertest.Start(t), "compare", html, everyLook...)
}

// A card is one screen of a phone, and what is dialled is read at arm's length: 28 px are 17 minutes of
// arc there.
func TestCardIsOneScreenOfAPhone(t *testing.T) {
	page := browsertest.Start(t).Open(t, saved(t, "cards", cardsOf(t, demo(t), false)), 360, "light")
	for name, height := range browsertest.Eval[map[string]float64](page, `Object.fromEntries([...document.querySelectorAll(".card")].map(c => [c.id, c.getBoundingClientRect().height]))`) {
		if height > 640 {
			t.Errorf("%s is %.0f px high", name, height)
		}
	}
	for what, size := range browsertest.Eval[map[string]float64](page, `Object.fromEntries([...document.querySelectorAll(".dials dd")].map((d, i) => [i + " " + d.innerText, parseFloat(getComputedStyle(d).fontSize)]))`) {
		if size < 28 {
			t.Errorf("%s is set in %.0f px", what, size)
		}
	}
	if got := browsertest.Eval[float64](page, `Math.min(...[...document.querySelectorAll(".card *")].filter(e => e.childNodes.length && [...e.childNodes].some(n => n.nodeType == 3 && n.data.trim())).map(e => parseFloat(getComputedStyle(e).fontSize)))`); got < 13 {
		t.Errorf("the smallest type is %.1f px", got)
	}
}

// On paper no type is smaller than 6 points, and what is dialled is read at 60 cm.
func TestTypeOfPrintedCards(t *testing.T) {
	browser := browsertest.Start(t)
	for name, text := range map[string]string{"demo": demo(t), "crowded": crowdedBrief} {
		pdf := browser.Open(t, saved(t, "cards", cardsOf(t, text, false)), 1280, "light").PDF(browsertest.A4)
		sizes := pdf.TypeSizes()
		if least := slices.Min(sizes); least < 6 {
			t.Errorf("%s: the smallest type has %.1f points", name, least)
		}
		if most := slices.Max(sizes); most < 30 {
			t.Errorf("%s: the largest type has %.1f points", name, most)
		}
	}
}

func TestPrintedCards(t *testing.T) {
	browser := browsertest.Start(t)
	cards := len(answersOf(t, demo(t))[0].Shots) + 1 // the day has one of its own
	sheets := (cards + 3) / 4
	for _, c := range []struct {
		name, brief string
		pocket      bool
		paper       browsertest.Paper
		pages       int
		cards       int
		size        string
	}{
		{"four to a sheet of A4", demo(t), false, browsertest.A4, sheets, cards, "595.92 x 841.92"},
		{"four to a sheet of Letter", demo(t), false, browsertest.Letter, sheets, cards, "612 x 792"},
		{"for the pocket", demo(t), true, browsertest.A4, cards, cards, "298.08 x 420"},
		{"crowded, on A4", crowdedBrief, false, browsertest.A4, 1, 3, "595.92 x 841.92"},
		{"crowded, on Letter", crowdedBrief, false, browsertest.Letter, 1, 3, "612 x 792"},
		{"crowded, for the pocket", crowdedBrief, true, browsertest.Letter, 3, 3, "298.08 x 420"},
	} {
		t.Run(c.name, func(t *testing.T) {
			page := browser.Open(t, saved(t, "cards", cardsOf(t, c.brief, c.pocket)), 1280, "dark")
			pdf := page.PDF(c.paper)
			pages, size := pdf.Pages()
			if pages != c.pages || !strings.HasPrefix(size, c.size) {
				t.Errorf("got %d pages of %s, want %d of %s", pages, size, c.pages, c.size)
			}
			// Each card may be taken along without the others.
			closing := strings.Count(strings.Join(strings.Fields(pdf.Text()), " "), "ocal codes and licensed practice")
			if c.pocket && closing < c.cards { // four to a sheet, lines run into one another
				t.Errorf("%d of %d cards end with what comes first", closing, c.cards)
			}
		})
	}
}

func TestNamesAreShownLiterally(t *testing.T) {
	answers := answersOf(t, hostile)
	page := browsertest.Start(t).Open(t, saved(t, "hostile", htmlOf(t, answers, lang.Printer{})), 1280, "light")
	text := browsertest.Eval[string](page, "document.body.innerText")
	names := []string{answers[0].Scenario.Name}
	for _, shot := range answers[0].Scenario.Shots {
		names = append(names, shot.ID, shot.Title)
	}
	for _, name := range names {
		if !strings.Contains(text, name) {
			t.Errorf("%q is not to be read on the page", name)
		}
	}
	if got, want := browsertest.Eval[string](page, "document.title"), answers[0].Scenario.Name; got != want {
		t.Errorf("the title is %q, want %q", got, want)
	}
	if got := browsertest.Eval[int](page, `document.querySelectorAll("script, img, svg[onload], b b").length`); got != 0 {
		t.Errorf("the names made %d elements", got)
	}
}

// What the browser draws is as high as the facts say, measured on the screen.
func TestSubjectIsAsHighOnTheScreenAsJudged(t *testing.T) {
	const winch = `use demo
scenario "Winch" {
  camera "House body A"
  rig    "Short sled"
}
shot "5C" {
  subject  object 0.9m x 1.4m
  frame    wide
  distance 3m
  light    320lx
}
`
	answers := answersOf(t, winch)
	page := browsertest.Start(t).Open(t, saved(t, "winch", htmlOf(t, answers, lang.Printer{})), 1280, "light")
	got := browsertest.Eval[float64](page, `document.querySelector(".picture .subject").getBBox().height`)
	j := answers[0].Shots[0].Use
	delivered := browsertest.Eval[float64](page, `document.querySelector(".picture .delivered").getBBox().height`)
	// The lens distorts less than this over the subject.
	const distortion = 0.01
	if want := j.Fact(facts.FillNear) * delivered; got < want*(1-distortion)-0.5 || got > want+0.5 {
		t.Errorf("%s: the subject is %.2f px high, want %.2f", j.Lens, got, want)
	}
}

// leastPrinted is the smallest type on paper, in points.
const leastPrinted = 6.0

// printedSizes gives the sizes of type in points as a page prints, from small to large, with what is
// written in them.
const printedSizes = `(() => {
	const least = {};
	for (const e of document.querySelectorAll("body *")) {
		const text = [...e.childNodes].filter(n => n.nodeType == 3 && n.data.trim()).map(n => n.data.trim()).join(" ");
		const box = e.getBoundingClientRect();
		if (!text || box.width < 2 || box.height < 2) continue;
		let size = parseFloat(getComputedStyle(e).fontSize);
		const svg = e.closest("svg");
		if (svg && svg.viewBox.baseVal && svg.viewBox.baseVal.width) size *= svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
		const points = (size * 0.75).toFixed(1);
		least[points] ||= text.slice(0, 40);
	}
	return Object.entries(least).sort((a, b) => a[0] - b[0]).map(([size, text]) => size + " " + text);
})()`

func TestPrintedReport(t *testing.T) {
	address := saved(t, "recommend", htmlOf(t, answersOf(t, demo(t)), lang.Printer{}))
	browser := browsertest.Start(t)
	for _, c := range []struct {
		name  string
		paper browsertest.Paper
		most  int
	}{{"A4", browsertest.A4, 6}, {"Letter", browsertest.Letter, 7}} {
		t.Run(c.name, func(t *testing.T) {
			page := browser.Open(t, address, 1280, "dark")
			pdf := page.PDF(c.paper)
			if pages, size := pdf.Pages(); pages > c.most {
				t.Errorf("got %d pages of %s, want at most %d", pages, size, c.most)
			}
			text := strings.Join(strings.Fields(pdf.Text()), " ")
			for _, want := range []string{"Wide 18", " cm a side", "no adapter from", "too tight"} {
				if !strings.Contains(text, want) {
					t.Errorf("paper lacks %q", want)
				}
			}
			page.Print(710) // 188 mm
			browsertest.Eval[any](page, openAll)
			if sizes := browsertest.Eval[[]string](page, printedSizes); len(sizes) < 3 {
				t.Errorf("got the sizes of type %q", sizes)
			} else if least, _, _ := strings.Cut(sizes[0], " "); least < fmt.Sprintf("%.1f", leastPrinted) {
				t.Errorf("the smallest type is %s, want at least %g pt", sizes[0], leastPrinted)
			}
		})
	}
}

// In forced colours the marks of the page are there: what holds and what does not, plates and causes each
// have an ink that differs from the ground, and what fails has a pattern.
func TestForcedColoursShowTheMarks(t *testing.T) {
	page := browsertest.Start(t).Open(t, saved(t, "forced", htmlOf(t, answersOf(t, demo(t)), lang.Printer{})), 1280, browsertest.Forced)
	browsertest.Eval[any](page, openAll)
	if !browsertest.Eval[bool](page, `matchMedia("(forced-colors: active)").matches`) {
		t.Fatal("the colours are not forced")
	}
	const inks = `(() => {
		const ground = getComputedStyle(document.documentElement).backgroundColor;
		const seen = {};
		const look = (name, all, ink) => seen[name] = [...all].map(e => ink(getComputedStyle(e))).filter(c => c && c != ground && !c.includes("rgba(0, 0, 0, 0)")).length / all.length;
		look("bars", document.querySelectorAll("rect.bar"), s => s.fill);
		look("gaps", document.querySelectorAll("rect.gap"), s => s.fill.includes("hatch") && s.stroke);
		look("pattern", document.querySelectorAll("#hatch path"), s => s.stroke);
		look("plates", document.querySelectorAll(".plate"), s => s.borderTopColor);
		look("filled plates", document.querySelectorAll(".k1"), s => s.backgroundColor);
		look("causes", document.querySelectorAll("symbol path, symbol circle"), s => s.fill != "none" ? s.fill : s.stroke);
		look("what is sharp", document.querySelectorAll(".seen"), s => s.stroke);
		return seen;
	})()`
	for name, share := range browsertest.Eval[map[string]float64](page, inks) {
		if share != 1 {
			t.Errorf("%s: %.2f of them have an ink of their own", name, share)
		}
	}
}

// The mark of each cause has a shape of its own.
func TestMarksDifferInShape(t *testing.T) {
	page := browsertest.Start(t).Open(t, saved(t, "marks", htmlOf(t, answersOf(t, demo(t)), lang.Printer{})), 1280, "light")
	shapes := browsertest.Eval[[]string](page, `[...document.querySelectorAll("symbol[id^=c]")].map(s => s.innerHTML)`)
	if want := int(engine.Causes) - 1; len(shapes) != want {
		t.Errorf("%d causes have a mark, want %d", len(shapes), want)
	}
	seen := map[string]bool{}
	for i, shape := range shapes {
		if seen[shape] {
			t.Errorf("the mark of cause %d is that of another", i+1)
		}
		seen[shape] = true
	}
	if missing := browsertest.Eval[[]string](page, `[...document.querySelectorAll("use")].map(u => u.getAttribute("href")).filter(h => !document.querySelector(h))`); len(missing) > 0 {
		t.Errorf("no mark stands for %q", missing)
	}
}
