package report

import (
	"io"
	"math"
	"slices"
	"strings"

	"glassbrief/catalog"
	"glassbrief/cmd/show"
	"glassbrief/cmd/wording"
	"glassbrief/engine/audit"
)

const (
	windowLeft  = 8.0
	windowRight = 280.0
	windowRow   = 40.0
)

// A windowDrawing is a lens to look for: what it may be like, among the lenses that are.
type windowDrawing struct {
	Shots         string
	Meets         string // lenses for hire that do all of these shots
	Width, Height px
	Rows          []windowLine
}

// A windowLine is one axis.
type windowLine struct {
	Name  string
	Text  px // where the name stands
	Y     px // of the axis
	Allow span
	House []span // the lenses of the house; a zoom is as wide as its range
	Hire  []span // those for hire that do all of the shots
}

// Audit writes the answer to the producer: the page, which says it in words, and what is
// missing, drawn.
func (w Writer) Audit(to io.Writer, words show.Page, r *audit.Answer) error {
	var windows []windowDrawing
	for i := range r.Specifications {
		windows = append(windows, w.window(r, &r.Specifications[i]))
	}
	day := make([]dayShot, len(r.Shots))
	for i := range r.Shots {
		day[i] = newDayShot(r.Shots[i].Shot, r.Shots[i].Use, &r.House)
	}
	return w.write(to, "audit.html", "page", words.Title(), struct {
		Run     []string
		Kit     []kitLens
		Day     []dayShot
		Blocks  []show.Block
		Windows []windowDrawing
	}{runOf(r.Camera, r.Scenario), newKit(&r.House, day), day, words.Blocks[1:], windows})
}

func (w Writer) window(r *audit.Answer, s *audit.Specification) windowDrawing {
	var meets []string
	for _, offer := range s.Hire {
		meets = append(meets, offer.Lens)
	}
	d := windowDrawing{Shots: wording.List(r.IDs(s.Shots), "and"), Meets: wording.List(meets, "or"), Width: planWidth}
	for _, axis := range audit.Axes() {
		edges, scale := s.Axes[axis], axis.Scale()
		if edges.Open() {
			continue
		}
		at := func(x float64) float64 {
			share := math.Log(x/scale.Usual.Low) / math.Log(scale.Usual.High/scale.Usual.Low)
			return windowLeft + min(1, max(0, share))*(windowRight-windowLeft)
		}
		between := func(from, to float64) span { return span{px(at(from)), px(at(to) - at(from))} }
		low, high := edges.Low, edges.High
		if math.IsNaN(low) {
			low = scale.Usual.Low
		}
		if math.IsNaN(high) {
			high = scale.Usual.High
		}
		top := windowRow * float64(len(d.Rows))
		line := windowLine{
			Name: wording.Axes[axis] + " " + wording.Edges(axis, edges, w.Printer),
			Text: px(top + 12), Y: px(top + 26), Allow: between(low, high),
		}
		for _, lens := range r.Scenario.Catalogue.Lenses.All() {
			fitting, err := r.Scenario.Catalogue.Fit(lens, r.Camera)
			if err != nil {
				continue
			}
			figure := scale.Of(lens, fitting)
			switch {
			case math.IsNaN(figure.Low + figure.High):
			case slices.Contains(meets, lens.Name.Value):
				line.Hire = append(line.Hire, between(figure.Low, figure.High))
			case lens.Have.Kind != catalog.Hired:
				line.House = append(line.House, between(figure.Low, figure.High))
			}
		}
		d.Rows = append(d.Rows, line)
	}
	d.Height = px(windowRow * float64(len(d.Rows)))
	return d
}

// Says tells the drawing in words.
func (d windowDrawing) Says() string {
	names := make([]string, len(d.Rows))
	for i, row := range d.Rows {
		names[i] = row.Name
	}
	return "The lens that is missing for " + d.Shots + ": " + strings.Join(names, "; ") + "."
}
