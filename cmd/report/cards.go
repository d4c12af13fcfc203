package report

import (
	"io"
	"math"
	"slices"
	"unicode/utf8"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/card"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
)

// perSheet is how many cards stand on a sheet of A4 or Letter paper.
const perSheet = 4

// cardSizes says how many characters a card holds on paper at its usual size, and set
// small; one with more leaves the drawings out besides.
var cardSizes = []struct {
	most int
	name string
}{{1500, ""}, {2200, "small"}, {math.MaxInt, "small bare"}}

// cardPages is what the template of cards shows.
type cardPages struct {
	Pocket bool
	Sheets [][]cardFace
}

// A cardFace is one card: a shot, or the swaps.
type cardFace struct {
	ID, Title string
	Set       []wording.Line // what is dialled in
	Know      []wording.Line // what else to know
	Notes     []string
	Cautions  []caution
	Closing   string
	Frame     *frameDrawing
	Strip     *stripDrawing
	Size      string // one of cardSizes
}

// A caution is one of a card, with the title of its source.
type caution struct{ Text, Source string }

// Cards writes the set-up cards of a recommendation, with the kit and what is to be found
// out on cards of their own: four to a sheet, or each on a page for the pocket.
func (w Writer) Cards(to io.Writer, r *engine.Recommendation, deck *floor.Deck, pocket bool) error {
	var faces []cardFace
	said := wording.DeckOf(deck, w.Printer)
	for i := range deck.Cards {
		faces = append(faces, w.face(r, &deck.Cards[i], &said.Cards[i]))
	}
	faces = append(faces, kitFace(r, deck, &said))
	if len(deck.Lacks) > 0 {
		face := cardFace{Title: "To find out"}
		for _, lack := range deck.Lacks {
			what, how := wording.Lack(lack)
			face.Know = append(face.Know, wording.Line{Name: what, Text: how})
		}
		faces = append(faces, face)
	}
	for i := range faces {
		faces[i].Size = faces[i].size()
	}
	page := cardPages{Pocket: pocket}
	for sheet := range slices.Chunk(faces, perSheet) {
		page.Sheets = append(page.Sheets, sheet)
	}
	return w.write(to, "cards.html", "cards", r.Scenario.Name, page)
}

func (w Writer) face(r *engine.Recommendation, c *floor.Card, said *wording.Card) cardFace {
	face := cardFace{ID: c.Shot.ID, Title: c.Shot.Title, Notes: said.Notes, Cautions: withSources(c.Cautions, said.Cautions), Closing: wording.Closing}
	for _, line := range said.Lines {
		if line.Role == card.Dialled {
			face.Set = append(face.Set, line)
		} else {
			face.Know = append(face.Know, line)
		}
	}
	if c.Use != nil {
		frame := drawFrame(r, c.Shot, c.Use, c.Shot.Near, w.Printer)
		face.Frame = &frame
		face.Strip = drawStrip(c.Use, []float64{c.Use.Fact(facts.Stop)}, w.Printer)
	}
	return face
}

func withSources(of []floor.Caution, said []string) []caution {
	var all []caution
	for i, c := range of {
		all = append(all, caution{said[i], c.Source()})
	}
	return all
}

// kitFace is the card of what holds for all shots.
func kitFace(r *engine.Recommendation, deck *floor.Deck, said *wording.Deck) cardFace {
	face := cardFace{Title: "The kit and its swaps", Cautions: withSources(deck.Cautions, said.Cautions)}
	face.Notes = append(face.Notes, wording.Kit(r))
	if said.Bolt != "" {
		face.Notes = append(face.Notes, said.Bolt)
	}
	if deck.Worlds != nil {
		face.Notes = append(face.Notes, wording.TildeKey)
	}
	if face.Know = said.Swaps; face.Know != nil {
		face.Closing = wording.SwapLimits
	}
	return face
}

// size gives the size at which the text fits.
func (c *cardFace) size() string {
	n := utf8.RuneCountInString(c.Title + c.Closing)
	for _, line := range append(slices.Clone(c.Set), c.Know...) {
		n += utf8.RuneCountInString(line.Name + line.Text)
	}
	for _, note := range c.Notes {
		n += utf8.RuneCountInString(note)
	}
	for _, caution := range c.Cautions {
		n += utf8.RuneCountInString(caution.Text + caution.Source)
	}
	for _, size := range cardSizes {
		if n <= size.most {
			return size.name
		}
	}
	return ""
}
