package report

import (
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/card"
	"glassbrief/engine/floor"
)

// perSheet is how many cards stand on a sheet of A4 or Letter paper.
const perSheet = 4

// A card with more characters of faults and cautions than these is set small on paper.
const roomy = 260

// cardPages is what the template of cards shows.
type cardPages struct {
	Pocket bool
	Sheets [][]cardFace
}

// A cardFace is one card: the day, a shot, or what is to be found out.
type cardFace struct {
	Name         string // that addresses go to
	Back, Next   string // names of the cards before and behind
	ID, Title    string
	Plates       []plate // the kit on the card of the day, the lens of a shot
	Day          []dayLine
	Dials        []dialFace
	Ring         *ringDrawing
	Faults       []string
	Hints        []string
	Cautions     []string
	Walked       []wording.Line // where to walk, and what to do before
	Folded       []wording.Line
	Sources      []string
	Find         []wording.Line
	Foot         string
	Number, Of   int
	Small, Empty bool // Empty has no lens
}

// A dayLine is a shot on the card of the day.
type dayLine struct {
	Name, ID, Title string
	Plate           plate
	Minutes         string // that the change before it takes; "" for none
}

// A plate is a lens of the kit with its place there, from 1; 0 for none.
type plate struct {
	Name  string
	Place int
}

// A dialFace is a dial with the class of its size.
type dialFace struct {
	wording.Dial
	Unit, Class string
}

// Cards writes the set-up cards of a recommendation behind that of the day, with what is to be found
// out on one of its own: four to a sheet, or each on a page for the pocket. imprint says of which plan
// they are.
func (w Writer) Cards(to io.Writer, r *engine.Recommendation, deck *floor.Deck, imprint []string, pocket bool) error {
	said := wording.DeckOf(deck, w.Printer)
	faces := []cardFace{w.dayFace(r, deck, &said)}
	for i := range deck.Cards {
		faces = append(faces, w.face(r, &deck.Cards[i], &said.Cards[i]))
	}
	if len(deck.Lacks) > 0 {
		face := cardFace{Name: "find", Title: "To find out"}
		for _, lack := range deck.Lacks {
			what, how := wording.Lack(lack)
			face.Find = append(face.Find, wording.Line{Name: what, Text: how})
		}
		faces = append(faces, face)
	}
	for i := range faces {
		f := &faces[i]
		if i > 0 {
			f.Back = faces[i-1].Name
		}
		if i+1 < len(faces) {
			f.Next = faces[i+1].Name
		}
		f.Foot, f.Number, f.Of = strings.Join(imprint, " · "), i+1, len(faces)
		f.Small = f.length() > roomy
	}
	page := cardPages{Pocket: pocket}
	for sheet := range slices.Chunk(faces, perSheet) {
		page.Sheets = append(page.Sheets, sheet)
	}
	return w.write(to, "cards.html", "cards", r.Scenario.Name, page)
}

func (w Writer) face(r *engine.Recommendation, c *floor.Card, said *wording.Card) cardFace {
	face := cardFace{Name: "shot-" + c.Shot.ID, ID: c.Shot.ID, Title: c.Shot.Title, Cautions: said.Short, Empty: c.Use == nil}
	for i, note := range c.Notes() {
		if floor.IsFault(note) {
			face.Faults = append(face.Faults, said.Notes[i])
		} else {
			face.Hints = append(face.Hints, said.Notes[i])
		}
	}
	face.Sources = sourced(c.Cautions, said.Cautions)
	for _, line := range said.Lines {
		switch line.Role {
		case card.Walked, card.Step:
			face.Walked = append(face.Walked, line)
		case card.Known:
			face.Folded = append(face.Folded, line)
		}
	}
	if c.Use == nil {
		return face
	}
	lens := wording.OfLens(c.Use, func(j *engine.Judgement) string { return wording.LensAt(j, w.Printer) })
	face.Plates = []plate{{lens, slices.Index(r.Kit.Lenses, c.Use.Lens) + 1}}
	for i, dial := range said.Dials {
		d := dialFace{Dial: dial}
		if figure, ok := strings.CutSuffix(dial.Figure, " m"); ok {
			d.Figure, d.Unit = figure, "m"
		}
		switch n := utf8.RuneCountInString(d.Figure); { // six characters of the large size fill half a card
		case n > 9:
			d.Class = "long"
		case n > 5 && i <= wording.MarkDial:
			d.Class = "longer"
		}
		face.Dials = append(face.Dials, d)
	}
	face.Ring = drawRing(c.Use, said.Dials[wording.NearDial].Small, said.Dials[wording.FarDial].Small, w.Printer)
	return face
}

// dayFace is the card of what holds for all shots.
func (w Writer) dayFace(r *engine.Recommendation, deck *floor.Deck, said *wording.Deck) cardFace {
	face := cardFace{Name: "day", Title: r.Scenario.Name, Cautions: append(slices.Clone(said.Short), wording.Closing), Folded: said.Swaps}
	if text := wording.OneDay(r.Scenario); text != "" {
		face.Hints = []string{text}
	}
	for i, lens := range r.Kit.Lenses {
		face.Plates = append(face.Plates, plate{lens, i + 1})
	}
	minutes := wording.Minutes(deck, w.Printer)
	for i := range deck.Cards {
		c := &deck.Cards[i]
		line := dayLine{Name: "shot-" + c.Shot.ID, ID: c.Shot.ID, Title: c.Shot.Title, Minutes: minutes[i], Plate: plate{Name: "none"}}
		if c.Use != nil {
			line.Plate = plate{c.Use.Lens, slices.Index(r.Kit.Lenses, c.Use.Lens) + 1}
		}
		face.Day = append(face.Day, line)
	}
	face.Sources = sourced(deck.Cautions, said.Cautions)
	if said.Bolt != "" {
		face.Sources = append(face.Sources, said.Bolt)
	}
	if face.Folded != nil {
		face.Sources = append(face.Sources, wording.SwapLimits())
	}
	if deck.Worlds != nil {
		face.Sources = append(face.Sources, wording.TildeKey)
	}
	return face
}

// length gives how much there is to read besides what is dialled.
func (f *cardFace) length() int {
	n := 0
	for _, text := range append(slices.Clone(f.Faults), f.Cautions...) {
		n += utf8.RuneCountInString(text)
	}
	for _, line := range append(slices.Clone(f.Walked), f.Find...) {
		n += utf8.RuneCountInString(line.Name + line.Text)
	}
	return n + 40*len(f.Day)
}
