package report

import (
	"embed"
	"html/template"
	"io"
	"slices"
	"strings"
	"sync"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/answer"
	"glassbrief/engine/brief"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

//go:embed parts look
var files embed.FS

var parts = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("report").Funcs(template.FuncMap{
		"px": func(x float64) px { return px(x) }, "marked": marked, "bold": bold, "dict": dict,
	}).ParseFS(files, "parts/*.html"))
})

// dict gives a template that is handed several values their names.
func dict(pairs ...any) map[string]any {
	named := make(map[string]any, len(pairs)/2)
	for i := 0; i < len(pairs); i += 2 {
		named[pairs[i].(string)] = pairs[i+1]
	}
	return named
}

// A Writer writes reports.
type Writer struct {
	Printer lang.Printer // the units of quantities
	// Live is the address of a script that loads the page anew when there is something new
	// to see, for a page that a server shows. A saved page has none: it is "".
	Live string
	// Found is what keeps the files from giving a newer answer than the one that is written; it
	// stands above that. nil for nothing.
	Found lang.Diagnostics
	// All gives every shot a section, however many there are.
	All bool
	// Columns keep what stands in the matrix from one answer to the next; nil for one alone.
	Columns *Columns
	// Trial is what makes a page one on which figures can be tried; nil for a report without script.
	Trial *Trial
}

// A Trial is what a page has besides the report where figures can be tried on it. The parts of the
// report that an edit can change stand in elements of their own then, by these ids: "a0" is what
// [Sections.Top] writes, "c0" the cautions of the day, "k0" [Sections.Now], "m0" the matrix, "a3" and "b3" what stands above and
// below the controls of the third shot ([Sections.Stands] and [Sections.Behind]). What follows the matrix
// stays as it was saved, and the element that says so has the class "whenedited".
type Trial struct {
	Policy string          // of the content, in place of that of a report
	Look   template.CSS    // behind that of a report
	Head   template.HTML   // the end of the head
	House  template.HTML   // controls for all shots
	Shots  []template.HTML // controls of each shot, by its place in the brief
	Lines  template.HTML   // a section with what is changed
	End    template.HTML   // the end of the body
}

// OfShot gives the controls of the shot with an index on the page, which counts from 1.
func (t *Trial) OfShot(index int) template.HTML { return t.Shots[index-1] }

// A sheet is what every report has: its head, and the look.
type sheet struct {
	Title string
	Look  template.CSS
	Live  string
	Trial *Trial
	Foot  string
	Body  any
}

// write writes a part of the template in the look of pages or of cards.
func (w Writer) write(to io.Writer, part, look, title string, body any) error {
	var css strings.Builder
	for _, name := range []string{"base", look} {
		text, err := files.ReadFile("look/" + name + ".css")
		if err != nil {
			return err
		}
		css.Write(text)
	}
	if w.Trial != nil {
		css.WriteString(string(w.Trial.Look))
	}
	return parts().ExecuteTemplate(to, part, sheet{title, template.CSS(css.String()), w.Live, w.Trial, wording.Limits, body})
}

// Recommendation writes the report of an answer.
func (w Writer) Recommendation(to io.Writer, r *answer.Answer) error {
	s := w.Sections(r)
	p := w.Printer
	page := recommendation{Found: faultsOf(w.Found), Top: newTop(r, s.day, p), Matrix: s.matrix(), Beside: newBeside(r, p), Left: wording.NotDetailed(s.left)}
	page.Cautions, page.Sources = s.said().Short, sourced(s.deck().Cautions, s.said().Cautions)
	for _, day := range s.sections {
		page.Shots = append(page.Shots, s.shot(day.Index-1))
	}
	return w.write(to, "recommend.html", "page", r.Scenario.Name, page)
}

// recommendation is what the template of the same name shows.
type recommendation struct {
	Found    []fault // above an answer that is no longer that of the files
	Top      top
	Shots    []shotPage
	Left     string // says that other shots have no section
	Matrix   matrix
	Beside   beside
	Cautions []string // of the whole day
	Sources  []string // the same in full, with where they come from
}

// sourced says cautions in full with where each comes from.
func sourced(of []floor.Caution, said []string) []string {
	var all []string
	for i, c := range of {
		all = append(all, said[i]+" ("+c.Source()+")")
	}
	return all
}

