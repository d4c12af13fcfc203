package cmd

import (
	"fmt"
	"math"

	"glassbrief/engine/optics"
	"glassbrief/lang"
)

var projections = []string{"rectilinear", "stereographic", "equidistant", "equisolid", "orthographic"}

// projectionFormulas lists the mapping of each projection: r is the radius in the
// picture, θ the angle off the axis.
var projectionFormulas = map[optics.Projection]string{
	optics.Rectilinear:   "r = f·tan θ",
	optics.Stereographic: "r = 2f·tan(θ/2)",
	optics.Equidistant:   "r = f·θ",
	optics.Equisolid:     "r = 2f·sin(θ/2)",
	optics.Orthographic:  "r = f·sin θ",
}

var reckonField = calculation{
	name:  "field",
	short: "angle of view, and the field at a distance",
	long: `The angles are those of a lens focused at infinity, across the part of the
sensor that is delivered. With a distance the field there is given too, and the
angles when the lens is focused there, which are a little narrower.`,
	example: `  glassbrief reckon field --focal 24mm --sensor "36mm x 24mm"
  glassbrief reckon field --focal 40mm --sensor "24.89mm x 18.67mm" \
    --deliver 2.39:1 --squeeze 2 --distance 3m`,
	flags: []string{"focal", "sensor", "deliver", "squeeze", "projection", "distance"},
	run:   fieldOf,
}

type fieldData struct {
	reckonHeader
	Focal         number  `json:"focal_mm"`
	Projection    string  `json:"projection"`
	Squeeze       number  `json:"squeeze"`
	FrameWidth    number  `json:"frame_width_mm"` // the part of the sensor that is delivered
	FrameHeight   number  `json:"frame_height_mm"`
	AngleH        number  `json:"angle_h_deg"` // focused at infinity
	AngleV        number  `json:"angle_v_deg"`
	AngleD        number  `json:"angle_d_deg"`
	Distance      *number `json:"distance_m,omitempty"`
	FocusedAngleH *number `json:"focused_angle_h_deg,omitempty"`
	FocusedAngleV *number `json:"focused_angle_v_deg,omitempty"`
	FocusedAngleD *number `json:"focused_angle_d_deg,omitempty"`
	FieldWidth    *number `json:"field_width_m,omitempty"`
	FieldHeight   *number `json:"field_height_m,omitempty"`
	WideUnbounded bool    `json:"field_width_unbounded,omitempty"` // the lens sees 180 degrees or more
	HighUnbounded bool    `json:"field_height_unbounded,omitempty"`
}

func fieldOf(r *reading) reckoning {
	r.need("focal", "sensor")
	focal := r.quantity("focal", lang.Length)
	sensor := r.frame("sensor")
	ratio := read(r, "deliver", lang.ParseRatio)
	squeeze := r.quantity("squeeze", lang.Plain).Or(1)
	word := r.word("projection", projections)
	distance := r.quantity("distance", lang.Length)
	r.beyondFocal(distance, focal)
	if r.failed() {
		return reckoning{}
	}
	projection, _ := optics.ParseProjection(word)
	frame := optics.Delivered(frameOf(sensor), squeeze, ratio.Value)
	picture := optics.Frame{Width: frame.Width * squeeze, Height: frame.Height}
	angles := anglesOf(projection, focal.Value, picture, 0)
	if math.IsNaN(angles.d) {
		r.complain(usage(lang.OutOfRange, "%q is too short to fill this frame with the projection %q", focal.Span.Text(), word).
			because("Its whole picture is smaller than the frame: give the part of the sensor that it covers.").at(focal.Span))
		return reckoning{}
	}
	data := fieldData{
		reckonHeader: reckonHeaderOf("field"),
		Focal:        in(focal.Value, "mm"), Projection: word, Squeeze: number(squeeze),
		FrameWidth: in(frame.Width, "mm"), FrameHeight: in(frame.Height, "mm"),
		AngleH: in(angles.h, "deg"), AngleV: in(angles.v, "deg"), AngleD: in(angles.d, "deg"),
	}
	var near fieldAngles
	var width, height float64
	if distance.Known() {
		near = anglesOf(projection, focal.Value, picture, optics.Magnification(focal.Value, distance.Value))
		width = optics.FieldAt(projection, focal.Value, picture.Width, distance.Value)
		height = optics.FieldAt(projection, focal.Value, picture.Height, distance.Value)
		data.Distance = some(number(distance.Value))
		data.FocusedAngleH, data.FocusedAngleV, data.FocusedAngleD = some(in(near.h, "deg")), some(in(near.v, "deg")), some(in(near.d, "deg"))
		data.FieldWidth, data.FieldHeight = some(number(width)), some(number(height))
		data.WideUnbounded, data.HighUnbounded = unbounded(width), unbounded(height)
	}
	return reckoning{
		title: "Field of view",
		data:  data,
		given: func(p lang.Printer) []pair {
			given := []pair{
				{name: "focal length", value: p.Quantity(focal.Value, "mm")},
				{name: "sensor", value: sizeText(p, frameOf(sensor))},
				{name: "delivered part", value: sizeText(p, frame)},
				{name: "projection", value: word},
			}
			if squeeze != 1 {
				given = append(given, pair{name: "squeeze", value: p.Quantity(squeeze, "")})
			}
			return given
		},
		result: func(p lang.Printer) []pair {
			result := angles.pairs(p, "at infinity")
			if distance.Known() {
				at := p.Quantity(distance.Value, "m")
				result = append(result, near.pairs(p, "focused at "+at)...)
				result = append(result, pair{name: "field at " + at, tone: toneStrong,
					value: p.Quantity(width, "m") + " wide, " + p.Quantity(height, "m") + " high"})
			}
			return result
		},
		formula: projectionFormulas[projection] + "; angle = 2θ at r = half the side; nearer, f becomes f·(1+m) with m = f/(s−f)",
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

// some makes the value of a field that may be null.
func some[T any](value T) *T { return &value }

type fieldAngles struct{ h, v, d float64 }

func anglesOf(p optics.Projection, focal float64, picture optics.Frame, magnification float64) fieldAngles {
	return fieldAngles{
		h: optics.AngleOfView(p, focal, picture.Width, magnification),
		v: optics.AngleOfView(p, focal, picture.Height, magnification),
		d: optics.AngleOfView(p, focal, picture.Diagonal(), magnification),
	}
}

func (f fieldAngles) pairs(p lang.Printer, when string) []pair {
	return []pair{{name: "angle " + when, tone: toneStrong, value: fmt.Sprintf("%s across, %s up and down, %s corner to corner",
		p.Quantity(f.h, "deg"), p.Quantity(f.v, "deg"), p.Quantity(f.d, "deg"))}}
}

// beyondFocal reports a distance at which a lens forms no picture on a sensor.
func (r *reading) beyondFocal(distance, focal lang.Quantity) {
	if distance.Known() && focal.Known() && distance.Value <= focal.Value {
		r.complain(usage(lang.OutOfRange, "%q is not beyond the focal length", distance.Span.Text()).
			because("A lens forms a picture only of what is farther away than %s.", focal.Span.Text()).at(distance.Span))
	}
}
