package editor

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"glassbrief/engine/brief"
	"glassbrief/engine/exposure"
	"glassbrief/engine/facts"
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A hover is what to show about a place.
type hover struct {
	Contents markup    `json:"contents"`
	Range    textRange `json:"range"`
}

// markup is a text in Markdown.
type markup struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

func markdown(text string) markup { return markup{"markdown", text} }

// hover says what stands at an offset: a keyword, a quantity in other units, a piece of
// equipment, a fact, a word of the trade. Where there is nothing to say it gives nil.
func (s *server) hover(d *document, offset int) any {
	place := d.source.At(offset)
	span, text := place.Span, ""
	switch place.Kind {
	case lang.AtKeyword:
		if f := blockOf(d.kind, place.Block()).field(span.Text()); f != nil {
			text = f.markdown()
		}
	case lang.AtQuantity:
		text = aboutQuantity(span)
	case lang.AtText:
		if part := partAt(span, offset); quotesFact(part) {
			span, text = part, s.aboutFact(d, part.Text())
		} else {
			text = s.aboutName(d, place)
		}
	case lang.AtExpression:
		span = partAt(span, offset)
		if text = s.aboutFact(d, span.Text()); text == "" {
			text = aboutQuantity(span)
		}
	case lang.AtWord:
		text = s.aboutWord(d, place)
	}
	if text == "" {
		return nil
	}
	return hover{markdown(text), rangeOf(span)}
}

func (f *field) markdown() string {
	text := "**" + f.Keyword + "**"
	if f.Takes != "" {
		text += " takes " + f.Takes
	}
	return text + "\n\n" + f.About
}

// partAt gives the word or quantity at an offset of a span, empty when there is none.
func partAt(span lang.Span, offset int) lang.Span {
	for part := range parts(span) {
		if part.Start <= offset && offset <= part.End {
			return part
		}
	}
	return lang.Span{Source: span.Source, Start: offset, End: offset}
}

// wordLength gives the length of the name of a fact that a text begins with, or 0.
func wordLength(text string) int {
	for i, c := range text {
		if c != '_' && (c < 'a' || c > 'z') && (i == 0 || c < '0' || c > '9') {
			return i
		}
	}
	return len(text)
}

// quotesFact reports whether a part of a text stands between braces.
func quotesFact(part lang.Span) bool {
	text := part.Source.Text
	return part.Start > 0 && part.End < len(text) && text[part.Start-1] == '{' && text[part.End] == '}'
}

// aboutFact says what a fact or function means, or "" when the name is of neither.
func (s *server) aboutFact(d *document, name string) string {
	if function := expression.FindFunction(name); function != nil {
		return "**" + function.Signature() + "**\n\n" + function.Meaning
	}
	names := s.look(d).Rules.Names()
	index, ok := names.Lookup(name)
	if !ok {
		return ""
	}
	of := names.Name(index)
	kind := "yes or no"
	if of.Kind == expression.Number {
		kind = of.Dim.String()
		if of.Unit != "" {
			kind += ", shown in " + of.Unit
		}
	}
	text := fmt.Sprintf("**%s**: %s\n\n%s", name, kind, of.Meaning)
	if index < int(facts.Count) {
		fact := facts.Table()[index]
		if fact.Formula != "" {
			text += fmt.Sprintf("\n\n`%s`", fact.Formula)
		}
		if fact.Source != "" {
			text += "\n\nSource: " + fact.Source
		}
	}
	return text
}

// aboutQuantity writes a quantity in the units that a reader may want it in.
func aboutQuantity(span lang.Span) string {
	if lang.ScanQuantity(span.Text()) != len(span.Text()) || span.Text() == "" {
		return ""
	}
	q, fault := lang.ReadQuantity(span)
	if fault != nil {
		return ""
	}
	return strings.Join(inUnits(q), "  \n")
}

func inUnits(q lang.Quantity) []string {
	units := map[lang.Dimension][]string{
		lang.Length: {"mm", "m", "in", "ft"}, lang.Mass: {"g", "kg", "oz", "lb"}, lang.Time: {"s", "ms"},
		lang.Angle: {"deg", "rad"}, lang.Speed: {"m/s", "km/h", "ft/s", "mph"}, lang.AngularSpeed: {"deg/s", "rad/s"},
		lang.Illuminance: {"lx", "fc"}, lang.Rate: {"fps"}, lang.Inertia: {"kgm2", "gm2"},
	}[q.Dim]
	var values []string
	for _, name := range units {
		unit, _ := lang.FindUnit(name)
		values = append(values, fmt.Sprintf("%.4g %s", q.Value/unit.Factor, name))
	}
	switch {
	case q.Dim == lang.Length:
		values = append(values, lang.Printer{System: lang.Imperial}.Quantity(q.Value, "m"))
	case q.Dim == lang.Illuminance:
		values = append(values, fmt.Sprintf("EV %.3g at ISO 100", exposure.EV(q.Value)))
	case q.Dim == lang.Aperture:
		values = append(values, fmt.Sprintf("%.3g stops from %s1", exposure.StopsBetween(1, q.Value), q.Unit))
	case q.Dim == lang.Stops:
		values = append(values, fmt.Sprintf("%.4g times the light", math.Exp2(q.Value)))
	case q.Unit == "%":
		values = append(values, fmt.Sprintf("%.4g", q.Value))
	}
	return values
}

// aboutWord says what a word of the trade stands for.
func (s *server) aboutWord(d *document, place lang.Place) string {
	word := place.Span.Text()
	switch place.Keyword.Value {
	case "frame":
		return s.aboutFraming(d, place, word)
	case "given":
		return s.aboutFact(d, word)
	case "light":
		if level, ok := exposure.NamedLevel(word); ok {
			q := lang.NewQuantity(level.Lux, lang.Illuminance)
			return fmt.Sprintf("**%s**\n\n%s\n\nSource: %s", word, strings.Join(inUnits(q), "  \n"), level.Source)
		}
	}
	return ""
}

func (s *server) aboutFraming(d *document, place lang.Place, word string) string {
	band, ok := brief.FramingBand(word)
	if !ok {
		return ""
	}
	text := fmt.Sprintf("**%s**: the subject is %.0f%% to %.0f%% as high as the frame", word, band.Low*100, band.High*100)
	shots := s.look(d).Shots
	at := slices.IndexFunc(shots, func(shot *brief.Shot) bool {
		return len(place.Blocks) > 0 && shot.Span == place.Blocks[0].Keyword.Span
	})
	if at >= 0 && shots[at].Subject.Height.Known() {
		height := shots[at].Subject.Height.Value
		text += fmt.Sprintf(", which shows %s to %s of height here", s.Printer.Quantity(height/band.High, "m"), s.Printer.Quantity(height/band.Low, "m"))
	}
	return text
}
