package wording

import (
	"fmt"
	"math"
	"strings"

	"glassbrief/engine/card"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/lang"
)

// A Line is one thing to set or to know on a card: what it is, and how it is.
type Line struct {
	Of         card.Line
	Name, Text string
	Role       card.Role
}

// lines names each line of a card, and says what its values alone do not say; a line that
// has nothing to say is left out.
var lines = [card.Lines]struct {
	name string
	say  func(*speaker) string // nil for a line that lists its values
}{
	card.LensLine:      {"lens", (*speaker).lens},
	card.StopLine:      {"stop", (*speaker).stop},
	card.FocusLine:     {"focus", (*speaker).focus},
	card.ConfusionLine: {"circle of confusion", nil},
	card.WalkLine:      {"walk", (*speaker).walk},
	card.CircleLine:    {"circle", (*speaker).circle},
	card.MarksLine:     {"marks", (*speaker).marks},
	card.RoomLine:      {"room at the nearest", (*speaker).room},
	card.PassageLine:   {"passage", (*speaker).passage},
	card.ModeLine:      {"sensor mode", (*speaker).mode},
	card.SupportLine:   {"support", (*speaker).support},
	card.ISOLine:       {"ISO", (*speaker).iso},
	card.ShutterLine:   {"shutter", (*speaker).shutter},
	card.NDLine:        {"ND", (*speaker).nd},
	card.LightLine:     {"light", (*speaker).light},
	card.PictureLine:   {"picture", (*speaker).picture},
	card.PayloadLine:   {"on the stage", (*speaker).payload},
	card.TrimLine:      {"trim", (*speaker).trim},
	card.HangLine:      {"left to hang", (*speaker).hang},
	card.SwapLine:      {"swap", (*speaker).swap},
}

// A Card is what a card says.
type Card struct {
	Dials    []Dial // by their places; none on a card without a lens
	Lines    []Line // how the shot is set up; none on a card without a lens
	Notes    []string
	Cautions []string // in full
	Short    []string // the same, what to do
}

// A Deck is what a deck of cards says.
type Deck struct {
	Cards    []Card
	Cautions []string // of the whole day, in full
	Short    []string // the same, what to do
	Swaps    []Line   // between which lenses, and what it takes
	Bolt     string   // where on the camera the middle of the stage goes; "" where that is not known
}

// DeckOf says all that a deck says, with its numbers marked that rest on assumed figures.
func DeckOf(d *floor.Deck, p lang.Printer) Deck {
	const perCard = int(card.Lines) + 3 + 2*Dials
	texts := RangedAll(d, d.Worlds, func(d *floor.Deck) []string { return deckTexts(d, p) }, func(text int) bool {
		return text < perCard*len(d.Cards) && text%perCard < int(card.Lines) // notes, cautions and dials have no room for ranges
	})
	var said Deck
	for range d.Cards {
		var c Card
		for line, text := range texts[:card.Lines] {
			if text != "" {
				c.Lines = append(c.Lines, Line{card.Line(line), lines[line].name, text, card.Line(line).Role()})
			}
		}
		for k := 0; k < Dials && c.Lines != nil; k++ {
			at := int(card.Lines) + 3 + 2*k
			c.Dials = append(c.Dials, Dial{dials[k].label, texts[at], texts[at+1]})
		}
		c.Notes, c.Cautions, c.Short = cutLines(texts[card.Lines]), cutLines(texts[card.Lines+1]), cutLines(texts[card.Lines+2])
		said.Cards, texts = append(said.Cards, c), texts[perCard:]
	}
	for i, swap := range d.Swaps() {
		between, _ := SwapBetween(&swap, p)
		said.Swaps = append(said.Swaps, Line{Name: between, Text: texts[i]})
	}
	texts = texts[len(said.Swaps):]
	said.Bolt, said.Cautions, said.Short = texts[0], cutLines(texts[1]), cutLines(texts[2])
	return said
}

// CautionsOf says the cautions of a deck as [DeckOf] does, and nothing else.
func CautionsOf(d *floor.Deck, p lang.Printer) Deck {
	texts := MarkedAll(d, d.Worlds, func(d *floor.Deck) []string {
		var texts []string
		for i := range d.Cards {
			texts = append(texts, cautionTexts(d.Cards[i].Cautions, p)...)
		}
		return append(texts, cautionTexts(d.Cautions, p)...)
	})
	var said Deck
	for range d.Cards {
		said.Cards = append(said.Cards, Card{Cautions: cutLines(texts[0]), Short: cutLines(texts[1])})
		texts = texts[2:]
	}
	said.Cautions, said.Short = cutLines(texts[0]), cutLines(texts[1])
	return said
}

