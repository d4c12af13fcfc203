package report

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"testing"

	"glassbrief/catalog"
	"glassbrief/engine"
	"glassbrief/engine/audit"
	"glassbrief/engine/brief"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"
	"glassbrief/engine/floor"
	"glassbrief/engine/optics"
	"glassbrief/engine/people"
	"glassbrief/lang"
)

// halfPixel is how far a drawing may lie from what it draws.
const halfPixel = 0.5

// demoAnswer recommends for the demo scenario.
func demoAnswer(t *testing.T) *engine.Recommendation {
	t.Helper()
	s := enginetest.ReadFile(t, os.DirFS("../../scenarios"), "night-ferry.scenario")
	return enginetest.Recommend(t, s, engine.Options{})
}

var pathToken = regexp.MustCompile(`[MlZ]|-?[0-9]+(?:\.[0-9])?`)

// pointsOf reads the data of a path back into places.
func pointsOf(t *testing.T, p path) []point {
	t.Helper()
	var points []point
	var numbers []float64
	var at point
	absolute := false
	for _, token := range pathToken.FindAllString(p.String(), -1) {
		switch token {
		case "M", "l", "Z":
			absolute = token == "M"
			continue
		}
		n, err := strconv.ParseFloat(token, 64)
		if err != nil {
			t.Fatal(err)
		}
		if numbers = append(numbers, n); len(numbers) < 2 {
			continue
		}
		if absolute {
			at = point{}
		}
		at.X, at.Y = at.X+numbers[0], at.Y+numbers[1]
		points, numbers = append(points, at), nil
	}
	return points
}

func nearest(points []point, to point) float64 {
	best := math.Inf(1)
	for _, p := range points {
		best = min(best, math.Hypot(p.X-to.X, p.Y-to.Y))
	}
	return best
}

// The outline is projected here by the functions of optics alone, from the facts and the
// catalogue, and laid on a sensor 320 pixels wide.
func TestOutlineLiesWhereTheLensPutsIt(t *testing.T) {
	r := demoAnswer(t)
	drawn := 0
	for i := range r.Shots {
		shot := &r.Shots[i]
		for k := range shot.Ranking {
			j := &shot.Ranking[k]
			if !mounted(j) {
				continue
			}
			for _, distance := range ends(shot.Shot) {
				drawing := drawFrame(r, shot.Shot, j, distance, lang.Printer{})
				got := pointsOf(t, drawing.Subject)
				want := projected(t, r, shot.Shot, j, distance)
				for _, p := range want {
					if off := nearest(got, p); off > halfPixel {
						t.Errorf("shot %s, %s at %g m: nothing is drawn at %.1f, %.1f; the nearest is %.2f px away", shot.Shot.ID, j.Lens, distance, p.X, p.Y, off)
						break
					}
				}
				for _, p := range got {
					if off := nearest(want, p); off > halfPixel {
						t.Errorf("shot %s, %s at %g m: %.1f, %.1f lies %.2f px from the outline", shot.Shot.ID, j.Lens, distance, p.X, p.Y, off)
						break
					}
				}
				drawn++
			}
		}
	}
	if drawn < 100 {
		t.Errorf("only %d outlines were looked at", drawn)
	}
}

