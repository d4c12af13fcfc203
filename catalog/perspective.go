package catalog

import (
	"fmt"
	"math"

	"glassbrief/lang"
)

// The word for a lens without a pupil of its own.
const ThinPupil = "thin"

// A Pupil says where the entrance pupil of a lens lies, as "pupil 95mm", "pupil 110mm 60mm" for
// the two ends of a zoom, or "pupil thin". Its zero value is unknown.
type Pupil struct {
	Thin bool // the lens is taken for a thin one, whose pupil it is itself
	Ends
}

// Breathing is by how much the tangent of half the angle of view, at the entrance pupil, changes
// from the focus at infinity to the closest, as "breathing -8%", "breathing -4% -9%" for the two
// ends of a zoom, or by the angles seen at two distances from the sensor plane, as "breathing 0.45m
// 71deg infinity 75deg". Its zero value is unknown.
type Breathing struct {
	Ends
	Seen [2]Seen // what the share is worked out from; zero where it is given
}

// Seen is an angle of view of a lens that is focused at a distance from the sensor plane. Without a
// distance, that is infinity.
type Seen struct{ Distance, Angle lang.Quantity }

// Ends are a figure at the wide and at the long end of a zoom. One of a prime, or the same over the
// zoom, has no long end.
type Ends struct{ Wide, Long lang.Quantity }

func (e *Ends) read(args *lang.Args, dim lang.Dimension) {
	if e.Wide = args.RoughQuantity(dim); args.More() {
		e.Long = args.RoughQuantity(dim)
	}
	if args.Failed() {
		*e = Ends{}
	}
}

// Known reports whether the figure is known.
func (e Ends) Known() bool { return e.Wide.Known() }

// LongEnd gives the figure at the long end.
func (e Ends) LongEnd() lang.Quantity {
	if e.Long.Known() {
		return e.Long
	}
	return e.Wide
}

// Show writes the figure for people.
func (e Ends) Show(p lang.Printer) string {
	if e.Long.Known() {
		return p.Given(e.Wide) + " to " + p.Given(e.Long)
	}
	return p.Given(e.Wide)
}

// DecodeArgs reads the values of "pupil".
func (u *Pupil) DecodeArgs(args *lang.Args) {
	if args.PeekKind() == lang.WordPart && !args.PeekWord(lang.About) {
		u.Thin = args.Word(ThinPupil).Value != ""
		return
	}
	u.read(args, lang.Length)
}

// Known reports whether it is known where the pupil lies.
func (u Pupil) Known() bool { return u.Thin || u.Ends.Known() }

// Show writes the pupil for people.
func (u Pupil) Show(p lang.Printer) string {
	if u.Thin {
		return ThinPupil
	}
	return u.Ends.Show(p)
}

// DecodeArgs reads the values of "breathing".
func (b *Breathing) DecodeArgs(args *lang.Args) {
	if !args.PeekDimension(lang.Length) && !args.PeekWord(atInfinity) {
		b.read(args, lang.Plain)
		return
	}
	for i := range b.Seen {
		if !args.Skip(atInfinity) {
			b.Seen[i].Distance = args.Quantity(lang.Length)
		}
		b.Seen[i].Angle = args.Quantity(lang.Angle)
	}
	if args.Failed() {
		*b = Breathing{}
	}
}

// atInfinity is the word for the focus on what is far.
const atInfinity = "infinity"

// seen works the breathing of a prime out from two angles of view. The picture at d from the pupil is
// 2 d tan(a/2) (1 + b c/d) wide, with c for the d of the closest focus.
func (v *checker) seen(l *Lens) {
	b := &l.Breathing
	near, far := b.Seen[0], b.Seen[1]
	if !near.Angle.Known() {
		return
	}
	at := near.Angle.Span
	fault := func(summary, remedy string) { v.report(lang.Error, lang.Contradiction, at, summary, remedy) }
	switch {
	case l.IsZoom():
		fault("angles at two distances tell the breathing of one focal length", "Write the share at each end of the zoom, as \"breathing -4% -9%\".")
		return
	case !l.Pupil.Ends.Known() || !l.CloseFocus.Known():
		fault("angles tell the breathing only beside the pupil, from which they are seen, and the closest focus", "Give \"pupil\" and \"close_focus\", or the breathing as a share.")
		return
	}
	closest := l.CloseFocus.Value - l.Pupil.Wide.Value
	share := func(s Seen) (closeness, tangent float64) {
		if s.Distance.Known() {
			closeness = min(1, closest/(s.Distance.Value-l.Pupil.Wide.Value))
		}
		return closeness, math.Tan(s.Angle.Value / 2)
	}
	x1, t1 := share(near)
	x2, t2 := share(far)
	ratio := t1 / t2
	change := (ratio - 1) / (x1 - ratio*x2)
	if !(t1 > 0 && t2 > 0) || !(x1 >= 0 && x2 >= 0) || x1 == x2 || math.IsInf(change, 0) || !(change > -1) {
		fault("no lens shows these angles at these distances", "Write two distances that differ, beyond the pupil, each with the whole angle of view, below 180deg.")
		return
	}
	b.Wide = lang.NewQuantity(change, lang.Plain)
	b.Wide.Unit, b.Wide.Span = "%", at
}

// perspective checks where the perspective of a lens begins, and by how much its picture narrows.
func (v *checker) perspective(l *Lens) {
	v.seen(l)
	for _, q := range []lang.Quantity{l.Pupil.Wide, l.Pupil.Long} {
		if q.Known() && l.CloseFocus.Known() && q.Value >= l.CloseFocus.Value {
			v.improbable(q.Span, fmt.Sprintf("%q puts the entrance pupil before what the lens focuses on at its closest", q.Span.Text()),
				"Both are taken from the sensor plane, and the pupil lies within the lens. Check both.")
		}
	}
	for _, q := range []lang.Quantity{l.Breathing.Wide, l.Breathing.Long} {
		if q.Known() && l.Pupil.Thin {
			v.found.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.Contradiction, Span: q.Span,
				Summary: "a thin lens narrows by its magnification, and by no other figure",
				Detail:  "Leave one of the two lines out.",
				Related: []lang.Related{{Span: l.Span, Note: "\"pupil thin\" stands in this lens"}},
			})
		}
	}
	for _, e := range []Ends{l.Pupil.Ends, l.Breathing.Ends} {
		if e.Long.Known() && l.Focal.Known() && !l.IsZoom() {
			v.report(lang.Error, lang.Contradiction, e.Long.Span, "a lens of one focal length has no long end",
				"Write one figure, or the ends of a zoom as \"focal 24mm..70mm\".")
		}
	}
}
