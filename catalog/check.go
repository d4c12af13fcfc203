package catalog

import (
	"fmt"
	"math"
	"slices"

	"glassbrief/lang"
)

// check reports impossible figures as errors, and those that are more likely a slip of the
// pen as warnings. What counts as improbable is this project's judgement of what is made;
// such a figure is used all the same.
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

// A sign says which numbers a figure can have.
type sign uint8

const (
	positive sign = iota
	notNegative
	signed
)

// A figure is what is known beforehand about one number of an item.
type figure struct {
	what      string // "mass of a lens"
	sign      sign
	low, high float64 // outside of which it is improbable, in SI units
	unit      string  // in which to show the limits
}

// figure checks one number; an unknown one passes.
func (v *checker) figure(q lang.Quantity, f figure) {
	if !q.Known() {
		return
	}
	text := q.Span.Text()
	switch {
	case f.sign == positive && q.Value <= 0:
		v.report(lang.Error, lang.OutOfRange, q.Span,
			fmt.Sprintf("%q cannot be the %s", text, f.what),
			"It is above zero; leave the line out if it is not known.")
	case f.sign == notNegative && q.Value < 0:
		v.report(lang.Error, lang.OutOfRange, q.Span,
			fmt.Sprintf("%q cannot be the %s", text, f.what),
			"It is zero or more; leave the line out if it is not known.")
	case q.Value < f.low || q.Value > f.high:
		var p lang.Printer
		v.improbable(q.Span, fmt.Sprintf("%q is an improbable %s", text, f.what),
			fmt.Sprintf("From %s to %s is usual. Check the number and its unit.",
				p.Quantity(f.low, f.unit), p.Quantity(f.high, f.unit)))
	}
}

// interval checks both ends.
func (v *checker) interval(i lang.Interval, f figure) {
	v.figure(i.Low, f)
	if i.High.Span != i.Low.Span {
		v.figure(i.High, f)
	}
}

