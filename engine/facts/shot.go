package facts

import (
	"math"

	"glassbrief/engine/exposure"
	"glassbrief/engine/motion"
	"glassbrief/engine/optics"
)

// Focus says who keeps the subject sharp.
type Focus uint8

const (
	Fixed  Focus = iota // set once: everything of the move must be sharp at one setting
	Pulled              // somebody pulls it: the subject's plane is followed
	Auto                // the camera follows it
)

// String gives the word that a brief has for it.
func (f Focus) String() string { return [...]string{"fixed", "pulled", "auto"}[f] }

// Tolerances on what must be sharp. They are working assumptions of this project, stated
// here once; a scenario that names an interval of distances has no need of the first.
const (
	// KeptDistance is how well an operator on the move keeps one distance by eye, as a
	// share of it.
	KeptDistance = 0.05
	// PulledDepth is the depth that must be sharp around the subject when focus is
	// pulled: about a head, and as much again for the hand on the ring.
	PulledDepth = 0.40
	// AutoDepth is the same for a camera that follows focus: about a head.
	AutoDepth = 0.20
	// FaceDepth is the depth of a face that stands still before a still camera.
	FaceDepth = 0.20
	// SwayDepth is how far a sled wanders toward and from what it is held at: an operator
	// who stands still sways by a centimetre or two either way. From memory.
	SwayDepth = 0.04
	// BackgroundFactor puts a background whose distance is not given behind the subject.
	BackgroundFactor = 3
)

// A Subject is what is to be seen. Sizes in metres.
type Subject struct {
	Person        bool
	Place         bool // a room or a place, of which the whole depth counts
	Height, Width float64
	Offset        float64 // of its middle from that of the frame, in half frame widths
}

// Support is what holds the camera.
type Support uint8

const (
	Sled   Support = iota // the sled in the operator's hands
	Docked                // the sled in its dock
	Legs                  // a tripod
)

var supportWords = [...]string{Sled: "sled", Docked: "docked", Legs: "legs"}

// String gives the word of the support in the language.
func (s Support) String() string { return supportWords[s] }

// A Motion is how the camera moves. Speeds in m/s, rates in rad/s; zero is standing still.
type Motion struct {
	Speed      float64 // of the camera along its path
	Turn       float64 // at which the view turns
	Sweep      float64 // across the view, past the background
	Bob        float64 // rise and fall at the operator's hand, in metres
	Backwards  bool
	Low        bool
	Run        bool
	Stairs     bool
	KeepsByEye bool // a single distance is kept by eye: neither marks nor a stand keep it
}

// A Band is an interval of the share of the frame that the subject fills.
type Band struct{ Low, High float64 }

// ShotInput is what a shot, the camera's settings and the rig give, in SI units. NaN
// stands for unknown where a field says so.
type ShotInput struct {
	Subject            Subject
	Near, Far          float64 // from the sensor plane
	Background         float64 // from the sensor plane; NaN for the assumed one
	WantNear, WantFar  Band
	Motion             Motion
	Support            Support
	Marks              bool // the way is marked on the floor
	Free               bool // the camera may stand anywhere in a room
	Focus              Focus
	Light              float64 // lux; NaN when unknown
	Rate, ShutterAngle float64 // 1/s, rad
	BaseISO, TopISO    float64 // NaN when unknown
	Autofocus          bool    // of the camera
	RigIsolation       float64 // share of the bob that the rig takes out; NaN when unknown
}

// FillShot writes the facts of [OfShot].
func FillShot(r *Record, in *ShotInput) {
	r.Set(SubjectHeight, in.Subject.Height)
	r.Set(SubjectWidth, in.Subject.Width)
	r.SetTruth(IsPerson, in.Subject.Person)
	r.Set(SubjectNear, in.Near)
	r.Set(SubjectFar, in.Far)
	r.Set(SubjectOffset, in.Subject.Offset)
	background := in.Background
	if math.IsNaN(background) {
		background = BackgroundFactor * in.Far
	}
	r.Set(BackgroundDistance, background)
	r.Set(WantNearLow, in.WantNear.Low)
	r.Set(WantNearHigh, in.WantNear.High)
	r.Set(WantFarLow, in.WantFar.Low)
	r.Set(WantFarHigh, in.WantFar.High)
	r.Set(FaceStretch, faceStretch(in))

	near, far := sharpRange(in)
	r.Set(FocusNear, near)
	r.Set(FocusFar, far)
	r.SetTruth(FocusFixed, in.Focus == Fixed)
	r.SetTruth(FocusPulled, in.Focus == Pulled)
	r.SetTruth(FocusAuto, in.Focus == Auto)
	r.SetTruth(CameraAutofocus, in.Autofocus)

	r.Set(Light, in.Light)
	r.Set(LightEV, exposure.EV(in.Light))
	r.Set(ShutterTime, exposure.ShutterTime(in.ShutterAngle, in.Rate))
	r.Set(BaseISO, in.BaseISO)
	r.Set(TopISO, in.TopISO)

	m := in.Motion
	r.Set(CameraSpeed, m.Speed)
	r.Set(TurnRate, m.Turn)
	r.Set(SweepSpeed, m.Sweep)
	r.Set(CrossingLimit, motion.Limit(in.Rate, in.ShutterAngle))
	r.Set(Bob, m.Bob*(1-in.RigIsolation))
	r.SetTruth(Moving, m.Speed > 0 || m.Turn > 0)
	r.SetTruth(WalksBackwards, m.Backwards)
	r.SetTruth(LowMode, m.Low)
	r.SetTruth(Running, m.Run)
	r.SetTruth(OnStairs, m.Stairs)
}

// faceStretch is unknown for what has no face.
func faceStretch(in *ShotInput) float64 {
	if !in.Subject.Person {
		return math.NaN()
	}
	head := optics.HeadLength * in.Subject.Height / optics.MeanStature
	return optics.FaceStretch(in.Near, head, optics.NoseProtrusion)
}

// sharpRange gives what one setting of the focus must hold. Fixed focus must hold the way of
// the subject, and never less than the camera sways or a face is deep. Pulled and automatic focus
// must hold the subject's own depth where it is nearest, for there it is hardest.
func sharpRange(in *ShotInput) (near, far float64) {
	switch in.Focus {
	case Pulled:
		return in.Near - PulledDepth/2, in.Near + PulledDepth/2
	case Auto:
		return in.Near - AutoDepth/2, in.Near + AutoDepth/2
	}
	near, far = in.Near, in.Far
	if near == far && in.Motion.KeepsByEye {
		near, far = near*(1-KeptDistance), far*(1+KeptDistance)
	}
	least := SwayDepth
	if in.Support != Sled {
		least = 0
	}
	if in.Subject.Person {
		least = FaceDepth
	}
	if far-near < least {
		middle := (near + far) / 2
		near, far = middle-least/2, middle+least/2
	}
	return near, far
}