// cautionTexts says cautions in full and short, each line by line.
func cautionTexts(of []floor.Caution, p lang.Printer) []string {
	return []string{strings.Join(Cautions(of, p), "\n"), strings.Join(ShortCautions(of, p), "\n")}
}

func cutLines(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(text, "\n")
}

// deckTexts lists all that a deck says: of each card its lines, "" for one that has nothing to say,
// its notes, its cautions in full and short, and its dials with what belongs to each; the swaps; where
// to bolt the camera; and the cautions of the day in full and short.
func deckTexts(d *floor.Deck, p lang.Printer) []string {
	var texts []string
	for i := range d.Cards {
		c := &d.Cards[i]
		s := &speaker{c, p}
		for line, words := range lines {
			text := ""
			switch {
			case c.Use == nil:
			case words.say == nil:
				text = s.values(card.Line(line))
			default:
				text = words.say(s)
			}
			texts = append(texts, text)
		}
		texts = append(append(texts, strings.Join(Notes(c.Notes(), p), "\n")), cautionTexts(c.Cautions, p)...)
		for _, dial := range dials {
			figure, small := "", ""
			if c.Use != nil {
				figure, small = dial.figure(s), dial.small(s)
			}
			texts = append(texts, figure, small)
		}
	}
	for _, swap := range d.Swaps() {
		_, takes := SwapBetween(&swap, p)
		texts = append(texts, takes)
	}
	return append(append(texts, Bolt(d.Bolt, p)), cautionTexts(d.Cautions, p)...)
}

// A speaker says the lines of one card.
type speaker struct {
	c *floor.Card
	p lang.Printer
}

type row = *card.Row[floor.Card]

func (s *speaker) number(r row) float64 { return r.Number(s.c) }

// say says a value; "" where there is none.
func (s *speaker) say(r row) string {
	switch value := r.Of(s.c).(type) {
	case float64:
		if r.Off != nil {
			return s.p.Within(value, r.Off(s.c, value), r.Unit())
		}
		return s.p.Quantity(value, r.Unit())
	case []string:
		return List(value, "and")
	default:
		return fmt.Sprint(value)
	}
}

// values lists the values of a line that there are.
func (s *speaker) values(line card.Line) string {
	var said []string
	for _, r := range card.Setup() {
		if r.Line != line {
			continue
		}
		if text := s.say(r); text != "" && text != s.p.Quantity(math.NaN(), "") {
			said = append(said, text)
		}
	}
	return strings.Join(said, ", ")
}

func (s *speaker) lens() string {
	lens := LensAt(s.c.Use, s.p)
	if s.c.Use.Fact(facts.IsZoom) == 0 {
		lens += ", " + s.say(card.LensFocal)
	}
	if on := s.say(card.Adapter); on != "" {
		lens += " on " + on
	}
	if s.c.Use.Fitting.Factor != 1 {
		lens += fmt.Sprintf(": set it to %s, it acts as %s", s.say(card.LensFocal), s.say(card.Focal))
	}
	return lens
}

func (s *speaker) stop() string {
	stop := s.say(card.Stop)
	if s.number(card.LensStop) != s.number(card.Stop) {
		stop = fmt.Sprintf("%s on the lens, acts as %s", s.say(card.LensStop), stop)
	}
	if !math.IsNaN(s.number(card.TStop)) {
		stop += ", " + s.say(card.TStop)
	}
	return stop
}

func (s *speaker) focus() string {
	how := "set once at"
	if s.c.Use.Fact(facts.Following) == 1 {
		how = [...]string{facts.Pulled: "pulled", facts.Auto: "automatic"}[s.c.Shot.Focus] + ", at"
		if s.c.Shot.Near < s.c.Shot.Far {
			how += " its nearest"
		}
	}
	return fmt.Sprintf("%s %s, %s", how, s.say(card.FocusAt), s.sharp())
}