// list checks each value, and that no value is repeated.
func (v *checker) list(keyword string, l lang.List, f figure) {
	for i, q := range l.Items {
		v.figure(q, f)
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
	v.figure(m.Flange, figure{"flange distance of a mount", positive, 0.005, 0.15, "mm"})
	v.figure(m.Throat, figure{"inner diameter of a mount", positive, 0.01, 0.15, "mm"})
}

func (v *checker) lens(l *Lens) {
	v.name("lens", l.Name)
	v.mountName(l.Mount)
	v.figure(l.Have.DayRate, figure{"price of a lens for a day", positive, 1, 5000, l.Have.DayRate.Unit})
	v.interval(l.Focal, figure{"focal length of a lens", positive, 0.002, 2, "mm"})
	if l.Focal.Known() && !(l.Focal.Low.Known() && l.Focal.High.Known()) {
		v.report(lang.Error, lang.BadInterval, l.Focal.Span,
			fmt.Sprintf("%q lacks an end", l.Focal.Span.Text()),
			"Write both ends of a zoom, or the one focal length of a prime.")
	}
	v.engraved(l)
	v.stops(l)
	v.focusing(l)
	v.figure(l.CloseFocus, figure{"closest focus of a lens", positive, 0.01, 10, "m"})
	v.figure(l.Circle, figure{"image circle of a lens", positive, 0.005, 0.1, "mm"})
	v.figure(l.Mass, figure{"mass of a lens", positive, 0.02, 15, "kg"})
	v.figure(l.Length, figure{"length of a lens", positive, 0.005, 1, "mm"})
	v.figure(l.Diameter, figure{"diameter of a lens", positive, 0.015, 0.3, "mm"})
	v.figure(l.Thread.Diameter, figure{"filter thread", positive, 0.015, 0.15, "mm"})
	v.figure(l.Balance, figure{"place of the centre of mass of a lens", signed, -0.05, 0.5, "mm"})
	v.figure(l.Distortion, figure{"distortion of a lens", signed, -0.15, 0.15, "%"})
	v.figure(l.Falloff, figure{"fall-off of a lens", notNegative, 0, 6, "stops"})
	if l.Squeeze.Known() && (l.Squeeze.Value < 1 || l.Squeeze.Value > 2) {
		v.improbable(l.Squeeze.Span, fmt.Sprintf("%q is an improbable squeeze", l.Squeeze.Span.Text()),
			"From 1 to 2 is usual: how many times more a lens takes in across the width.")
	}
	v.perspective(l)
	v.shape(l)
	v.correction(&l.Correction)
}

func (v *checker) correction(c *Correction) {
	v.figure(c.Crop, figure{"crop factor", positive, 0.2, 10, ""})
	if a := c.Aspect; a.Known() && (a.Value < 1 || a.Value > 3) {
		v.improbable(a.Span, fmt.Sprintf("%q is an improbable aspect ratio of a picture that was measured", a.Span.Text()),
			"Write the long side first, as \"3:2\".")
	}
	for i := range c.Distortions {
		d := &c.Distortions[i]
		v.figure(d.Focal, figure{"focal length of a measurement", positive, 0.002, 2, "mm"})
		if d.Focal.Known() && !(d.scale(0) > 0) {
			v.report(lang.Error, lang.OutOfRange, d.Focal.Span, fmt.Sprintf("the coefficients at %q turn the middle of the picture inside out", d.Focal.Span.Text()),
				"Check the model and its coefficients.")
		}
	}
	for i := range c.Shadings {
		s := &c.Shadings[i]
		v.figure(s.Focal, figure{"focal length of a measurement", positive, 0.002, 2, "mm"})
		v.figure(s.Stop, figure{"stop of a measurement", positive, 0.7, 64, "f/"})
		v.figure(s.Distance, figure{"distance of a measurement", positive, 0.02, 100000, "m"})
	}
}

// engraved checks that the engraved focal lengths lie within the zoom's range.
func (v *checker) engraved(l *Lens) {
	v.list("engraved", l.Engraved, figure{"engraved focal length", positive, 0.002, 2, "mm"})
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

// focusing checks how near a lens magnifies, and the words for its focus ring.
func (v *checker) focusing(l *Lens) {
	if m := l.Magnification; m.Known() && (m.Value < 0.01 || m.Value > 5) {
		v.improbable(m.Span, fmt.Sprintf("%q is an improbable magnification of a lens at its closest focus", m.Span.Text()),
			"From 1:100 to 5:1 is usual: the size on the sensor against that of the thing, as \"1:4\".")
	}
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
	v.figure(f, figure{"widest stop of a lens", positive, 0.7, 16, "f/"})
	v.figure(l.SmallestStop(), figure{"smallest stop of a lens", positive, 4, 64, "f/"})
	v.figure(t, figure{"T-number of a lens at its widest stop", positive, 0.7, 22, "T"})
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
		rate := lens.Have.DayRate
		switch {
		case !rate.Known():
		case !first.Known():
			first = rate
		case rate.Unit != first.Unit:
			v.found.Add(lang.Diagnostic{
				Severity: lang.Error, Code: lang.Contradiction, Span: rate.Span,
				Summary: fmt.Sprintf("%q is in another currency than %q", rate.Span.Text(), first.Span.Text()),
				Detail:  "Write all prices in one currency, so that they can be added up.",
				Related: []lang.Related{{Span: first.Span, Note: "the first price is here"}},
			})
		}
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
		v.figure(mode.Size.Width, figure{"width of a sensor", positive, 0.003, 0.08, "mm"})
		v.figure(mode.Size.Height, figure{"height of a sensor", positive, 0.002, 0.06, "mm"})
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
	v.list("iso", c.ISO, figure{"base ISO of a camera", positive, 25, 20000, ""})
	v.interval(c.ISORange, figure{"ISO of a camera", positive, 25, 1e6, ""})
	for _, base := range c.ISO.Items {
		v.within(base, c.ISORange, "base ISO", "The base ISO is one that can be set. Correct one of the two.")
	}
	v.list("built_in_nd", c.BuiltInND, figure{"strength of a built-in filter", positive, 1.0 / 3, 12, "stops"})
	v.figure(c.Mass, figure{"mass of a camera", positive, 0.03, 15, "kg"})
	v.figure(c.Length, figure{"length of a camera", positive, 0.01, 0.6, "mm"})
	v.figure(c.Balance, figure{"place of the centre of mass of a camera", signed, -0.05, 0.4, "mm"})
	v.figure(c.BalanceHeight, figure{"height of the centre of mass of a camera", positive, 0.01, 0.2, "mm"})
	v.figure(c.AxisHeight, figure{"height of the optical axis of a camera", positive, 0.01, 0.2, "mm"})
	if c.Balance.Known() && c.Length.Known() && c.Balance.Value > c.Length.Value {
		v.improbable(c.Balance.Span, fmt.Sprintf("%q puts the centre of mass behind the camera", c.Balance.Span.Text()),
			"It is taken from the mount's flange, and lies within the length.")
	}
}

func (v *checker) rig(r *Rig) {
	v.name("rig", r.Name)
	v.interval(r.Payload, figure{"payload of a rig", notNegative, 0.1, 30, "kg"})
	v.figure(r.Wobble, figure{"wobble of a rig", notNegative, 0.01 * math.Pi / 180, 5 * math.Pi / 180, "deg"})
	v.figure(r.Isolation, figure{"isolation of a rig", notNegative, 0, math.Inf(1), "%"})
	if r.Isolation.Known() && r.Isolation.Value > 1 {
		v.report(lang.Error, lang.OutOfRange, r.Isolation.Span,
			fmt.Sprintf("%q is more than all of a step", r.Isolation.Span.Text()), "Write a share from 0% to 100%.")
	}
	v.figure(r.StageHeight, figure{"height of a stage above the gimbal", positive, 0.02, 0.5, "mm"})
	v.figure(r.StageTravel, figure{"travel of a stage", positive, 0.005, 0.2, "mm"})
	v.interval(r.Post, figure{"depth of the plates below the gimbal", positive, 0.05, 1.5, "mm"})
	v.figure(r.SledMass, figure{"mass of a rig", positive, 0.2, 20, "kg"})
	v.figure(r.BaseMass, figure{"mass of a rig's base", positive, 0.05, 15, "kg"})
	if r.BaseMass.Known() && r.SledMass.Known() && r.BaseMass.Value > r.SledMass.Value {
		v.report(lang.Error, lang.Contradiction, r.BaseMass.Span,
			fmt.Sprintf("the base of %q weighs more than the rig of %q that it is a part of", r.BaseMass.Span.Text(), r.SledMass.Span.Text()),
			"Correct one of the two.")
	}
	v.figure(r.SledBalance, figure{"depth of a rig's centre of mass", signed, -0.3, 1, "mm"})
	v.figure(r.SledInertia, figure{"moment of inertia of a rig", positive, 0.002, 5, "kgm2"})
	v.figure(r.PlateMass, figure{"mass of a plate", positive, 0.005, 2, "kg"})
	v.figure(r.Plates, figure{"number of plates", notNegative, 0, 100, ""})
	if r.Plates.Known() && r.Plates.Value != math.Trunc(r.Plates.Value) {
		v.report(lang.Error, lang.OutOfRange, r.Plates.Span,
			fmt.Sprintf("%q is no number of plates", r.Plates.Span.Text()), "Plates are counted whole.")
	}
	v.figure(r.PlateReach, figure{"distance of the plates from the post", notNegative, 0, 0.5, "mm"})
}

func (v *checker) adapter(a *Adapter) {
	v.name("adapter", a.Name)
	v.mountName(a.From.Lens)
	v.mountName(a.From.Camera)
	v.figure(a.Thickness, figure{"thickness of an adapter", positive, 0.0005, 0.2, "mm"})
	v.figure(a.Mass, figure{"mass of an adapter", positive, 0.005, 2, "kg"})
	if a.IsOptical() {
		if a.Factor.Value < 0.5 || a.Factor.Value > 3 {
			v.improbable(a.Factor.Span, fmt.Sprintf("%q is an improbable factor of an adapter", a.Factor.Span.Text()),
				"From 0.5 to 3 is usual: what the focal length is multiplied by.")
		}
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
	v.figure(f.Thread, figure{"filter thread", positive, 0.015, 0.15, "mm"})
	v.interval(f.Strength, figure{"strength of a filter", notNegative, 0, 16, "stops"})
	v.figure(f.Mass, figure{"mass of a filter", positive, 0.003, 0.5, "kg"})
	v.figure(f.Front, figure{"thread at the front of a ring", positive, 0.015, 0.15, "mm"})
	if f.Kind.Value == FilterStepUp && f.Front.Known() && f.Front.Value <= f.Thread.OrNaN() {
		v.report(lang.Error, lang.Contradiction, f.Front.Span,
			fmt.Sprintf("%q is no larger than the thread it steps up from", f.Front.Span.Text()),
			"A ring that narrows the view is of no use. Swap the two.")
	}
}
