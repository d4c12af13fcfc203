package report

import (
	"math"
	"slices"
	"strings"

	"glassbrief/cmd/wording"
	"glassbrief/engine"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/engine/motion"
	"glassbrief/engine/people"
	"glassbrief/lang"
)

// The plan of a move is drawn as seen from above by somebody who goes with the camera: it
// stands on the left and looks to the right, and the subject is at its nearest and at its
// farthest from it, all to one scale.
const (
	planWidth  = 288.0
	planHigh   = 140.0 // of the floor, at most
	planMargin = 10.0
	planRow    = 24.0 // of a dimension line below the floor
)

// A planDrawing is the move from above.
type planDrawing struct {
	Width, Height px
	Cone          path  // what the picture shows
	Sharp         path  // where it is sharp
	Way           []box // where the subject goes and all holds
	Fails         []box // where something does not
	Subject       path  // at its nearest and farthest
	Camera        path  // body and lens, to scale
	Travel        []arrow
	Arrows        string // how long the arrows are
	Circle        *oval  // the circle on the floor
	Measures      []measure
	Floor         px // where the axis of distances stands
	Ticks         []tick
	Passage       *passageDrawing // nil when the brief gives none
	Says          string
}

// An arrow is a way along which camera or subject moves.
type arrow struct {
	Line path
	Head path
}

// A measure is a dimension line.
type measure struct {
	Kind     string
	From, To px
	Y        px
	Text     string
	TextX    px
	Open     bool // it reaches past the drawing
}

// ground maps metres on the floor, from the sensor plane, to the drawing.
type ground struct {
	left, middle float64 // of the camera
	scale        float64
	right        float64 // where the drawing ends
	half         float64 // of the floor that is drawn, to either side, in metres
}

func (f *ground) at(x, y float64) point { return point{f.left + x*f.scale, f.middle - y*f.scale} }

// drawPlan draws the move of a card that has a lens, with what its dimension lines say.
func drawPlan(c *floor.Card, says []string, p lang.Printer) planDrawing {
	shot, j, path := c.Shot, c.Use, c.Plan.Path
	side := slope(j)
	near, far := j.Fact(facts.NearLimit), j.Fact(facts.FarLimit)
	// The floor reaches a little past the farther of subject and sharpness.
	reach := shot.Far * 1.12
	if far < shot.Far*1.6 {
		reach = max(reach, far*1.04)
	}
	half := max(min(reach*side, shot.Far), j.Fact(facts.SubjectWidth)/2*1.1)
	if path.Way == motion.Circling {
		half = max(half, shot.Near*1.05)
		reach = max(reach, 2.1*shot.Near)
	}
	step := newStep(path, reach)
	behind := 0.1
	if step.camera.X < 0 {
		behind = -step.camera.X * 1.1
	}
	f := &ground{half: half, scale: min((planWidth-2*planMargin)/(reach+behind), planHigh/2/half)}
	f.left = (planWidth-(reach+behind)*f.scale)/2 + behind*f.scale
	f.right = f.left + reach*f.scale
	high := 2 * half * f.scale
	f.middle = 4 + high/2

	d := planDrawing{Width: planWidth, Says: "The move from above, to scale."}
	f.wedge(&d.Cone, j, side, 0, reach)
	if !math.IsNaN(near) {
		f.wedge(&d.Sharp, j, side, near, min(far, reach))
	}
	f.way(&d, j)
	for _, distance := range ends(shot) {
		f.subject(&d.Subject, shot.Subject, j, distance)
	}
	f.camera(&d.Camera, j)
	if path.Way == motion.Circling {
		centre := f.at(c.Plan.Circle, 0)
		radius := px(c.Plan.Circle * f.scale)
		d.Circle = &oval{px(centre.X), px(centre.Y), radius, radius}
	}
	d.Travel, d.Arrows = f.travel(path, step), step.says()
	d.Measures = f.measures(c, high+10, says)
	d.Floor = px(high + 10 + planRow*float64(len(d.Measures)) + 10)
	d.Height = d.Floor + 20
	d.Ticks = f.ticks(reach, p)
	if !math.IsNaN(shot.Passage) {
		d.Passage = drawPassage(&c.Plan, shot.Passage, p)
	}
	return d
}

// way draws where the subject is on the move, and where of that something does not hold.
func (f *ground) way(d *planDrawing, j *engine.Judgement) {
	const high = 8
	w := floor.WayOf(j)
	for _, piece := range w.Worst() {
		from, to := f.at(min(piece.From, piece.To), 0), f.at(max(piece.From, piece.To), 0)
		b := box{px(from.X), px(from.Y - high/2), px(to.X - from.X), high}
		if piece.Hold == floor.Fails {
			d.Fails = append(d.Fails, b)
		} else {
			d.Way = append(d.Way, b)
		}
	}
}

