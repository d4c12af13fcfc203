package catalog

import (
	"fmt"
	"math"
	"slices"

	"glassbrief/lang"
)

// check reports figures that contradict each other, and names that are missing or unknown.
// What one figure can be by itself stands in the tags of the items, which the decoder holds
// it to. What counts as improbable is this project's judgement of what is made; such a figure
// is used all the same.
func (c *Catalogue) check(found *lang.Diagnostics) {
	v := &checker{catalogue: c, found: found}
	for _, mount := range c.Mounts.All() {
		v.mount(mount)
	}
	for _, lens := range c.Lenses.All() {
		v.lens(lens)
	}
	v.currency()
	for _, camera := range c.Cameras.All() {
		v.camera(camera)
	}
	for _, rig := range c.Rigs.All() {
		v.rig(rig)
	}
	for _, adapter := range c.Adapters.All() {
		v.adapter(adapter)
	}
	for _, filter := range c.Filters.All() {
		v.filter(filter)
	}
}

type checker struct {
	catalogue *Catalogue
	found     *lang.Diagnostics
}

func (v *checker) report(severity lang.Severity, code lang.Code, at lang.Span, summary, detail string) {
	v.found.Add(lang.Diagnostic{Severity: severity, Code: code, Span: at, Summary: summary, Detail: detail})
}

func (v *checker) name(kind string, name lang.Text) {
	if name.Value == "" && name.Span.Known() {
		v.report(lang.Error, lang.MissingValue, name.Span,
			fmt.Sprintf("a %s has no name", kind), "Write its name between the quotes.")
	}
}

// list checks that no value is repeated.
func (v *checker) list(keyword string, l lang.List) {
	for i, q := range l.Items {
		if first := slices.IndexFunc(l.Items[:i], func(earlier lang.Quantity) bool { return sameNumber(earlier.Value, q.Value) }); first >= 0 {
			v.found.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.DuplicateField, Span: q.Span,
				Summary: fmt.Sprintf("%q stands twice in %q", q.Span.Text(), keyword), Detail: "Keep one of the two.",
				Related: []lang.Related{{Span: l.Items[first].Span, Note: "it stands here first"}},
			})
		}
	}
}

// within reports a value that lies outside of what the item can be set to.
func (v *checker) within(q lang.Quantity, can lang.Interval, what, remedy string) {
	if q.Value >= can.Low.Or(0) && q.Value <= can.High.Or(math.Inf(1)) {
		return
	}
	v.found.Add(lang.Diagnostic{
		Severity: lang.Error, Code: lang.Contradiction, Span: q.Span,
		Summary: fmt.Sprintf("the %s %q lies outside of %q", what, q.Span.Text(), can.Span.Text()), Detail: remedy,
		Related: []lang.Related{{Span: can.Span, Note: "the range is here"}},
	})
}

func (v *checker) improbable(at lang.Span, summary, detail string) {
	v.report(lang.Warning, lang.Improbable, at, summary, detail)
}

// mountName reports a mount that the catalogue lacks. A name that could not be read has
// been reported already.
func (v *checker) mountName(name lang.Text) {
	if !name.Span.Known() {
		return
	}
	if _, d := v.catalogue.Mounts.Resolve(name); d != nil {
		v.found.Add(*d)
	}
}

func (v *checker) mount(m *Mount) {
	v.name("mount", m.Name)
}

func (v *checker) lens(l *Lens) {
	v.name("lens", l.Name)
	v.mountName(l.Mount)
	if l.Focal.Known() && !(l.Focal.Low.Known() && l.Focal.High.Known()) {
		v.report(lang.Error, lang.BadInterval, l.Focal.Span,
			fmt.Sprintf("%q lacks an end", l.Focal.Span.Text()),
			"Write both ends of a zoom, or the one focal length of a prime.")
	}
	v.engraved(l)
	v.stops(l)
	v.focusing(l)
	v.perspective(l)
	v.shape(l)
	v.correction(&l.Correction)
	v.hire(l.Have)
}

func (v *checker) correction(c *Correction) {
	for i := range c.Distortions {
		d := &c.Distortions[i]
		if d.Focal.Known() && !(d.scale(0) > 0) {
			v.report(lang.Error, lang.OutOfRange, d.Focal.Span, fmt.Sprintf("the coefficients at %q turn the middle of the picture inside out", d.Focal.Span.Text()),
				"Check the model and its coefficients.")
		}
	}
}

// engraved checks that the engraved focal lengths lie within the zoom's range.
func (v *checker) engraved(l *Lens) {
	v.list("engraved", l.Engraved)
	switch {
	case !l.Engraved.Known() || !l.Focal.Known():
	case !l.IsZoom():
		v.report(lang.Error, lang.Contradiction, l.Engraved.Span, fmt.Sprintf("%q is engraved on a lens of one focal length", l.Engraved.Span.Text()),
			"Write the ends of a zoom as \"focal 24mm..70mm\", or leave the line out.")
	default:
		for _, q := range l.Engraved.Items {
			v.within(q, l.Focal, "engraved focal length", "It is one that the zoom can be set to. Correct one of the two.")
		}
	}
}

