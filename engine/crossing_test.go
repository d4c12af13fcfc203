package engine_test

import (
	"fmt"
	"math"
	"testing"

	"glassbrief/engine"
	"glassbrief/engine/enginetest"
	"glassbrief/engine/facts"

	"pgregory.net/rapid"
)

// A vector is a place or a direction in the world: to the right, up, and away from the camera at
// the start, in metres.
type vector [3]float64

func (a vector) plus(s float64, b vector) vector {
	return vector{a[0] + s*b[0], a[1] + s*b[1], a[2] + s*b[2]}
}

func (a vector) times(b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

var up = vector{0, 1, 0}

// A pose is where the lens is and where the camera looks, level with the floor.
type pose struct{ lens, ahead vector }

// sees projects a point by its ray through the lens: tangents of the angles to the right and up.
func (p pose) sees(point vector) (across, height float64) {
	ray := point.plus(-1, p.lens)
	right := vector{p.ahead[2], 0, -p.ahead[0]}
	depth := ray.times(p.ahead)
	return ray.times(right) / depth, ray.times(up) / depth
}

// turned is where a camera looks that has turned to the right.
func turned(by float64) vector { return vector{math.Sin(by), 0, math.Cos(by)} }

// filmed gives the pose at a time of each move, with the sensor at the origin at the start. The
// camera goes at a speed, or turns at a rate about its lens, which stands a focal length before the
// sensor; the subject is at a distance from the sensor.
var filmed = map[string]func(t, speed, turn, focal, subject float64) pose{
	"hold": func(t, _, turn, focal, _ float64) pose { return pose{vector{0, 0, focal}, turned(turn * t)} },
	"side": func(t, speed, _, focal, _ float64) pose { return pose{vector{speed * t, 0, focal}, turned(0)} },
	"boom": func(t, speed, _, focal, _ float64) pose { return pose{vector{0, speed * t, focal}, turned(0)} },
	"orbit": func(t, speed, _, focal, subject float64) pose {
		by := speed / subject * t
		return pose{vector{0, 0, subject}.plus(focal-subject, turned(by)), turned(by)}
	},
	"follow": ahead, "push-in": ahead, "pass-through": ahead, "stairs": ahead,
	"lead": back, "pull-out": back,
}

func ahead(t, speed, _, focal, _ float64) pose { return pose{vector{0, 0, focal + speed*t}, turned(0)} }
func back(t, speed, _, focal, _ float64) pose  { return ahead(t, -speed, 0, focal, 0) }

// TestCrossingIsThatOfTheFilm films every move with rays and times the point of the background
// that passes the middle of the picture: from where it comes in to where it goes out.
func TestCrossingIsThatOfTheFilm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.SampledFrom([]string{"hold", "side", "boom", "orbit", "follow", "lead", "push-in", "pull-out", "pass-through", "stairs"}).Draw(t, "move")
		focal := rapid.Float64Range(12, 200).Draw(t, "focal in mm")
		squeeze := rapid.SampledFrom([]float64{1, 1.5}).Draw(t, "squeeze")
		near := rapid.Float64Range(1, 6).Draw(t, "near")
		far := near + rapid.SampledFrom([]float64{0, 0.3, 2}).Draw(t, "further")
		background := far * rapid.Float64Range(1.02, 6).Draw(t, "background")
		speed := rapid.Float64Range(0.2, 2.5).Draw(t, "speed")
		unit, turn := "m/s", 0.0
		if word == "hold" {
			unit, turn = "deg/s", speed*math.Pi/180
		}
		catalogue := fmt.Sprintf(`mount "M" { flange 20mm }
camera "C" { mount "M"
  mode "all" 36mm x 24mm
  iso 100
  iso_range 100..25600
  mass 1kg
}
rig "R" { payload 0.1kg..20kg
  wobble 0.25deg
  isolation 70%%
}
lens "L" { mount "M"
  focal %gmm
  pupil thin
  aperture f/2..f/22
  squeeze %g
  circle 300mm
}
`, focal, squeeze)
		s := enginetest.ReadWith(t, fmt.Sprintf(`use "kit.catalog"
scenario "Film" { camera "C"
  rig "R"
  deliver 2.39:1
}
shot "1" {
  subject object 0.2m x 0.3m
  frame 1%%..99%%
  distance %gm..%gm
  background %gm
  light 500lx
  move %s %g%s
}
`, near, far, background, word, speed, unit), catalogue)
		j := &enginetest.Recommend(t, s, engine.Options{}).Shots[0].Ranking[0]
		got, blur := j.Fact(facts.CrossingTime), j.Fact(facts.BlurPerFrame)

		point := vector{0, 0, background}
		edge := [2]float64{math.Tan(j.Fact(facts.AngleWidth) / 2), math.Tan(j.Fact(facts.AngleHeight) / 2)}
		at := func(time float64) (place [2]float64) {
			place[0], place[1] = filmed[word](time, speed, turn, focal/1000, near).sees(point)
			return place
		}
		want := crossingOf(at, edge)
		if math.IsInf(want, 1) != math.IsInf(got, 1) || !math.IsInf(want, 1) && math.Abs(got/want-1) > 0.01 {
			t.Errorf("%s at %g m, background at %g m, %g mm, %g%s: got a crossing in %g s, filmed %g s", word, near, background, focal, speed, unit, got, want)
		}
		if want := j.Fact(facts.ShutterTime) / want; math.Abs(blur-want) > 0.01*want {
			t.Errorf("%s: got a trail of %g of the picture, filmed %g", word, blur, want)
		}
	})
}

// crossingOf follows a point frame by frame both ways from the middle of the picture, to where it
// goes out. One that turns round before gives the time for the angle it goes through, times how
// much more the picture takes in. One that stays where it is takes for ever.
func crossingOf(at func(time float64) [2]float64, edge [2]float64) float64 {
	const frame, frames = 1. / 240, 240 * 1800
	crossing, covered := 0.0, 0.0
	side := 0
	if a := at(frame); math.Abs(a[1]) > math.Abs(a[0]) {
		side = 1
	}
	for _, way := range []float64{-frame, frame} {
		last := 0.0
		for n := 1; ; n++ {
			place := math.Abs(at(way * float64(n))[side])
			if n == frames || place < 1e-12 && n == 10 {
				return math.Inf(1)
			}
			if place >= edge[side] {
				crossing += frame * (float64(n-1) + (edge[side]-last)/(place-last))
				covered += math.Atan(edge[side])
				break
			}
			if place < last {
				crossing += frame * (float64(n) - 1)
				covered += math.Atan(last)
				break
			}
			last = place
		}
	}
	return crossing * 2 * math.Atan(edge[side]) / covered
}
