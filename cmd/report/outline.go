package report

import (
	"math"
	"sync"

	"glassbrief/engine/brief"
	"glassbrief/engine/people"
)

// An outline is what a subject looks like from the front: closed lines in metres, x from
// its middle to the right, y up from the floor or from its lower edge.
type outline [][]point

// outlineOf gives the outline of a subject with its real height and width.
func outlineOf(s brief.Subject) outline {
	height, width := s.Height.Value, s.Width.Value
	switch s.Kind {
	case "person":
		return outline{person(height, 0)}
	case "people":
		var group outline
		for _, x := range abreast(s) {
			group = append(group, person(height, x))
		}
		return group
	}
	if !s.Width.Known() {
		width = height
	}
	corners := []point{{-width / 2, 0}, {width / 2, 0}, {width / 2, height}, {-width / 2, height}}
	return outline{subdivided(corners)}
}

// abreast gives where the people of a subject stand from its middle, in metres: as many as there is
// room for over its width, because the brief does not say how many.
func abreast(s brief.Subject) []float64 {
	shoulders := people.ShoulderBreadth.Value() * s.Height.Value
	side := (s.Width.Value - shoulders) / 2
	if s.Kind != "people" || !(side > 0) {
		return []float64{0}
	}
	const apart = 1.25 // of the shoulders, from one to the next
	n := 1 + max(1, math.Floor(2*side/(apart*shoulders)))
	all := make([]float64, int(n))
	for i := range all {
		all[i] = side * (2*float64(i)/(n-1) - 1)
	}
	return all
}

// subdivided puts points along the sides of a shape, so that a lens can bend them.
func subdivided(corners []point) []point {
	const parts = 8
	var points []point
	for i, a := range corners {
		b := corners[(i+1)%len(corners)]
		for k := range parts {
			t := float64(k) / parts
			points = append(points, point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)})
		}
	}
	return points
}

// person gives the outline of a standing person of a stature whose middle stands at x.
func person(stature, x float64) []point {
	unit := unitPerson()
	points := make([]point, len(unit))
	for i, p := range unit {
		points[i] = point{x + p.X*stature, p.Y * stature}
	}
	return points
}

// unitPerson is a person of stature 1. The heights of the landmarks and the widths of
// shoulders and hips are those of [people]; what lies between them is drawn by eye.
var unitPerson = sync.OnceValue(func() []point {
	at := func(name string) float64 {
		height, _ := people.LandmarkHeight(name)
		return height
	}
	shoulder, hip := people.ShoulderBreadth.Value()/2, people.HipBreadth.Value()/2
	chin := at("chin")
	half := []point{ // the right half, from the crown down and back up to the crotch
		{0, 1}, {0.027, 0.991}, {0.041, 0.965}, {0.043, at("eye")}, {0.038, 0.898}, {0.023, chin},
		{0.029, 0.853}, {0.060, 0.834}, {0.116, at("shoulder")}, {0.138, 0.795},
		{shoulder, at("chest")}, {0.1445, at("elbow")}, {0.143, 0.56}, {0.138, 0.485}, {0.138, 0.42}, {0.127, 0.378},
		{0.118, 0.40}, {0.119, 0.47}, {0.118, 0.56}, {0.112, at("elbow")}, {0.1, 0.7},
		{0.092, 0.64}, {0.092, 0.6}, {hip, at("hip")}, {0.094, 0.44}, {0.079, at("knee")}, {0.078, 0.22},
		{0.056, 0.09}, {0.055, at("ankle")}, {0.067, 0.012}, {0.06, 0}, {0.026, 0},
		{0.024, at("ankle")}, {0.022, 0.1}, {0.017, 0.23}, {0.016, at("knee")}, {0.007, 0.44}, {0, 0.465},
	}
	right := smoothed(half)
	for i := range right {
		right[i].Y = min(1, max(0, right[i].Y)) // a spline swings past a sharp turn
	}
	whole := right
	for i := len(right) - 2; i > 0; i-- { // the two ends lie in the middle
		whole = append(whole, point{-right[i].X, right[i].Y})
	}
	return whole
})

// smoothed puts a point between neighbours on a Catmull-Rom spline.
func smoothed(p []point) []point {
	var points []point
	for i := range len(p) - 1 {
		before, after := p[max(0, i-1)], p[min(len(p)-1, i+2)]
		for _, t := range []float64{0, 0.5} {
			points = append(points, point{
				catmullRom(t, before.X, p[i].X, p[i+1].X, after.X),
				catmullRom(t, before.Y, p[i].Y, p[i+1].Y, after.Y),
			})
		}
	}
	return append(points, p[len(p)-1])
}

func catmullRom(t, a, b, c, d float64) float64 {
	return b + t/2*(c-a+t*(2*a-5*b+4*c-d+t*(3*(b-c)+d-a)))
}