// A shotPage is all about one shot.
type shotPage struct {
	dayShot
	Title, Move   string
	Before, After *dayShot     // the sections beside it, nil at the ends
	Brief         []string     // what the scenario asks, as it is written there
	Old           *changedSide // what it is set against; nil for nothing, or the same
	LensAt        string       // with the focal length of a zoom; "" when none of the kit does it
	Nearest       string       // the lens that comes nearest then
	Rescue        string       // what there is to do when no lens of the house does it; "" when one does
	Setup         []setting
	Doubt         string // what it lacks of being good and whole; "" for nothing
	Way           *way
	Frames        []frameDrawing
	Plan          *planDrawing
	Strip         *stripDrawing
	Cautions      []string
	Sources       []string
	Behind        []kitLine // the lenses that come next
}

func newShotPage(a *answer.Answer, i int, deck func() *floor.Deck, p lang.Printer) shotPage {
	r := a.Recommendation
	shot := &r.Shots[i]
	page := shotPage{Title: shot.Shot.Title, Move: moveText(shot.Shot.Move, p), Brief: briefOf(shot.Shot, p), Behind: behind(shot, p)}
	if rescue := a.Rescue(shot); rescue != nil {
		page.Rescue = wording.Rescue(rescue, p)
	}
	j := shot.Use
	if j != nil {
		page.LensAt = wording.OfLens(j, func(j *engine.Judgement) string { return wording.LensAt(j, p) })
		page.Setup, page.Doubt, page.Way = setupOf(j, p), wording.Doubt(shot, p), newWay(j, p)
		if n := a.Nearby; n != nil {
			page.Setup = append(page.Setup, setting{Name: "done nearby", Value: wording.Share(n.Share(n.Shots[i].Done))})
		}
		deck := deck()
		says := wording.MarkedAll(deck, deck.Worlds, func(d *floor.Deck) []string { return measureTexts(&d.Cards[i], p) })
		plan := drawPlan(&deck.Cards[i], says, p)
		page.Plan = &plan
	} else if len(shot.Ranking) > 0 {
		j = &shot.Ranking[0]
		page.Nearest = wording.LensAt(j, p)
	}
	if j == nil || !mounted(j) {
		return page
	}
	page.Strip = drawStrip(j, neighbours(j), p)
	page.Frames = framesOf(r, shot.Shot, j, p)
	return page
}

// behind says of the lenses that come next in a shot why they do not come first.
func behind(shot *engine.ShotAnswer, p lang.Printer) []kitLine {
	shown := shot.Foremost(wording.ShownBehind)
	var all []kitLine
	for _, j := range shown[min(1, len(shown)):] {
		why := wording.OfLenses(j, shown[0], func(j, first *engine.Judgement) string { return wording.WhyNot(j, first, p) })
		all = append(all, kitLine{Lenses: j.Lens, Score: wording.Score(j), Note: why})
	}
	return all
}

// framesOf draws what a lens shows of a shot at its farthest and its nearest, in the order of the move.
func framesOf(r *engine.Recommendation, shot *brief.Shot, j *engine.Judgement, p lang.Printer) []frameDrawing {
	var frames []frameDrawing
	for _, distance := range ends(shot) {
		frames = append(frames, drawFrame(r, shot, j, distance, p))
	}
	return frames
}

// A setting is one thing to dial in, with what it was in a comparison; "" for the same.
type setting struct{ Name, Value, Was string }

func setupOf(j *engine.Judgement, p lang.Printer) []setting {
	var settings []setting
	for s, text := range wording.SetUp(j, p) {
		if text != "" && wording.Setting(s) != wording.FocalLength { // the name says it
			settings = append(settings, setting{Name: wording.Setting(s).String(), Value: text})
		}
	}
	settings = append(settings, setting{Name: "score", Value: wording.ScoreWithin(j)})
	if j.Fitting.Adapter != nil {
		settings = append(settings, setting{Name: "adapter", Value: j.Fitting.Adapter.Name.Value})
	}
	return settings
}

// markSetup puts beside each setting what it was, where that differs.
func markSetup(is, was []setting) {
	for _, old := range was {
		if i := slices.IndexFunc(is, func(now setting) bool { return now.Name == old.Name }); i >= 0 && is[i].Value != old.Value {
			is[i].Was = old.Value
		}
	}
}