// ticks marks round distances from the sensor plane.
func (f *ground) ticks(reach float64, p lang.Printer) []tick {
	const apart = 46
	var ticks []tick
	step := niceLength(apart/f.scale, p)
	for i := 0.0; i*step <= reach; i++ {
		text := "0"
		if i > 0 {
			text = strings.TrimSuffix(p.Quantity(i*step, "m"), " m")
		}
		ticks = append(ticks, tick{px(f.at(i*step, 0).X), text})
	}
	if last := &ticks[len(ticks)-1]; p.System == lang.Metric {
		last.Text += " m"
	}
	return ticks
}

// slope gives the half width of the picture for each metre of distance. A fisheye that
// sees the whole plane stops at 80 degrees from the axis.
func slope(j *engine.Judgement) float64 {
	return math.Tan(min(j.Fact(facts.AngleWidth)/2, 80*math.Pi/180))
}

// wedge draws the part of the view between two distances from the sensor plane: what the picture
// shows of a plane on which the lens is focused. It ends where the floor does.
func (f *ground) wedge(to *path, j *engine.Judgement, side, near, far float64) {
	half := func(distance float64) float64 {
		if distance == 0 {
			return 0
		}
		return max(0, facts.FieldDistance(&j.Facts.Value, distance)) * side
	}
	from, until := half(near), half(far)
	edge := []point{{near, min(from, f.half)}, {far, min(until, f.half)}}
	if from < f.half && until > f.half {
		edge = slices.Insert(edge, 1, point{near + (far-near)*(f.half-from)/(until-from), f.half})
	}
	var around []point
	for _, p := range edge {
		around = append(around, f.at(p.X, p.Y))
	}
	for _, p := range slices.Backward(edge) {
		if p.Y > 0 {
			around = append(around, f.at(p.X, -p.Y))
		}
	}
	to.closed(around...)
}

// subject draws what stands at a distance: people as shoulders and head, anything else as its width.
func (f *ground) subject(to *path, s brief.Subject, j *engine.Judgement, distance float64) {
	if !s.IsPerson() {
		half := j.Fact(facts.SubjectWidth) / 2
		to.line(f.at(distance, half), f.at(distance, -half))
		return
	}
	half := people.ShoulderBreadth.Value() * s.Height.Value / 2
	// The depth of the body is drawn by eye.
	depth := half * 0.5
	for _, y := range abreast(s) {
		f.ellipse(to, distance, y, depth, half)
		f.ellipse(to, distance, y, half*0.36, half*0.36)
	}
}

func (f *ground) ellipse(to *path, x, y, rx, ry float64) {
	const parts = 20
	points := make([]point, parts)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / parts)
		points[i] = f.at(x+rx*cos, y+ry*sin)
	}
	to.closed(points...)
}

// camera draws the lens to its length, and a body behind it, by eye.
func (f *ground) camera(to *path, j *engine.Judgement) {
	length := j.Fact(facts.LensLength)
	if math.IsNaN(length) {
		length = 0
	}
	const body, lens = 0.055, 0.035 // half widths
	corners := func(x0, x1, half float64) {
		to.closed(f.at(x0, half), f.at(x1, half), f.at(x1, -half), f.at(x0, -half))
	}
	corners(-0.06, 0.02, body)
	corners(0.02, max(0.02, length), lens)
}

// A step is how far camera and subject move in a part of a second, in metres.
type step struct {
	camera, subject point
	seconds, length float64
	around          bool // the camera circles the subject
}

// newStep gives the longest step of a move that fits a drawing.
func newStep(path motion.Path, reach float64) step {
	ahead, backwards, across := point{1, 0}, point{-1, 0}, point{0, 1}
	var s step
	switch path.Way {
	case motion.Behind:
		s.camera, s.subject = ahead, ahead
	case motion.Before:
		s.camera, s.subject = backwards, backwards
	case motion.Beside:
		s.camera, s.subject = across, across
	case motion.Approaching:
		s.camera = ahead
	case motion.Retreating:
		s.camera = backwards
	case motion.Circling:
		s.around = true
	default: // it stands, or rises out of the drawing
		return s
	}
	for _, s.seconds = range []float64{1, 0.5, 0.2, 0.1} {
		if path.Speed*s.seconds < 0.35*reach {
			break
		}
	}
	length := path.Speed * s.seconds
	s.camera, s.subject, s.length = s.camera.times(length), s.subject.times(length), length
	return s
}