// focusing checks the words for the focus ring against each other.
func (v *checker) focusing(l *Lens) {
	if l.Focus.Value == FocusWire && l.Scale.Value != "" && l.Scale.Value != ScaleWire {
		v.found.Add(lang.Diagnostic{
			Severity: lang.Error, Code: lang.Contradiction, Span: l.Scale.Span,
			Summary: fmt.Sprintf("the ring is by wire by one line and %q by another", l.Scale.Value),
			Detail:  "Leave \"scale\" out, or write \"focus auto\" or \"focus manual\".",
			Related: []lang.Related{{Span: l.Focus.Span, Note: "it is by wire here"}},
		})
	}
}

// stops checks the f-numbers and the T-number, each by itself and against each other.
func (v *checker) stops(l *Lens) {
	for _, stop := range []lang.Quantity{l.Aperture.Low, l.Aperture.High} {
		if stop.Unit == "T" {
			v.report(lang.Error, lang.WrongKind, stop.Span,
				fmt.Sprintf("%q is a T-number, and \"aperture\" takes f-numbers", stop.Span.Text()),
				"Depth of field follows the f-number. Write the T-number on a line \"transmission\".")
			return
		}
	}
	t, f := l.Transmission, l.WidestStop()
	if t.Unit == "f/" {
		v.report(lang.Error, lang.WrongKind, t.Span,
			fmt.Sprintf("%q is an f-number, and \"transmission\" takes a T-number", t.Span.Text()),
			"Write the f-number on the line \"aperture\", and leave this one out if the T-number is not known.")
		return
	}
	if f.Known() && f.Value > 16 {
		v.improbable(f.Span, fmt.Sprintf("%q is improbable for the widest stop of a lens", f.Span.Text()), "Up to f/16 is usual. Write the widest stop first.")
	}
	if s := l.SmallestStop(); s.Known() && s.Value < 4 {
		v.improbable(s.Span, fmt.Sprintf("%q is improbable for the smallest stop of a lens", s.Span.Text()), "From f/4 on is usual. Write the smallest stop last.")
	}
	if !t.Known() || !f.Known() {
		return
	}
	if t.Value < f.Value {
		v.improbable(t.Span, fmt.Sprintf("%q lets more light through than \"f/%g\" without any loss", t.Span.Text(), f.Value),
			"A T-number is the f-number with the losses in the glass, so it is never the smaller one. Check both.")
	}
	if t.Value > 2*f.Value {
		v.improbable(t.Span, fmt.Sprintf("%q loses more than two stops against \"f/%g\"", t.Span.Text(), f.Value),
			"Usual is up to half a stop. Check both.")
	}
}

// shape checks figures of a lens against each other.
func (v *checker) shape(l *Lens) {
	focal := l.Focal.Low
	if l.CloseFocus.Known() && focal.Known() && l.CloseFocus.Value < 2*focal.Value {
		v.improbable(l.CloseFocus.Span, fmt.Sprintf("%q is an improbable closest focus of a lens of %s", l.CloseFocus.Span.Text(), focal.Span.Text()),
			"It is taken from the sensor plane, not from the front of the lens.")
	}
	if l.Balance.Known() && l.Length.Known() && l.Balance.Value > l.Length.Value {
		v.improbable(l.Balance.Span, fmt.Sprintf("%q puts the centre of mass in front of the lens", l.Balance.Span.Text()),
			"It is taken from the mount's flange, and lies within the length.")
	}
	if thread := l.Thread.Diameter; thread.Known() && l.Diameter.Known() && thread.Value > l.Diameter.Value {
		v.improbable(thread.Span, fmt.Sprintf("%q is wider than the lens", thread.Span.Text()),
			"Check the thread and the diameter.")
	}
	// Few rectilinear lenses reach 120 degrees across their circle. A fisheye whose
	// projection is missing would be judged as rectilinear.
	if l.Projection.Value == "" && l.Circle.Known() && focal.Known() {
		if angle := 2 * math.Atan(l.Circle.Value/2/focal.Value); angle > 120*math.Pi/180 {
			v.improbable(focal.Span, fmt.Sprintf("%q would see %.0f degrees across its circle without bending lines", focal.Span.Text(), angle*180/math.Pi),
				"If it is a fisheye, say so in a line \"projection\"; if not, write \"projection rectilinear\".")
		}
	}
}

// currency reports prices in more than one currency: prices are added up, and there is no
// rate of exchange to do it with.
func (v *checker) currency() {
	var first lang.Quantity
	for _, lens := range v.catalogue.Lenses.All() {
		for _, price := range lens.Have.prices() {
			switch {
			case !first.Known():
				first = price
			case price.Unit != first.Unit:
				v.found.Add(lang.Diagnostic{
					Severity: lang.Error, Code: lang.Contradiction, Span: price.Span,
					Summary: fmt.Sprintf("%q is in another currency than %q", price.Span.Text(), first.Span.Text()),
					Detail:  "Write all prices in one currency, so that they can be added up.",
					Related: []lang.Related{{Span: first.Span, Note: "the first price is here"}},
				})
			}
		}
	}
}

