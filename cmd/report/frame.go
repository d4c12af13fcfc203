package report

import (
	"fmt"
	"math"

	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/optics"
	"glassbrief/engine/people"
	"glassbrief/lang"
)

// frameWidth is the width of the sensor in a drawing of what the frame shows.
const frameWidth = 320

// headroom is the share of the frame's height that stays free above a head (common
// practice); a subject that leaves more than that free stands in the middle.
const headroom = 0.08

// A frameDrawing is what a lens on a camera shows of a shot, at one distance.
type frameDrawing struct {
	Distance      string
	Width, Height px    // of the sensor
	Delivered     box   // the part that is delivered
	Protected     *box  // the part that is kept free around it, where there is one
	Also          []box // what is delivered in other ratios
	Circle        *oval // the image circle, where it comes near the sensor's corners
	Grid          path  // squares on the subject's plane
	Square        string
	Subject       path
	Before        path   // in a comparison, what was delivered of the subject's plane
	Shows         string // in words

	from, to point // between which what was delivered lies
}

// View gives the view box: the sensor and what was delivered before, with room around them.
func (d frameDrawing) View() string {
	left, top := min(0, px(d.from.X)), min(0, px(d.from.Y))
	right, foot := max(d.Width, px(d.to.X)), max(d.Height, px(d.to.Y))
	return fmt.Sprintf("%v %v %v %v", left-framePad, top-framePad, right-left+2*framePad, foot-top+2*framePad)
}

// over draws what another lens or place delivered of the subject's plane.
func (d *frameDrawing) over(e, before *eye) {
	field := before.field()
	middle := point{before.aim.X + field.X, before.aim.Y + field.Y}
	x, y := field.Width/2, field.Height/2
	var places []point
	for _, p := range subdivided([]point{{-x, -y}, {x, -y}, {x, y}, {-x, y}}) {
		at := e.at(point{middle.X + p.X, middle.Y + p.Y})
		if math.IsNaN(at.X + at.Y) {
			return
		}
		places = append(places, at)
		d.from = point{min(d.from.X, at.X), min(d.from.Y, at.Y)}
		d.to = point{max(d.to.X, at.X), max(d.to.Y, at.Y)}
	}
	d.Before.closed(places...)
}

type box struct{ X, Y, Width, Height px }

type oval struct{ X, Y, RX, RY px }

// eye is a drawing under way: a picture, a place of the subject before it, and the scale.
type eye struct {
	picture  engine.Picture
	distance float64 // from the sensor plane
	aim      point   // of the axis, in the subject's coordinates
	scale    float64 // px a metre on the sensor
	middle   point
}

// at gives the place in the drawing of a point of the subject's plane.
func (e *eye) at(p point) point {
	x, y := e.picture.At(p.X-e.aim.X, p.Y-e.aim.Y, e.distance)
	return point{e.middle.X + x*e.scale, e.middle.Y - y*e.scale}
}

func (e *eye) all(points []point) []point {
	drawn := make([]point, len(points))
	for i, p := range points {
		drawn[i] = e.at(p)
	}
	return drawn
}

// drawFrame draws what a judged lens shows of the shot at its nearest or farthest.
func drawFrame(r *engine.Recommendation, shot *brief.Shot, j *engine.Judgement, distance float64, p lang.Printer) frameDrawing {
	e := newEye(r, shot, j, distance)
	width, height := e.picture.Sensor.Width*e.scale, e.picture.Sensor.Height*e.scale
	d := frameDrawing{
		Distance: p.Quantity(distance, "m"), Width: px(width), Height: px(height),
		Delivered: e.box(e.picture.Delivered), Circle: e.circle(),
	}
	if e.picture.Protected != e.picture.Delivered {
		protected := e.box(e.picture.Protected)
		d.Protected = &protected
	}
	for _, also := range e.picture.Also {
		d.Also = append(d.Also, e.box(also))
	}
	outline := outlineOf(shot.Subject)
	for _, line := range outline {
		d.Subject.closed(e.all(line)...)
	}
	side := e.field()
	square := niceLength(min(side.Width, 4*distance)/6, p)
	d.Square = p.Quantity(square, "m")
	e.drawGrid(&d.Grid, square, side)
	if !shot.Subject.IsPerson() {
		d.Shows = e.showsObject(outline[0])
	} else {
		d.Shows = e.showsPerson(shot.Subject.Height.Value, outline[len(outline)/2])
	}
	return d
}

func newEye(r *engine.Recommendation, shot *brief.Shot, j *engine.Judgement, distance float64) *eye {
	e := &eye{picture: r.Picture(shot, j), distance: distance}
	e.scale = frameWidth / e.picture.Sensor.Width
	e.middle = point{e.picture.Sensor.Width * e.scale / 2, e.picture.Sensor.Height * e.scale / 2}

	field := e.field()
	height := shot.Subject.Height.Value
	e.aim.Y = height / 2
	if top := field.Height * (0.5 - headroom); shot.Subject.IsPerson() && height/2 > top {
		e.aim.Y = height - top
	}
	if shot.Offset > 0 {
		e.aim.X = -shot.Offset * field.Width / 2
	}
	e.aim.X, e.aim.Y = e.aim.X-field.X, e.aim.Y-field.Y
	return e
}