func (s step) says() string {
	if s.seconds == 0 {
		return ""
	}
	return "arrows: " + lang.Printer{}.Quantity(s.seconds, "s") + " of the move"
}

// travel draws the step.
func (f *ground) travel(path motion.Path, s step) []arrow {
	if s.around {
		return []arrow{f.orbit(path.Near, s.length)}
	}
	var arrows []arrow
	for _, way := range []struct{ from, by point }{{point{0, 0}, s.camera}, {point{path.Far, 0}, s.subject}} {
		if way.by != (point{}) {
			arrows = append(arrows, f.arrow(way.from, point{way.from.X + way.by.X, way.from.Y + way.by.Y}))
		}
	}
	return arrows
}

func (f *ground) arrow(from, to point) arrow {
	var a arrow
	a.Line.line(f.at(from.X, from.Y), f.at(to.X, to.Y))
	f.head(&a.Head, f.at(from.X, from.Y), f.at(to.X, to.Y))
	return a
}

// orbit is an arrow along the circle.
func (f *ground) orbit(radius, length float64) arrow {
	const parts = 8
	var a arrow
	var points []point
	for i := range parts + 1 {
		sin, cos := math.Sincos(math.Pi - float64(i)/parts*length/radius)
		points = append(points, f.at(radius+radius*cos, radius*sin))
	}
	a.Line.line(points...)
	f.head(&a.Head, points[parts-1], points[parts])
	return a
}

// head draws the head of an arrow that comes from one place of the drawing to another.
func (f *ground) head(to *path, from, at point) {
	const long, half = 7.0, 3.5
	length := math.Hypot(at.X-from.X, at.Y-from.Y)
	if length == 0 {
		return
	}
	x, y := (at.X-from.X)/length, (at.Y-from.Y)/length
	to.closed(at, point{at.X - long*x - half*y, at.Y - long*y + half*x}, point{at.X - long*x + half*y, at.Y - long*y - half*x})
}

// measures gives the dimension lines below the floor.
func (f *ground) measures(c *floor.Card, top float64, says []string) []measure {
	var all []measure
	add := func(kind string, from, to float64, text string) {
		if math.IsNaN(from + to) {
			return
		}
		m := measure{Kind: kind, From: px(f.at(from, 0).X), To: px(f.at(to, 0).X), Y: px(top + planRow*float64(len(all)) + 12), Text: text}
		if float64(m.To) > f.right {
			m.To, m.Open = px(f.right), true
		}
		m.TextX = px(withText(float64(m.From+m.To)/2, text))
		all = append(all, m)
	}
	near, far := c.Use.Fact(facts.NearLimit), c.Use.Fact(facts.FarLimit)
	add("need", c.Shot.Near, c.Shot.Far, says[0])
	add("sharp", near, far, says[1])
	add("walk", c.Walk.Near, c.Walk.Far, says[2])
	if c.Plan.LensRoom > 0 {
		add("room", c.Shot.Near-c.Plan.LensRoom, c.Shot.Near, says[3])
	}
	if c.Plan.RigRoom > 0 && c.Plan.RigRoom < c.Plan.LensRoom {
		add("room", c.Shot.Near-c.Plan.RigRoom, c.Shot.Near, says[4])
	}
	return all
}

// measureTexts says what stands on the dimension lines that a card can have; nothing of a card
// without a lens.
func measureTexts(c *floor.Card, p lang.Printer) []string {
	if c.Use == nil {
		return nil
	}
	return []string{
		"subject " + between(c.Shot.Near, c.Shot.Far, p),
		"sharp " + between(c.Use.Fact(facts.NearLimit), c.Use.Fact(facts.FarLimit), p),
		"walk " + between(c.Walk.Near, c.Walk.Far, p),
		"lens clear by " + p.Quantity(c.Plan.LensRoom, "m"),
		"plates clear by " + p.Quantity(c.Plan.RigRoom, "m"),
	}
}

func between(near, far float64, p lang.Printer) string {
	if near == far {
		return "at " + p.Quantity(near, "m")
	}
	return wording.Between(near, far, p)
}

// labelWidth gives about how wide a label is: its characters are a little wider than half its height.
func labelWidth(text string) float64 { return float64(len(text)) * 7.6 }

// withText keeps a text that is centred at x within the drawing.
func withText(x float64, text string) float64 {
	half := labelWidth(text) / 2
	return max(half+2, min(planWidth-half-2, x))
}