func projected(t *testing.T, r *engine.Recommendation, shot *brief.Shot, j *engine.Judgement, distance float64) []point {
	t.Helper()
	lens, ok := r.Scenario.Catalogue.Lenses.Lookup(j.Lens)
	if !ok {
		t.Fatalf("no lens %q", j.Lens)
	}
	const sensorWidth, sensorHeight = 24.89e-3, 18.67e-3 // of the demo's first camera
	squeeze := lens.SqueezeFactor()
	scale := 320 / (sensorWidth * squeeze)
	projection, _ := optics.ParseProjection(lens.Projection.Value)
	focal := j.Fact(facts.FocalLength)
	// Rays run through the entrance pupil. The screen behind it lies as far off as the breathing wants.
	zoomed := 0.0
	if lens.IsZoom() {
		zoomed = (focal - lens.Focal.Low.Value) / (lens.Focal.High.Value - lens.Focal.Low.Value)
	}
	between := func(e catalog.Ends) float64 { return e.Wide.Value + zoomed*(e.LongEnd().Value-e.Wide.Value) }
	pupil := between(lens.Pupil.Ends)
	s := distance - pupil
	narrower := 1 + between(lens.Breathing.Ends)*min(1, (lens.CloseFocus.Value-pupil)/s)
	place := func(x, y float64) (float64, float64) {
		off := math.Hypot(x, y)
		if off == 0 {
			return 0, 0
		}
		radius := optics.Radius(projection, focal, math.Atan2(off, s*narrower))
		px, py := radius*x/off, radius*y/off
		if d := lens.Distortion.OrNaN(); !math.IsNaN(d) && lens.Circle.Known() {
			reach := min(1, math.Hypot(px/squeeze, py)/(lens.Circle.Value*j.Fitting.Factor/2))
			px, py = px*(1+d*reach*reach), py*(1+d*reach*reach)
		}
		return px, py
	}
	// The height that is delivered, by bisection on the drawing's own plane.
	half := j.Fact(facts.FrameHeight) / 2
	low, high := 0.0, s*math.Tan(80*math.Pi/180)
	for range 60 {
		middle := (low + high) / 2
		if _, y := place(0, middle); y < half {
			low = middle
		} else {
			high = middle
		}
	}
	stature := shot.Subject.Height.Value
	aim := stature / 2
	if top := 2 * low * 0.42; shot.Subject.Kind != "object" && stature/2 > top {
		aim = stature - top // 8 % of the frame above the head
	}
	var points []point
	for _, line := range outlineOf(shot.Subject) {
		for _, p := range line {
			x, y := place(p.X, p.Y-aim)
			points = append(points, point{160 + x*scale, sensorHeight*scale/2 - y*scale})
		}
	}
	return points
}

// A person is as tall and as wide as the published proportions have it.
func TestPersonHasRealProportions(t *testing.T) {
	var low, high, wide float64
	for _, p := range person(1.78, 0) {
		low, high, wide = min(low, p.Y), max(high, p.Y), max(wide, math.Abs(p.X))
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"foot", low, 0}, {"crown", high, 1.78}, {"shoulders", 2 * wide, people.ShoulderBreadth.Value() * 1.78},
	} {
		if math.Abs(c.got-c.want) > 0.005 {
			t.Errorf("%s: got %.3f m, want %.3f m", c.name, c.got, c.want)
		}
	}
}

func TestStripShowsNearAndFar(t *testing.T) {
	r := demoAnswer(t)
	for i := range r.Shots {
		j := r.Shots[i].Use
		d := drawStrip(j, neighbours(j), lang.Printer{})
		for _, row := range d.Rows {
			if !row.Chosen {
				continue
			}
			place := func(distance float64) float64 {
				return stripLeft + (1/distance-d.axis.low)/(d.axis.high-d.axis.low)*(stripRight-stripLeft)
			}
			near, far := j.Fact(facts.SubjectNear), j.Fact(facts.SubjectFar)
			if j.Fact(facts.Following) == 1 {
				far = near
			}
			for _, c := range []struct {
				name      string
				got, want float64
			}{
				{"far limit", float64(row.Sharp.X), place(j.Fact(facts.FarLimit))},
				{"near limit", float64(row.Sharp.X + row.Sharp.Width), place(j.Fact(facts.NearLimit))},
				{"farthest with the reserve", float64(d.Need.X), place(far * (1 + j.Fact(facts.ReserveWanted)))},
				{"nearest with the reserve", float64(d.Need.X + d.Need.Width), place(near * (1 - j.Fact(facts.ReserveWanted)))},
				{"mark", float64(d.Mark), place(j.Fact(facts.FocusMark))},
			} {
				if math.Abs(c.got-c.want) > halfPixel {
					t.Errorf("shot %s, %s: drawn at %.2f, want %.2f", r.Shots[i].Shot.ID, c.name, c.got, c.want)
				}
			}
		}
	}
}

// The neighbours of the chosen stop are computed anew, so the chosen one must come out
// as the facts have it.
func TestSharpAtAgreesWithTheFacts(t *testing.T) {
	r := demoAnswer(t)
	for i := range r.Shots {
		j := r.Shots[i].Use
		got := sharpAt(j, j.Fact(facts.Stop))
		for k, want := range []float64{j.Fact(facts.NearLimit), j.Fact(facts.FarLimit)} {
			if math.Abs(got[k]-want) > 1e-6*want {
				t.Errorf("shot %s: got %v, want limit %g", r.Shots[i].Shot.ID, got, want)
			}
		}
	}
}