func (s *speaker) walk() string {
	if !s.c.Walk.Known() {
		if s.number(card.Start) == s.number(card.End) {
			return "neither focus nor framing holds at " + s.say(card.Start)
		}
		return "neither focus nor framing holds where the move ends"
	}
	text := s.say(card.WalkNear) + " and farther"
	if near, far := s.number(card.WalkNear), s.number(card.WalkFar); !math.IsInf(far, 1) {
		text = Between(near, far, s.p)
	}
	switch near, far := s.say(card.NearLoses), s.say(card.FarLoses); {
	case near != "" && near == far:
		text += "; " + near + " is lost nearer and farther"
	case near != "" && far != "":
		text += "; " + near + " is lost nearer, " + far + " farther"
	case near != "":
		text += "; " + near + " is lost nearer"
	case far != "":
		text += "; " + far + " is lost farther off"
	}
	if s.c.Use.Fact(facts.Following) == 0 && math.IsNaN(s.number(card.Near)) {
		text += "; how far the focus holds is not known"
	}
	return text
}

// sharp says from where to where it is sharp, in the digits that are known where they tell the two
// ends apart.
func (s *speaker) sharp() string {
	if near, far := s.say(card.Near), s.say(card.Far); !math.IsNaN(s.number(card.Near)) && near != far {
		return fmt.Sprintf("sharp from %s to %s", near, far)
	}
	return sharp(s.number(card.Near), s.number(card.Far), s.p)
}

// sharp says from where to where it is sharp, or how deep where a tape shows no difference.
func sharp(near, far float64, p lang.Printer) string {
	from, to := p.Quantity(near, "m"), p.Quantity(far, "m")
	switch {
	case math.IsNaN(near):
		return "how deep it is sharp is not known"
	case from == to:
		return "sharp over " + Between(near, far, p)
	}
	return fmt.Sprintf("sharp from %s to %s", from, to)
}

func (s *speaker) circle() string {
	if math.IsNaN(s.number(card.Circle)) {
		return ""
	}
	text := fmt.Sprintf("%s to the sensor plane, %s to the front of the lens", s.say(card.Circle), s.say(card.LensCircle))
	if lap := s.number(card.Duration); !math.IsInf(lap, 1) {
		text += fmt.Sprintf("; once round in %.0f s", lap)
	}
	return text
}

func (s *speaker) marks() string {
	if room := s.c.Shot.Room; room != nil {
		return fmt.Sprintf("%s, chosen within %s", StandAt.In(s.c.Use, s.p), Between(room.Near, room.Far, s.p))
	}
	if s.number(card.Start) == s.number(card.End) {
		return s.say(card.Start)
	}
	return fmt.Sprintf("start %s, end %s", s.say(card.Start), s.say(card.End))
}

func (s *speaker) room() string {
	room := s.say(card.LensRoom) + " from the front of the lens"
	if !math.IsNaN(s.number(card.RigRoom)) {
		room += ", " + s.say(card.RigRoom) + " from the plates"
	}
	return room
}

func (s *speaker) passage() string {
	if math.IsNaN(s.number(card.Passage)) {
		return ""
	}
	spare := tapeCentimetres(math.Abs(s.c.Plan.Spare), s.p) + " to spare a side"
	if s.c.Plan.Spare < 0 {
		spare = tapeCentimetres(-2*s.c.Plan.Spare, s.p) + " too narrow"
	}
	return fmt.Sprintf("%s wide, the move takes %s: %s", s.say(card.Passage), s.say(card.PassageNeeds), spare)
}

// mode and support are said where the shot is other in them than the rest of the day.
func (s *speaker) mode() string {
	if s.c.Shot.Mode == s.c.Of.Scenario.Mode {
		return ""
	}
	return s.say(card.Mode)
}

func (s *speaker) support() string {
	return [...]string{facts.Sled: "", facts.DockedSled: "the sled in its dock", facts.Legs: "on legs, off the sled"}[s.c.Shot.Support]
}

func (s *speaker) iso() string {
	if math.IsNaN(s.number(card.ISO)) {
		return "set it by the meter"
	}
	return fmt.Sprintf("%.0f", s.number(card.ISO))
}

func (s *speaker) shutter() string {
	return fmt.Sprintf("1/%.0f s: %.4g deg at %s", 1/s.number(card.Shutter), s.number(card.Angle)*180/math.Pi, s.say(card.Rate))
}

func (s *speaker) nd() string { return ND.In(s.c.Use, s.p) }