// field gives what is delivered of the subject's plane, in metres from the axis. A fisheye
// that sees all of it stops at 80 degrees from the axis.
func (e *eye) field() optics.Window {
	const widest = 80 * math.Pi / 180
	// reach gives how far from the axis the picture shows something, along a direction.
	reach := func(x, y, to float64) float64 {
		low, high := 0.0, e.picture.FieldDistance(e.distance)*math.Tan(widest)
		for range 50 {
			middle := (low + high) / 2
			px, py := e.picture.At(x*middle, y*middle, e.distance)
			if math.Hypot(px, py) < math.Abs(to) { // At gives NaN where nothing is seen
				low = middle
			} else {
				high = middle
			}
		}
		return math.Copysign(low, to)
	}
	d := e.picture.Delivered
	right, left := reach(1, 0, d.Width/2+d.X), reach(1, 0, d.Width/2-d.X)
	above, below := reach(0, 1, d.Height/2+d.Y), reach(0, 1, d.Height/2-d.Y)
	return optics.Window{
		Frame: optics.Frame{Width: right + left, Height: above + below},
		X:     (right - left) / 2, Y: (above - below) / 2,
	}
}

// box gives a part of the sensor in the drawing.
func (e *eye) box(w optics.Window) box {
	width, height := w.Width*e.scale, w.Height*e.scale
	return box{px(e.middle.X + w.X*e.scale - width/2), px(e.middle.Y - w.Y*e.scale - height/2), px(width), px(height)}
}

// framePad is the room around the sensor in a drawing.
const framePad = 6

// circle gives the image circle when it is to be seen: where it cuts the sensor, or passes
// its corners so near that the drawing still holds it.
func (e *eye) circle() *oval {
	c, s := e.picture.Circle, e.picture.Sensor
	if !(math.Hypot(s.Width/c.Width, s.Height/c.Height) > 1-2.0*framePad/frameWidth) {
		return nil
	}
	return &oval{px(e.middle.X), px(e.middle.Y), px(c.Width / 2 * e.scale), px(c.Height / 2 * e.scale)}
}

// drawGrid draws lines over the field, through the subject's middle and foot.
func (e *eye) drawGrid(to *path, square float64, field optics.Window) {
	// A quarter past the delivered frame, for what the sensor sees beside it.
	middle := point{e.aim.X + field.X, e.aim.Y + field.Y}
	left, right := middle.X-field.Width*0.625, middle.X+field.Width*0.625
	low, high := middle.Y-field.Height*0.75, middle.Y+field.Height*0.75
	parts := 1
	if e.picture.Bends {
		parts = 6
	}
	across := func(from, to point) []point {
		points := make([]point, parts+1)
		for i := range points {
			t := float64(i) / float64(parts)
			points[i] = e.at(point{from.X + t*(to.X-from.X), from.Y + t*(to.Y-from.Y)})
		}
		return straightened(points)
	}
	for x := math.Ceil(left/square) * square; x <= right; x += square {
		to.line(across(point{x, low}, point{x, high})...)
	}
	for y := math.Ceil(low/square) * square; y <= high; y += square {
		to.line(across(point{left, y}, point{right, y})...)
	}
}

// inside reports whether a point of the subject's plane is delivered.
func (e *eye) inside(p point) bool {
	x, y := e.picture.At(p.X-e.aim.X, p.Y-e.aim.Y, e.distance)
	const rounding = 1e-9
	d := e.picture.Delivered
	return math.Abs(x-d.X) <= d.Width/2+rounding && math.Abs(y-d.Y) <= d.Height/2+rounding
}

// showsPerson says how much of a person the frame shows.
func (e *eye) showsPerson(stature float64, outline []point) (shows string) {
	var middle, width float64
	for _, p := range outline {
		middle += p.X / float64(len(outline))
	}
	for _, p := range outline {
		width = max(width, math.Abs(p.X-middle))
	}
	lowest, highest := "", ""
	for _, mark := range people.Landmarks() {
		at := point{middle, mark.Height * stature}
		if !e.inside(at) {
			continue
		}
		if highest == "" {
			highest = mark.Name
		}
		lowest = mark.Name
	}
	level := e.aim.Y + e.field().Y
	crown, foot := e.inside(point{middle, stature}), e.inside(point{middle, 0})
	switch {
	case crown && foot:
		shows = "head to foot"
	case lowest == "":
		shows = "less than a landmark"
	case crown:
		shows = "head to " + lowest
	case foot:
		shows = highest + " to foot"
	default:
		shows = highest + " to " + lowest
	}
	if !e.inside(point{middle - width, level}) || !e.inside(point{middle + width, level}) {
		shows += ", cut at the sides"
	}
	return shows
}

func (e *eye) showsObject(outline []point) string {
	for _, p := range outline {
		if !e.inside(p) {
			return "cut at the edge"
		}
	}
	return "all of it"
}

// ends gives the distances at which a shot is drawn.
func ends(shot *brief.Shot) []float64 {
	if shot.Near == shot.Far {
		return []float64{shot.Near}
	}
	return []float64{shot.Near, shot.Far}
}

// mounted reports whether a lens is on the camera at all, so that it can be drawn.
func mounted(j *engine.Judgement) bool { return j.Fact(facts.Mounts) == 1 }