// hire checks what a week costs against what a day does.
func (v *checker) hire(h Holding) {
	day, week := h.DayRate, h.WeekRate
	switch {
	case !day.Known() || !week.Known() || day.Unit != week.Unit:
	case week.Value < day.Value:
		v.improbable(week.Span, fmt.Sprintf("a week for %q is less than a day for %q", week.Span.Text(), day.Span.Text()), "Check both prices.")
	case week.Value > 7*day.Value:
		v.improbable(week.Span, fmt.Sprintf("a week for %q is more than seven days for %q each", week.Span.Text(), day.Span.Text()),
			"A week costs three or four days as a rule. Check both prices.")
	}
}

func (v *checker) camera(c *Camera) {
	v.name("camera", c.Name)
	v.mountName(c.Mount)
	seen := map[string]lang.Text{}
	for i := range c.Modes {
		mode := &c.Modes[i]
		v.name("mode", mode.Name)
		if earlier, taken := seen[mode.Name.Value]; taken {
			v.found.Add(duplicateName("mode", mode.Name, earlier))
		}
		seen[mode.Name.Value] = mode.Name
		if mode.Size.Depth.Known() {
			v.report(lang.Error, lang.ExtraValue, mode.Size.Depth.Span, "a sensor has no depth", "Write its width and height.")
		}
		if p := mode.Pixels; p.Known() && mode.Size.Known() {
			if wide, high := mode.Size.Width.Value/p.Width, mode.Size.Height.Value/p.Height; math.Abs(wide/high-1) > 0.02 {
				v.improbable(p.Span, fmt.Sprintf("%q makes pixels of %.2f by %.2f um on a sensor of %s", p.Span.Text(), wide*1e6, high*1e6, mode.Size.Span.Text()),
					"Photosites are square: check the pixels and the size of the mode.")
			}
		}
	}
	v.list("iso", c.ISO)
	for _, base := range c.ISO.Items {
		v.within(base, c.ISORange, "base ISO", "The base ISO is one that can be set. Correct one of the two.")
	}
	v.list("built_in_nd", c.BuiltInND)
	if c.Balance.Known() && c.Length.Known() && c.Balance.Value > c.Length.Value {
		v.improbable(c.Balance.Span, fmt.Sprintf("%q puts the centre of mass behind the camera", c.Balance.Span.Text()),
			"It is taken from the mount's flange, and lies within the length.")
	}
}

func (v *checker) rig(r *Rig) {
	v.name("rig", r.Name)
	if r.BaseMass.Known() && r.SledMass.Known() && r.BaseMass.Value > r.SledMass.Value {
		v.report(lang.Error, lang.Contradiction, r.BaseMass.Span,
			fmt.Sprintf("the base of %q weighs more than the rig of %q that it is a part of", r.BaseMass.Span.Text(), r.SledMass.Span.Text()),
			"Correct one of the two.")
	}
	if r.Plates.Known() && r.Plates.Value != math.Trunc(r.Plates.Value) {
		v.report(lang.Error, lang.OutOfRange, r.Plates.Span,
			fmt.Sprintf("%q is no number of plates", r.Plates.Span.Text()), "Plates are counted whole.")
	}
}

func (v *checker) adapter(a *Adapter) {
	v.name("adapter", a.Name)
	v.mountName(a.From.Lens)
	v.mountName(a.From.Camera)
	if a.IsOptical() {
		return
	}
	gap := v.catalogue.gap(a.From.Lens.Value, a.From.Camera.Value)
	switch {
	case gap <= 0:
		v.improbable(a.Name.Span, fmt.Sprintf("with the adapter %q no lens focuses to infinity", a.Name.Value),
			"As "+v.catalogue.flanges(a.From.Lens.Value, a.From.Camera.Value)+`. If it has glass, write its "factor".`)
	case a.Thickness.Known() && math.Abs(a.Thickness.Value-gap) > seatTolerance:
		v.found.Add(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.Contradiction, Span: a.Thickness.Span,
			Summary: fmt.Sprintf("%q is not the difference of the flange distances, %s", a.Thickness.Span.Text(), millimetres(gap)),
			Detail:  "A thicker adapter does not reach infinity, and with a thinner one the marks of the lens do not hold.",
		})
	}
}

// seatTolerance is how far the thickness of a plain adapter may be from the difference of
// the flange distances, in metres. Adapters are made a little thin so as not to miss infinity.
const seatTolerance = 0.1e-3

func (v *checker) filter(f *Filter) {
	v.name("filter", f.Name)
	if f.Kind.Value == FilterStepUp && f.Front.Known() && f.Front.Value <= f.Thread.OrNaN() {
		v.report(lang.Error, lang.Contradiction, f.Front.Span,
			fmt.Sprintf("%q is no larger than the thread it steps up from", f.Front.Span.Text()),
			"A ring that narrows the view is of no use. Swap the two.")
	}
}