func (s *speaker) light() string {
	if math.IsNaN(s.number(card.Light)) {
		return ""
	}
	return fmt.Sprintf("%s, %s at ISO 100", s.say(card.Light), s.say(card.LightEV))
}

func (s *speaker) picture() string {
	var parts []string
	if s.number(card.Bob) > 0 {
		parts = append(parts, fmt.Sprintf("rises and falls by %s to %s of its height and sways by %s to %s of its width with the steps",
			s.say(card.BobLow), s.say(card.BobHigh), s.say(card.SwayLow), s.say(card.SwayHigh)))
	}
	if s.number(card.Wobble) > 0 {
		parts = append(parts, "swings by "+s.say(card.Wobble)+" of its width")
	}
	if crossing := s.number(card.Crossing); !math.IsInf(crossing, 1) && !math.IsNaN(crossing) {
		verdict := "slow enough"
		if s.c.Use.Fact(facts.Pace) < 1 {
			verdict = "it may strobe"
		}
		parts = append(parts, fmt.Sprintf("background crosses it in %s, rule %s, %s; trail %s a frame",
			s.say(card.Crossing), s.say(card.Limit), verdict, s.say(card.Blur)))
	}
	return strings.Join(parts, "; ")
}

func (s *speaker) payload() string {
	if s.c.Rig.OnLegs {
		return ""
	}
	return s.say(card.Mass) + " of " + s.say(card.Least) + " to " + s.say(card.Most)
}

func (s *speaker) trim() string {
	switch r := s.c.Rig; {
	case r.OnLegs:
		return ""
	case r.Trimmed:
		low := ""
		if r.Inverted {
			low = ", upside down"
		}
		return fmt.Sprintf("%s, post %s deep%s, stage %s; drops in about %s, %s with the post %s off: time it", Counted(r.Trim.Plates, "plate"),
			millimetres(s.number(card.Post), s.p), low, shiftText(s.number(card.Shift), s.p), s.say(card.Drop), s.drops(), s.say(card.Setting))
	case len(r.Lacks) > 0:
		return "not known: see below"
	case !math.IsNaN(r.Shortest):
		if math.IsInf(s.number(card.Longest), 1) {
			return fmt.Sprintf("out of reach: drops in %s at the quickest", s.say(card.Shortest))
		}
		return fmt.Sprintf("out of reach: drops in %s to %s", s.say(card.Shortest), s.say(card.Longest))
	}
	return "out of reach: tips over"
}

// drops says between what the drop lies, as the post is set.
func (s *speaker) drops() string {
	quickest := s.say(card.Quickest)
	if math.IsInf(s.number(card.Slowest), 1) {
		return quickest + " or more, or it tips over,"
	}
	return quickest + " to " + s.say(card.Slowest)
}

func (s *speaker) hang() string {
	if s.number(card.Tilt) == 0 {
		return ""
	}
	return tiltText(s.number(card.Tilt), card.Tilt.Off(s.c, s.number(card.Tilt)), s.p)
}

func (s *speaker) swap() string {
	if s.c.Swap == nil {
		return ""
	}
	return Swap(s.c.Swap, s.p)
}

// leastShift is what a hand can set on a rig, in metres.
const leastShift = 0.0005

func shiftText(shift float64, p lang.Printer) string {
	switch {
	case math.Abs(shift) < leastShift:
		return "in its middle"
	case shift < 0:
		return millimetres(-shift, p) + " back"
	}
	return millimetres(shift, p) + " forward"
}

// millimetres writes a length as a hand sets it on a rig.
func millimetres(length float64, p lang.Printer) string {
	return p.Quantity(math.Round(length*1e3)/1e3, "mm")
}

// tiltText says how something hangs that is known to off either way.
func tiltText(tilt, off float64, p lang.Printer) string {
	end := "nose down"
	if tilt < 0 {
		end = "nose up"
	}
	return p.Within(math.Abs(tilt), off, "deg") + " " + end
}

// Bolt says where on the camera the middle of the stage goes, once for all cards.
func Bolt(behind float64, p lang.Printer) string {
	if math.IsNaN(behind) {
		return ""
	}
	side := "behind"
	if behind < 0 {
		side = "ahead of"
	}
	return fmt.Sprintf("Bolt the camera so that the point %s %s its lens flange is over the middle of the stage; shifts count from there.",
		millimetres(math.Abs(behind), p), side)
}
