package brief

import (
	"sync"

	"glassbrief/engine/facts"
	"glassbrief/engine/people"
	"glassbrief/lang"
)

// Subject is what a shot shows: "person 1.78m", "people 1.2m x 1.78m" (the width of the
// group and the stature), "object 0.9m x 1.4m" (width and height; one length is its height,
// as wide as high) or "place 3.4m x 2.5m" (what is to be seen of a room or a place, of which
// the depth counts too).
type Subject struct {
	Kind          string
	Width, Height lang.Quantity
	Span          lang.Span
}

// subjectKinds lists what can be seen.
var subjectKinds = []string{"person", "people", "object", "place"}

// SubjectKinds lists the words for what a shot shows.
func SubjectKinds() []string { return subjectKinds }

// DecodeArgs reads the values of "subject".
func (s *Subject) DecodeArgs(args *lang.Args) {
	s.Span = args.Rest()
	s.Kind = args.Word(subjectKinds...).Value
	if args.Failed() {
		return
	}
	if s.Kind == "people" || s.Kind == "place" || args.PeekForm() == lang.SizeOf {
		size := args.Size(lang.Length)
		s.Width, s.Height = size.Width, size.Height
	} else {
		s.Height = args.Quantity(lang.Length)
	}
	if s.IsPerson() {
		args.Hold(s.Height, stature(), "a person", `Check the unit. For anything but a person, write "object".`)
	}
}

// stature is the height of a person, children among them.
var stature = sync.OnceValue(func() *lang.Plausible { return lang.NewPlausible("50cm..230cm", "25cm..350cm") })

// IsPerson reports whether it is a person or people.
func (s Subject) IsPerson() bool { return s.Kind == "person" || s.Kind == "people" }

// IsPlace reports whether it is a room or a place, of which the whole depth counts.
func (s Subject) IsPlace() bool { return s.Kind == "place" }

// subject gives the sizes that the physics needs.
func (s Subject) subject(offset float64) facts.Subject {
	height := s.Height.Value
	width := height
	switch {
	case s.Width.Known():
		width = s.Width.Value
	case s.Kind == "person":
		width = people.ShoulderBreadth.Value() * height
	}
	return facts.Subject{Person: s.IsPerson(), Place: s.IsPlace(), Height: height, Width: width, Offset: offset}
}
