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
		"px": func(x float64) px { return px(x) }, "letter": letter, "marked": marked,
	}).ParseFS(files, "parts/*.html"))
})

// A Writer writes reports.
type Writer struct {
	Printer lang.Printer // the units of quantities
	// Live is the address of a script that loads the page anew when there is something new
	// to see, for a page that a server shows. A saved page has none: it is "".
	Live string
}

// A sheet is what every report has: its head, and the look.
type sheet struct {
	Title string
	Look  template.CSS
	Live  string
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
	return parts().ExecuteTemplate(to, part, sheet{title, template.CSS(css.String()), w.Live, wording.Limits, body})
}

// Recommendation writes the report of an answer. all holds the recommendation on each
// candidate camera, that of the answer first; drawings show the shots on all of them.
func (w Writer) Recommendation(to io.Writer, r *answer.Answer, all []*engine.Recommendation) error {
	p := w.Printer
	plan := recommendation{
		Bring: wording.Bring(r.Recommendation, r.Figures) + " " + wording.InAll(r.Recommendation, p), Matrix: newMatrix(r.Recommendation, p), Day: newTimeline(r.Recommendation),
		Around: newCurve(r, p),
	}
	deck := floor.NewDeck(r.Recommendation)
	said := wording.DeckOf(deck, p)
	plan.Cautions = said.Cautions
	for i := range deck.Cards {
		page := newShotPage(all, i, deck, p)
		page.Cautions = said.Cards[i].Cautions
		if n := r.Nearby; n != nil && page.Lens != "" {
			page.Setup = append(page.Setup, setting{"same lens nearby", p.Quantity(n.Share(n.Shots[i].Same), "%")})
		}
		if rescue := r.Rescue(&r.Shots[i]); rescue != nil {
			page.Rescue = wording.Rescue(rescue, p)
		}
		plan.Shots = append(plan.Shots, page)
	}
	for i := range r.Shots {
		if slices.ContainsFunc(r.Shots[i].Ranking, func(j engine.Judgement) bool { return j.ScoreRests() }) {
			plan.Key = wording.TildeKey
		}
	}
	for _, out := range r.LeftOut {
		plan.LeftOut = append(plan.LeftOut, leftOut{out.Lens, wording.LeftOut(&out)})
	}
	return w.write(to, "recommend.html", "page", r.Scenario.Name, plan)
}

// recommendation is what the template of the same name shows.
type recommendation struct {
	Bring    string
	Key      string // what a tilde means; "" where there is none
	Matrix   matrix
	Day      timeline
	Around   curve
	Cautions []string // of the whole day
	Shots    []shotPage
	LeftOut  []leftOut // for lack of data
}

// A leftOut is a lens of which too little is known, and what is lacking.
type leftOut struct{ Lens, Lacks string }

// A shotPage is all about one shot.
type shotPage struct {
	ID, Title string
	Index     int
	Brief     []string // what the scenario asks, as it is written there
	Lens      string   // of the kit; "" when none does it
	Nearest   string   // the lens that comes nearest then
	Rescue    string   // what there is to do when no lens of the house does it; "" when one does
	Setup     []setting
	Doubt     string // what it lacks of being good and whole; "" for nothing
	Views     []cameraView
	Plan      *planDrawing
	Strip     *stripDrawing
	Anatomy   anatomy
	Cautions  []string
	Out       []outLens // but for those that no shot could use: they do not fit the camera
}

// A cameraView is what a lens shows of a shot on one camera, or why it cannot.
type cameraView struct {
	Camera string
	Frames []frameDrawing
	Why    string
}

func newView(r *engine.Recommendation, shot *brief.Shot, j *engine.Judgement, p lang.Printer) cameraView {
	view := cameraView{Camera: r.Camera.Name.Value, Why: j.Refusal}
	if mounted(j) {
		for _, distance := range ends(shot) {
			view.Frames = append(view.Frames, drawFrame(r, shot, j, distance, p))
		}
	}
	return view
}

// A setting is one thing to dial in.
type setting struct{ Name, Value string }

func newShotPage(answers []*engine.Recommendation, i int, deck *floor.Deck, p lang.Printer) shotPage {
	r := answers[0]
	shot, card := &r.Shots[i], &deck.Cards[i]
	page := shotPage{ID: shot.Shot.ID, Title: shot.Shot.Title, Index: i + 1, Brief: briefOf(shot.Shot, p)}
	page.Anatomy = newAnatomy(shot, p)
	for k := range shot.Ranking {
		if j := &shot.Ranking[k]; j.Standing != engine.Judged && j.Refusal == "" {
			page.Out = append(page.Out, outLens{j.Lens, wording.OfLens(j, func(j *engine.Judgement) string { return wording.WhyNot(j, nil, p) })})
		}
	}
	j := shot.Use
	if j != nil {
		page.Lens = wording.OfLens(j, func(j *engine.Judgement) string { return wording.LensAt(j, p) })
		page.Setup, page.Doubt = setupOf(j, p), wording.Doubt(shot, p)
		says := wording.MarkedAll(deck, deck.Worlds, func(d *floor.Deck) []string { return measureTexts(&d.Cards[i], p) }, func(int) bool { return false })
		plan := drawPlan(card, says, p)
		page.Plan = &plan
	} else if len(shot.Ranking) > 0 {
		j = &shot.Ranking[0]
		page.Nearest = wording.LensAt(j, p)
	}
	if j == nil || !mounted(j) {
		return page
	}
	page.Strip = drawStrip(j, neighbours(j), p)
	for _, answer := range answers {
		page.Views = append(page.Views, newView(answer, answer.Shots[i].Shot, answer.Shots[i].Find(j.Lens), p))
	}
	return page
}

func setupOf(j *engine.Judgement, p lang.Printer) []setting {
	var settings []setting
	for s, text := range wording.SetUp(j, p) {
		if text != "" {
			settings = append(settings, setting{wording.Setting(s).String(), text})
		}
	}
	settings = append(settings, setting{"score", wording.ScoreWithin(j)})
	if j.Fitting.Adapter != nil {
		settings = append(settings, setting{"adapter", j.Fitting.Adapter.Name.Value})
	}
	return settings
}
