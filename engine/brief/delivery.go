package brief

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"glassbrief/catalog"
	"glassbrief/engine/framelist"
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

// A Delivery says which part of what a camera records is delivered.
type Delivery struct {
	Ratio      framelist.Size   // in whole numbers; 0 for that of the sensor
	Also       []framelist.Size // further ratios that are delivered of the same pictures
	Protection float64          // share of the protected frame that is kept free
	CommonTop  bool             // all frames have the top of the tallest one
	Anchor     *framelist.Point // where the frame's top left stands, in pixels; nil for the middle
	Listing    *Listing         // the list that says all this; nil where the scenario does
}

// delivery reads what the scenario says of the delivered frame.
func (l *loader) delivery(cameras []*catalog.Camera) Delivery {
	h := &l.doc.Scenario
	d := Delivery{Ratio: wholeRatio(h.Deliver), Protection: h.Protect.Or(0), CommonTop: h.Common.Value == "top"}
	for _, also := range h.Also {
		d.Also = append(d.Also, wholeRatio(also))
	}
	if d.CommonTop && len(d.Also) == 0 && !h.Framing.Path.Span.Known() {
		l.report(lang.Diagnostic{
			Severity: lang.Warning, Code: lang.Improbable, Span: h.Common.Span,
			Summary: "a common top is of several ratios, and one is delivered",
			Detail:  "Name the others, as \"also 16:9\", or leave the line out.",
		})
	}
	if !h.Anchor.Known() {
		return d
	}
	if h.Common.Span.Known() {
		l.contradiction(h.Anchor.Span, "\"anchor\" and \"common\" both say where the frame stands", "Keep one of the two.", h.Common.Span, "this is the other")
	}
	for _, camera := range cameras {
		mode := camera.Mode(h.Mode.Value)
		if mode == nil {
			continue
		}
		at, p := framelist.Point{X: h.Anchor.Width.Value, Y: h.Anchor.Height.Value}, mode.Pixels
		switch {
		case !p.Known():
			l.report(lang.Diagnostic{
				Severity: lang.Error, Code: lang.MissingValue, Span: h.Anchor.Span,
				Summary: fmt.Sprintf("an anchor is in pixels, and the mode %q of %q does not say how many it has", mode.Name.Value, camera.Name.Value),
				Detail:  "Write them behind the size of the mode, as \"mode \\\"Open gate\\\" 36.7mm x 25.54mm 4448 x 3096\".",
				Related: []lang.Related{{Span: mode.Name.Span, Note: "the mode is here"}},
			})
		case h.Anchor.Depth.Known() || !(at.X >= 0 && at.X < p.Width && at.Y >= 0 && at.Y < p.Height):
			l.outOfRange(h.Anchor.Span, fmt.Sprintf("the anchor %q is no place in %v pixels", h.Anchor.Span.Text(), p),
				"Write how far the frame's top left is from that of the mode, across and down, as \"222 x 547\".")
		default:
			d.Anchor = &at
		}
	}
	return d
}

// wholeRatio gives a ratio in whole numbers, as it is written: 2.39:1 is 239 to 100.
func wholeRatio(r lang.Ratio) framelist.Size {
	if !r.Known() {
		return framelist.Size{}
	}
	over, under, both := strings.Cut(r.Span.Text(), ":")
	if a, err := strconv.ParseFloat(strings.TrimSpace(over), 64); err == nil {
		if b, err := strconv.ParseFloat(strings.TrimSpace(under), 64); err == nil && both {
			return framelist.WholeRatio(a, b)
		}
	}
	return framelist.WholeRatio(r.Value, 1)
}

// Place puts the delivered frame and the protected one into a working area, whose unit the
// anchor's pixels are so many of. Without protection both are the same.
func (d *Delivery) Place(working framelist.Area, squeeze float64, pixel framelist.Point, r framelist.Rounding) (frame, protected framelist.Area) {
	frame, protected = d.decide(d.Ratio, working, squeeze, r)
	switch {
	case d.Anchor != nil:
		frame, protected = framelist.Move(working, frame, protected, framelist.Point{X: d.Anchor.X * pixel.X, Y: d.Anchor.Y * pixel.Y})
	case d.CommonTop:
		frame, protected = framelist.Move(working, frame, protected, framelist.Point{X: frame.X, Y: d.top(working, squeeze, r)})
	}
	if !protected.Known() {
		protected = frame
	}
	return frame, protected
}

// top gives the top of the tallest of all frames.
func (d *Delivery) top(working framelist.Area, squeeze float64, r framelist.Rounding) float64 {
	frame, _ := d.decide(d.Ratio, working, squeeze, r)
	top := frame.Y
	for _, also := range d.Also {
		frame, _ := d.decide(also, working, squeeze, r)
		top = min(top, frame.Y)
	}
	return top
}

func (d *Delivery) decide(ratio framelist.Size, working framelist.Area, squeeze float64, r framelist.Rounding) (frame, protected framelist.Area) {
	if ratio == (framelist.Size{}) {
		return framelist.Decide(working, 1, working.Size, d.Protection, r)
	}
	return framelist.Decide(working, squeeze, ratio, d.Protection, r)
}

// Windows are parts of a sensor: a delivered frame, and what is kept free around it, which is the
// same without protection.
type Windows struct{ Frame, Protected optics.Window }

// Windows gives the parts of the sensor of a camera in a mode that are delivered by a lens of a
// squeeze: in the ratio that is judged, and in further ones.
func (d *Delivery) Windows(camera *catalog.Camera, mode *catalog.Mode, squeeze float64) (judged Windows, also []Windows) {
	if p := d.Listing.at(camera, mode); p != nil {
		for _, other := range p.also {
			also = append(also, p.windows(other, mode))
		}
		return p.windows(p.judged, mode), also
	}
	if g := d.Listing; g != nil { // the list does not know the camera
		for _, intent := range g.List.Intents {
			if intent.ID != g.Intent.ID {
				other := Delivery{Ratio: intent.Ratio, Protection: intent.Protection}
				also = append(also, other.windows(mode, squeeze))
			}
		}
	}
	for i := range d.Also {
		also = append(also, d.Of(i).windows(mode, squeeze))
	}
	return d.windows(mode, squeeze), also
}

func (d *Delivery) windows(mode *catalog.Mode, squeeze float64) Windows {
	sensor := framelist.Size{Width: mode.Size.Width.Value, Height: mode.Size.Height.Value}
	frame, outer := d.Place(framelist.Area{Size: sensor}, squeeze, framelist.Point{X: sensor.Width / mode.Pixels.Width, Y: sensor.Height / mode.Pixels.Height}, framelist.Rounding{})
	return Windows{windowOf(frame, sensor), windowOf(outer, sensor)}
}

// Of gives the delivery of one of the further ratios, beside the same others.
func (d *Delivery) Of(also int) *Delivery {
	other := *d
	other.Ratio, other.Anchor = d.Also[also], nil
	other.Also = append(slices.Delete(slices.Clone(d.Also), also, also+1), d.Ratio)
	return &other
}

// windowOf gives an area of a sensor, from its top left, by its middle.
func windowOf(a framelist.Area, sensor framelist.Size) optics.Window {
	return optics.Window{
		Frame: optics.Frame{Width: a.Width, Height: a.Height},
		X:     settled(a.X + a.Width/2 - sensor.Width/2), Y: settled(sensor.Height/2 - a.Y - a.Height/2),
	}
}

// settled takes off what binary arithmetic leaves of a place in the middle: less than a
// nanometre.
func settled(x float64) float64 {
	if math.Abs(x) < 1e-9 {
		return 0
	}
	return x
}
