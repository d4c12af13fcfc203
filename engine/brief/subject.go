package brief

import (
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
	if args.Failed() {
		return
	}
	s.check(args)
}

func (s *Subject) check(args *lang.Args) {
	for _, q := range []lang.Quantity{s.Width, s.Height} {
		if q.Known() && q.Value <= 0 {
			args.Report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.OutOfRange, Span: q.Span,
				Summary: "a subject is larger than nothing", Detail: "Write a length above zero.",
			})
			return
		}
	}
	if s.IsPerson() && (s.Height.Value < 0.5 || s.Height.Value > 2.3) {
		args.Report(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.Improbable, Span: s.Height.Span,
			Summary: "a person of this height is improbable", Detail: "Check the unit. For anything but a person, write \"object\".",
		})
	}
}

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
