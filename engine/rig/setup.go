package rig

import (
	"math"

	"glassbrief/catalog"
	"glassbrief/engine/balance"
	"glassbrief/engine/brief"
	"glassbrief/engine/facts"
)

// A Setup is a lens on the rig for a shot, or the camera with it on legs. It is not changed once
// made, so several goroutines may use it.
type Setup struct {
	Lens     string
	Adapter  *catalog.Adapter  // nil for none
	Filters  []*catalog.Filter // with the rings they go on, the lens's side first
	Inverted bool              // low mode
	OnLegs   bool              // the camera stands on legs, and nothing is trimmed

	Sled    balance.Sled
	Payload balance.Load     // its centre of mass counts from the mount's flange forward and from the stage up; unknown where Placed is false
	Placed  bool             // it is known where the payload's centre of mass is
	Lacks   []Lack           // what is not known and the trim needs; none on legs
	Window  brief.DropWindow // of the drop time that it is trimmed to

	stage float64   // height of the stage above the gimbal, m
	posts []float64 // by half the number of plates, the depth that brings the drop time into the window; NaN where none does
}

// New puts a lens on the rig of a scenario, or on legs, as a shot wants it.
func New(s *brief.Scenario, camera *catalog.Camera, shot *brief.Shot, lens *catalog.Lens, fitting catalog.Fitting, filters []*catalog.Filter) *Setup {
	load := payloadOf(s, camera, lens.Name.Value, figuresOf(lens), fitting, filters)
	sled, lacks := sledOf(s.Rig)
	u := &Setup{
		Lens: lens.Name.Value, Adapter: fitting.Adapter, Filters: filters,
		Inverted: shot.Move.Low, OnLegs: shot.Support == facts.Legs,
		Sled: sled, Payload: load.load, Placed: len(load.lacks) == 0,
		Window: s.Drop, stage: s.Rig.StageHeight.OrNaN(),
	}
	u.Sled.Inverted = u.Inverted
	if u.OnLegs {
		return u
	}
	if u.Lacks = append(load.lacks, lacks...); len(u.Lacks) > 0 {
		return u
	}
	for plates := 0; plates <= sled.MaxPlates; plates += 2 {
		post := math.NaN()
		if trim, ok := u.Sled.Within(u.OnStage(), plates, s.Drop.Low, s.Drop.High); ok {
			post = trim.Post
		}
		u.posts = append(u.posts, post)
	}
	return u
}

// OnStage gives the payload as it stands over the post.
func (u *Setup) OnStage() balance.Load {
	load := u.Payload
	load.Height += u.stage
	load.Forward = 0
	return load
}

// fewest gives the fewest plates that bring the drop time into the window, -1 when none do.
func (u *Setup) fewest() int {
	for half, post := range u.posts {
		if !math.IsNaN(post) {
			return 2 * half
		}
	}
	return -1
}

// within reports whether so many plates do.
func (u *Setup) within(plates int) bool { return !math.IsNaN(u.posts[plates/2]) }