func TestPlanIsToScale(t *testing.T) {
	r := demoAnswer(t)
	for _, c := range floor.Cards(r) {
		shot, j := c.Shot, c.Use
		d := drawPlan(&c, measureTexts(&c, lang.Printer{}), lang.Printer{})
		lens := pointsOf(t, d.Cone)[0] // the view opens at the camera
		subject := d.Measures[0]
		scale := (float64(subject.From) - lens.X) / shot.Near
		sharp := pointsOf(t, d.Sharp)
		left, right := math.Inf(1), 0.0
		for _, p := range sharp {
			left, right = min(left, p.X), max(right, p.X)
		}
		ends := 0.0 // of the floor that is drawn
		for _, p := range pointsOf(t, d.Cone) {
			ends = max(ends, p.X)
		}
		for _, c := range []struct {
			name      string
			got, want float64
		}{
			{"near limit", left, lens.X + scale*j.Fact(facts.NearLimit)},
			{"far limit", right, min(lens.X+scale*j.Fact(facts.FarLimit), ends)},
			{"nearest to walk", float64(measured(d, "walk").From), lens.X + scale*c.Walk.Near},
			{"farthest to walk", float64(measured(d, "walk").To), min(lens.X+scale*c.Walk.Far, ends)},
			{"front of the lens", float64(measured(d, "room").From), lens.X + scale*j.Fact(facts.LensLength)},
			{"farthest subject", float64(subject.To), lens.X + scale*shot.Far},
			{"width at the near limit", sharp[len(sharp)-1].Y - sharp[0].Y, scale * j.Fact(facts.SpreadWidth) *
				facts.FieldDistance(&j.Facts.Value, j.Fact(facts.NearLimit))},
		} {
			if math.Abs(c.got-c.want) > halfPixel {
				t.Errorf("shot %s, %s: drawn at %.2f, want %.2f", shot.ID, c.name, c.got, c.want)
			}
		}
		if shot.Move.Word == "orbit" && math.Abs(float64(d.Circle.RX)-scale*shot.Near) > halfPixel {
			t.Errorf("shot %s: the circle has a radius of %s px, want %.1f", shot.ID, d.Circle.RX, scale*shot.Near)
		}
	}
}

// measured gives the dimension line of a kind.
func measured(d planDrawing, kind string) measure {
	for _, m := range d.Measures {
		if m.Kind == kind {
			return m
		}
	}
	return measure{}
}

// The bar of a window runs from the one edge to the other, by ratio.
func TestWindowIsDrawnByRatio(t *testing.T) {
	r := demoAnswer(t)
	var s audit.Specification
	s.Axes[audit.Focal] = audit.Interval{Low: 0.020, High: 0.050}
	s.Axes[audit.WidestT] = audit.Interval{Low: math.NaN(), High: 2.8}
	for _, open := range []audit.Axis{audit.CloseFocus, audit.Mass, audit.Circle, audit.Length} {
		s.Axes[open] = audit.Interval{Low: math.NaN(), High: math.NaN()}
	}
	d := Writer{}.window(&audit.Answer{Scenario: r.Scenario, Camera: r.Camera}, &s)
	if len(d.Rows) != 2 {
		t.Fatalf("%d axes are drawn, want the two that are bounded", len(d.Rows))
	}
	focal, stop := d.Rows[0], d.Rows[1]
	// From 6 mm to 400 mm, and from T1 to T16.
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"shortest", float64(focal.Allow.X), 8 + 272*math.Log(20.0/6)/math.Log(400.0/6)},
		{"longest", float64(focal.Allow.X + focal.Allow.Width), 8 + 272*math.Log(50.0/6)/math.Log(400.0/6)},
		{"no widest", float64(stop.Allow.X), 8},
		{"smallest", float64(stop.Allow.X + stop.Allow.Width), 8 + 272*math.Log(2.8)/math.Log(16)},
	} {
		if math.Abs(c.got-c.want) > halfPixel {
			t.Errorf("%s: drawn at %.2f, want %.2f", c.name, c.got, c.want)
		}
	}
	if len(focal.House) < 5 {
		t.Errorf("%d lenses of the house are marked, want all that fit", len(focal.House))
	}
}

