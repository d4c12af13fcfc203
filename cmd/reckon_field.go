package cmd

import (
	"fmt"
	"math"

	"glassbrief/cmd/show"
	"glassbrief/cmd/travel"
	"glassbrief/engine/optics"
	"glassbrief/lang"
)

var reckonField = calculation{
	name:  "field",
	short: "angle of view, and the field at a distance",
	long: `The angles are those of a lens focused at infinity, across the part of the
sensor that is delivered. With a distance the field there is given too, and the
angles when the lens is focused there, which are a little narrower.`,
	example: `  glassbrief reckon field --focal 24mm --sensor "36mm x 24mm"
  glassbrief reckon field --focal 40mm --sensor "24.89mm x 18.67mm" \
    --deliver 2.39:1 --squeeze 2 --distance 3m`,
	needs: []string{"focal", "sensor"},
	takes: []string{"deliver", "squeeze", "projection", "distance"},
	run:   fieldOf,
}

func fieldOf(r *reading) reckoning {
	p, focal, sensor := r.printer, r.quantity("focal"), r.frame("sensor")
	ratio := read(r, "deliver", lang.ParseRatio)
	squeeze := r.quantity("squeeze").Or(1)
	word := r.word("projection", optics.Projections())
	distance := r.quantity("distance")
	r.beyondFocal(distance, focal)
	if r.failed() {
		return reckoning{}
	}
	projection, _ := optics.ParseProjection(word)
	frame := optics.Delivered(frameOf(sensor), squeeze, ratio.Value)
	picture := optics.Frame{Width: frame.Width * squeeze, Height: frame.Height}
	far := anglesOf(projection, focal.Value, picture, 0)
	if math.IsNaN(far.d) {
		r.complain(usage(lang.OutOfRange, "%q is too short to fill this frame with the projection %q", focal.Span.Text(), word).
			because("Its whole picture is smaller than the frame: give the part of the sensor that it covers.").at(focal.Span))
		return reckoning{}
	}
	given := []line{
		{label: "focal length", key: "focal_mm", value: travel.FigureOf(focal.Value, "mm")},
		{label: "sensor", text: sizeText(p, frameOf(sensor))},
		{label: "delivered part", text: sizeText(p, frame)},
		{label: "projection", text: word, key: "projection", value: word},
		{key: "squeeze", value: travel.FigureOf(squeeze, "")},
	}
	if squeeze != 1 {
		given[len(given)-1].label = "squeeze"
	}
	result := append([]line{
		{key: "frame_width_mm", value: travel.FigureOf(frame.Width, "mm")},
		{key: "frame_height_mm", value: travel.FigureOf(frame.Height, "mm")},
	}, far.lines(p, "angle at infinity", "")...)
	s := distance.OrNaN() // without it the lines below are unknown, and left out
	near := anglesOf(projection, focal.Value, picture, optics.Magnification(focal.Value, s))
	width, height := optics.FieldAt(projection, focal.Value, picture.Width, s), optics.FieldAt(projection, focal.Value, picture.Height, s)
	focused, field := "", ""
	if at := p.Quantity(s, "m"); distance.Known() {
		focused, field = "angle focused at "+at, "field at "+at
	}
	result = append(result, line{key: "distance_m", value: travel.FigureOf(s, "m"), optional: true})
	result = append(result, near.lines(p, focused, "focused_")...)
	result = append(result,
		line{label: field, tone: show.Strong, text: p.Quantity(width, "m") + " wide, " + p.Quantity(height, "m") + " high",
			key: "field_width_m", value: travel.FigureOf(width, "m"), optional: true},
		line{key: "field_height_m", value: travel.FigureOf(height, "m"), optional: true},
		line{key: "field_width_unbounded", value: travel.Unbounded(width), optional: true}, // the lens sees 180 degrees or more
		line{key: "field_height_unbounded", value: travel.Unbounded(height), optional: true},
	)
	return reckoning{
		title: "Field of view", given: given, result: result,
		formula: projection.Formula() + "; angle = 2θ at r = half the side; nearer, f becomes f·(1+m) with m = f/(s−f)",
		source:  "thin lens: College Physics (OpenStax), chapter 25; the mapping functions are geometry",
	}
}

// frameOf gives a size of flags as a frame.
func frameOf(size lang.Size) optics.Frame {
	return optics.Frame{Width: size.Width.Value, Height: size.Height.Value}
}

func sizeText(p lang.Printer, frame optics.Frame) string {
	return p.Quantity(frame.Width, "mm") + " x " + p.Quantity(frame.Height, "mm")
}

type fieldAngles struct{ h, v, d float64 }

func anglesOf(p optics.Projection, focal float64, picture optics.Frame, magnification float64) fieldAngles {
	return fieldAngles{
		h: optics.AngleOfView(p, focal, picture.Width, magnification),
		v: optics.AngleOfView(p, focal, picture.Height, magnification),
		d: optics.AngleOfView(p, focal, picture.Diagonal(), magnification),
	}
}

// lines shows the angles under one label, and gives programs each under a key that begins
// with the prefix.
func (f fieldAngles) lines(p lang.Printer, label, prefix string) []line {
	text := fmt.Sprintf("%s across, %s up and down, %s corner to corner", p.Quantity(f.h, "deg"), p.Quantity(f.v, "deg"), p.Quantity(f.d, "deg"))
	return []line{
		{label: label, text: text, tone: show.Strong, key: prefix + "angle_h_deg", value: travel.FigureOf(f.h, "deg"), optional: prefix != ""},
		{key: prefix + "angle_v_deg", value: travel.FigureOf(f.v, "deg"), optional: prefix != ""},
		{key: prefix + "angle_d_deg", value: travel.FigureOf(f.d, "deg"), optional: prefix != ""},
	}
}

// beyondFocal reports a distance at which a lens forms no picture on a sensor.
func (r *reading) beyondFocal(distance, focal lang.Quantity) {
	if distance.Known() && focal.Known() && distance.Value <= focal.Value {
		r.complain(usage(lang.OutOfRange, "%q is not beyond the focal length", distance.Span.Text()).
			because("A lens forms a picture only of what is farther away than %s.", focal.Span.Text()).at(distance.Span))
	}
}
