package report

import (
	"fmt"

	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/lang"
)

// briefOf repeats what the scenario asks of a shot.
func briefOf(shot *brief.Shot, p lang.Printer) []string {
	var said []string
	if shot.Scene != "" {
		said = append(said, "scene "+shot.Scene)
	}
	said = append(said, subjectText(shot.Subject, p), "framed "+frameText(shot.Frame, p), placeText(shot, p))
	if text := moveText(shot.Move, p); text != "" {
		said = append(said, text)
	}
	if shot.Metered() {
		said = append(said, p.Quantity(shot.Light, "lx"))
	}
	if shot.Support != facts.Sled {
		said = append(said, "support "+shot.Support.String())
	}
	return append(said, fmt.Sprintf("weight %g", shot.Weight))
}

// placeText says how far the subject is, or in which room the camera may stand.
func placeText(shot *brief.Shot, p lang.Printer) string {
	text := between(shot.Near, shot.Far, p)
	if shot.Room != nil {
		text = "anywhere within " + between(shot.Room.Near, shot.Room.Far, p)
	}
	if shot.Marks {
		text += ", marked on the floor"
	}
	return text
}

func subjectText(s brief.Subject, p lang.Printer) string {
	text := s.Kind + " "
	if s.Width.Known() {
		text += p.Quantity(s.Width.Value, "m") + " × "
	}
	return text + p.Quantity(s.Height.Value, "m")
}

func frameText(f brief.Frame, p lang.Printer) string {
	switch {
	case f.Words[0] == "":
		return p.Quantity(f.Near.Low, "%") + " to " + p.Quantity(f.Near.High, "%") + " of the height"
	case f.Words[0] != f.Words[1]:
		return f.Words[0] + " to " + f.Words[1]
	}
	return f.Words[0]
}

func moveText(m brief.Move, p lang.Printer) string {
	text := m.Word
	if m.Speed.Known() {
		text += " " + p.Quantity(m.Speed.Value, "m/s")
	}
	if m.Turn.Known() {
		text += ", panning " + p.Quantity(m.Turn.Value, "deg/s")
	}
	if m.Low {
		text += ", low mode"
	}
	if m.Run {
		text += ", running"
	}
	return text
}