// The circle is drawn where it can be seen, and only there.
func TestCircleIsDrawnWhereItComesNear(t *testing.T) {
	r := demoAnswer(t) // a sensor of 24.89 mm by 18.67 mm, 31.1 mm across
	for lens, want := range map[string]bool{"Wide 18": false, "Fisheye 8": true, "Zoom 10-18": true, "Squeeze 35": false} {
		j := r.Shots[0].Find(lens)
		d := drawFrame(r, r.Shots[0].Shot, j, r.Shots[0].Shot.Near, lang.Printer{})
		if (d.Circle != nil) != want {
			t.Errorf("%s: the circle of %.1f mm is drawn: %v, want %v", lens, j.Fact(facts.ImageCircle)*1000, d.Circle != nil, want)
		}
		if d.Circle != nil && math.Abs(float64(d.Circle.RY)-j.Fact(facts.ImageCircle)/2*320/r.Picture(r.Shots[0].Shot, j).Sensor.Width) > halfPixel {
			t.Errorf("%s: the circle is drawn with a radius of %v px", lens, d.Circle.RY)
		}
	}
}

// What was delivered before is drawn over what is delivered now by how much of the subject's plane each
// shows: half a frame twice as wide, from the facts of both lenses.
func TestBeforeIsDrawnToTheScaleOfNow(t *testing.T) {
	r := demoAnswer(t)
	shot := &r.Shots[8]
	for _, c := range []struct{ now, before string }{{"Normal 35", "Wide 24"}, {"Wide 24", "Normal 35"}} {
		now, before := shot.Find(c.now), shot.Find(c.before)
		d := drawFrame(r, shot.Shot, now, shot.Shot.Near, lang.Printer{})
		d.over(newEye(r, shot.Shot, now, shot.Shot.Near), newEye(r, shot.Shot, before, shot.Shot.Near))
		low, high := math.Inf(1), 0.0
		for _, p := range pointsOf(t, d.Before) {
			low, high = min(low, p.Y), max(high, p.Y)
		}
		want := before.Fact(facts.FieldNear) / now.Fact(facts.FieldNear)
		const distortion = 0.02 // the lenses distort less than this over their frames
		if got := (high - low) / float64(d.Delivered.Height); math.Abs(got/want-1) > distortion {
			t.Errorf("%s over %s: %.3f of the height, want %.3f", c.before, c.now, got, want)
		}
		var left, top, width, height float64
		if _, err := fmt.Sscan(d.View(), &left, &top, &width, &height); err != nil || top > low || top+height < high {
			t.Errorf("%s over %s: the view %s cuts off what reaches from %.1f to %.1f", c.before, c.now, d.View(), low, high)
		}
	}
}

// A passage that is too narrow is drawn as wide as it is, and what it lacks is marked.
func TestPassageIsToScale(t *testing.T) {
	for width, lacks := range map[float64]int{0.8: 0, 0.6: 2} {
		const needs = 0.7
		d := drawPassage(&floor.Plan{PassageNeeds: needs, Spare: (width - needs) / 2}, width, lang.Printer{})
		gap, takes := float64(d.Right.X-d.Left.Width), float64(d.Takes.Width)
		if math.Abs(takes/gap-needs/width) > 1e-9 || len(d.Lacks) != lacks {
			t.Errorf("%g m: it takes %.3f of the passage, want %.3f, and %d places lack room, want %d", width, takes/gap, needs/width, len(d.Lacks), lacks)
		}
		if lacks > 0 && math.Abs(float64(d.Lacks[0].Width)/gap-(needs-width)/2/width) > 1e-9 {
			t.Errorf("%g m: it lacks %.3f of the passage at a side, want %.3f", width, float64(d.Lacks[0].Width)/gap, (needs-width)/2/width)
		}
	}
}

// A group has as many people as stand side by side over its width, and the outer two end it.
func TestGroupIsAsWideAsItIs(t *testing.T) {
	r := demoAnswer(t)
	s := r.Shots[0].Shot.Subject // 4.50 m of people of 1.75 m
	left, right := math.Inf(1), math.Inf(-1)
	group := outlineOf(s)
	for _, line := range group {
		for _, p := range line {
			left, right = min(left, p.X), max(right, p.X)
		}
	}
	if math.Abs(right-left-4.5) > 0.02 {
		t.Errorf("the group is %.2f m wide, want 4.50 m", right-left)
	}
	// Shoulders of about 0.45 m, and a quarter of them between two.
	if n := len(group); n < 7 || n > 9 {
		t.Errorf("%d people stand there, want about eight", n)
	}
}
