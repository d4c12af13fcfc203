package whatif

import (
	"cmp"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"glassbrief/cmd/report"
	"glassbrief/cmd/wording"
	"glassbrief/engine/answer"
	"glassbrief/engine/whatif"
)

//go:embed page
var pageFiles embed.FS

var pageParts = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("page").ParseFS(pageFiles, "page/page.html", "page/parts.html"))
})

// An Engine is the program for browsers as a page holds it.
type Engine struct {
	Starter string // script that a Go program is started by
	Unpack  string // script with the function unpack, which makes a program of Text
	Text    string // the program, packed
	Hash    string // of the program, by which it is known
}

// A Page is a saved plan, and what it takes to try others in a browser.
type Page struct {
	Plan   *whatif.Plan
	Saved  *answer.Answer // of the saved plan, with what stands beside it
	Engine Engine
}

// Write writes the page: the report of the saved plan, with controls between its parts and the engine
// behind it. Nothing is asked for from outside the file.
func (p *Page) Write(to io.Writer) error {
	script, err := pageText("page.js")
	if err != nil {
		return err
	}
	look, err := pageText("page.css")
	if err != nil {
		return err
	}
	trial := &report.Trial{Policy: policyFor(script), Look: template.CSS(look), Shots: make([]template.HTML, len(p.Saved.Shots))}
	made := func(part string, of any) (made template.HTML) {
		var b strings.Builder
		if fault := pageParts().ExecuteTemplate(&b, part, of); fault != nil && err == nil {
			err = fault
		}
		return template.HTML(b.String())
	}
	groups := p.controls()
	trial.Head = made("head", p.Engine.Hash)
	trial.House = made("house", groups[0])
	for i, group := range groups[1:] {
		trial.Shots[i] = made("tries", group)
	}
	trial.Lines = made("lines", p.Plan.Name)
	var now strings.Builder
	w := report.Writer{Printer: p.Plan.Printer(), Trial: trial, All: true}
	if err := w.Sections(p.Saved).Now(&now); err != nil {
		return err
	}
	trial.End = made("bar", template.HTML(now.String()))
	if err != nil {
		return err
	}
	scripts, err := p.scripts(script)
	if err != nil {
		return err
	}
	trial.End += template.HTML(scripts)
	return w.Recommendation(to, p.Saved)
}

func pageText(name string) (string, error) {
	text, err := pageFiles.ReadFile("page/" + name)
	return string(text), err
}

// policyFor gives the policy of a page whose only script is this, by its hash: a program for browsers may be
// compiled, a worker started from a text of the page, and nothing asked for.
func policyFor(script string) string {
	sum := sha256.Sum256([]byte(script))
	return "default-src 'none'; script-src 'wasm-unsafe-eval' 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) +
		"'; worker-src blob:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; require-trusted-types-for 'script'; trusted-types glassbrief"
}

// scripts are the texts at the end of the page, the script and those that it reads. The engine comes
// last, for it is by far the longest, and the worker is started while the browser still reads it.
func (p *Page) scripts(script string) (string, error) {
	worker, err := pageText("worker.js")
	if err != nil {
		return "", err
	}
	steps, err := json.Marshal(stepsOf(p.Plan.Ladders))
	if err != nil {
		return "", err
	}
	input, err := json.Marshal(p.Plan.Input) // escapes what would end the element
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for _, s := range []struct{ tag, text string }{
		{`<script type="application/json" id="steps">`, string(steps)},
		{`<script type="text/plain" id="worker">`, p.Engine.Starter + "\n" + p.Engine.Unpack + "\n" + worker},
		{`<script>`, script},
		{`<script type="application/json" id="files">`, string(input)},
		{`<script type="text/plain" id="engine">`, p.Engine.Text},
	} {
		if text := strings.ToLower(s.text); strings.Contains(text, "</script") || strings.Contains(text, "<!--") {
			return "", fmt.Errorf("a text of the page ends the element %s that it stands in", s.tag)
		}
		b.WriteString("\n" + s.tag + s.text + "</script>")
	}
	return b.String(), nil
}

// stepsOf gives the steps of sliders as the script reads them: figure, text, words.
func stepsOf(ladders map[string][]whatif.Value) map[string][][3]any {
	all := make(map[string][][3]any, len(ladders))
	for name, ladder := range ladders {
		for _, v := range ladder {
			all[name] = append(all[name], [3]any{v.Value, v.Text, v.Spoken})
		}
	}
	return all
}

// A controlGroup is the controls of a shot, or those of all shots.
type controlGroup struct {
	Legend   string
	Holds    string // what can be moved, in short
	Controls []control
}

// A control is one figure that can be moved: an end of a distance, or all else that the engine has as
// one.
type control struct {
	*whatif.Control
	ID, Label string
	End       string // "0" and "1" where there are two
	Now       whatif.Value
	Options   []whatif.Value // of a choice
	Figure    bool           // its text is a figure in its unit
	Long      bool           // its text is longer than such figures are
	Most      int            // the last place of the slider
	Place     int            // where the saved figure is
}

// controls gives those of all shots, and then of each shot.
func (p *Page) controls() []controlGroup {
	groups := make([]controlGroup, 1+len(p.Saved.Shots))
	groups[0].Legend = "For all shots"
	for i := range p.Saved.Shots {
		groups[i+1].Legend = "Try " + p.Saved.Shots[i].Shot.ID
	}
	for n := range p.Plan.Controls {
		c := &p.Plan.Controls[n]
		group := &groups[c.Shot]
		for end, saved := range c.Saved {
			_, fault := strconv.ParseFloat(saved.Text, 64)
			one := control{Control: c, ID: fmt.Sprintf("f%d", n), Label: c.Label, Now: saved, Figure: fault == nil && !c.Choice, Long: len(saved.Text) > 6}
			if len(c.Saved) > 1 {
				one.ID, one.End = fmt.Sprintf("f%d-%d", n, end), fmt.Sprint(end)
				one.Label += ", " + [...]string{"near", "far"}[end]
			}
			if c.Choice {
				one.Options = p.Plan.Ladders[c.Ladder]
			} else {
				one.Most, one.Place = placeOf(saved, c.Saved, p.Plan.Ladders[c.Ladder])
			}
			group.Controls = append(group.Controls, one)
		}
	}
	var held []string
	for _, c := range groups[0].Controls {
		of := c.Label
		if c.Name == "weight" {
			of = "weights of the criteria"
		}
		if !slices.Contains(held, of) {
			held = append(held, of)
		}
	}
	groups[0].Holds = wording.List(held, "and")
	return groups
}

// placeOf gives the place of a saved figure among the steps of its slider, which has all saved ones
// besides, and the last place there. The script makes the same steps.
func placeOf(saved whatif.Value, all, ladder []whatif.Value) (most, place int) {
	steps := slices.Concat(all, ladder)
	slices.SortStableFunc(steps, func(a, b whatif.Value) int { return cmp.Compare(a.Value, b.Value) })
	steps = slices.CompactFunc(steps, func(a, b whatif.Value) bool { return math.Abs(a.Value-b.Value) <= 1e-6*math.Abs(a.Value) })
	return len(steps) - 1, max(0, slices.IndexFunc(steps, func(v whatif.Value) bool { return math.Abs(v.Value-saved.Value) <= 1e-6*math.Abs(v.Value) }))
}
