package facts

import (
	"fmt"
	"math"

	"glassbrief/engine/exposure"
	"glassbrief/engine/motion"
	"glassbrief/engine/people"
	"glassbrief/lang"
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
// here once.
const (
	// KeptDistance is how well an operator on the move keeps one distance by eye, as a
	// share of it.
	KeptDistance = 0.05
	// FaceDepth is the depth of a face that stands still before a still camera.
	FaceDepth = 0.20
	// BackgroundFactor puts a background whose distance is not given behind the subject.
	BackgroundFactor = 3
)

// SwayDepth is the range over which the distance wanders when a sled is held, in metres: how far
// 95 % of people who stand sway fore and aft.
var _, SwayDepth = people.SwayDepth.Range()

// A Subject is what is to be seen. Sizes in metres.
type Subject struct {
	Person        bool
	Place         bool // a room or a place, of which the whole depth counts
	Height, Width float64
	Offset        float64 // from the middle of the frame to its own, in half frame widths
}

// Support is what holds the camera.
type Support uint8

const (
	Sled       Support = iota // the sled in the operator's hands
	DockedSled                // the sled in its dock
	Legs                      // a tripod
)

var supportWords = [...]string{Sled: "sled", DockedSled: "docked", Legs: "legs"}

// String gives the word of the support in the language.
func (s Support) String() string { return supportWords[s] }

// A Motion is how the camera moves. Speeds in m/s, rates in rad/s; zero is standing still.
type Motion struct {
	Speed      float64         // of the camera along its path
	Turn       float64         // at which the view turns
	Sweep      float64         // across the view, past the background
	Bob, Sway  people.Estimate // of the operator, up and down with each step and to the sides with every second, in metres
	Unrest     float64         // factor on the wobble of the rig: 1 for an operator who stands, 0 off the hand
	Backwards  bool
	Rises      bool // the sweep is upwards or downwards, and not to the side
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
	HighBaseISO        float64 // a second base of the camera; the same as BaseISO without one
	Autofocus          bool    // of the camera
	RigIsolation       float64 // share of the bob that the rig takes out; NaN when unknown
}

// shotRows are the facts that the shot, the camera and the rig give.
func shotRows() map[ID]Fact {
	return map[ID]Fact{
		SubjectHeight: {
			Name: "subject_height", Dim: lang.Length, Unit: "m",
			Meaning: "height of the subject; of a person the stature",
			Source:  "given: subject",
			ofShot:  func(in *ShotInput) float64 { return in.Subject.Height },
		},
		SubjectWidth: {
			Name: "subject_width", Dim: lang.Length, Unit: "m",
			Meaning: "width of the subject; of one person the shoulders",
			Formula: fmt.Sprintf("%.3g subject_height for a person, as men are; women are 5 %% narrower", people.ShoulderBreadth.Value()),
			Source:  "given: subject; army survey of 2012, 4082 men",
			ofShot:  func(in *ShotInput) float64 { return in.Subject.Width },
		},
		IsPerson: {
			Name: "is_person", Truth: true,
			Meaning: "the subject is a person or people",
			Source:  "given: subject",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Subject.Person) },
		},
		IsPlace: {
			Name: "is_place", Truth: true,
			Meaning: "the subject is a room or a place, of which the whole depth counts",
			Source:  "given: subject",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Subject.Place) },
		},
		SubjectNear: {
			Name: "subject_near", Dim: lang.Length, Unit: "m",
			Meaning: "closest distance from the sensor plane to the subject",
			Source:  "given: distance",
			ofShot:  func(in *ShotInput) float64 { return in.Near },
		},
		SubjectFar: {
			Name: "subject_far", Dim: lang.Length, Unit: "m",
			Meaning: "farthest distance from the sensor plane to the subject",
			Source:  "given: distance",
			ofShot:  func(in *ShotInput) float64 { return in.Far },
		},
		PlaceFree: {
			Name: "place_free", Truth: true,
			Meaning: "the camera may stand anywhere in a room",
			Source:  "given: distance",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Free) },
		},
		Marked: {
			Name: "marked", Truth: true,
			Meaning: "the way is marked on the floor, and not kept by eye",
			Source:  "given: marks",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Marks) },
		},
		KeptByEye: {
			Name: "kept_by_eye", Truth: true,
			Meaning: "the operator moves and keeps the distance by eye",
			Source:  "given: move, marks",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Motion.KeepsByEye) },
		},
		Docked: {
			Name: "docked", Truth: true,
			Meaning: "the sled stands in its dock",
			Source:  "given: support",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Support == DockedSled) },
		},
		OnLegs: {
			Name: "on_legs", Truth: true,
			Meaning: "the camera stands on legs, off the sled",
			Source:  "given: support",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Support == Legs) },
		},
		BackgroundDistance: {
			Name: "background_distance", Dim: lang.Length, Unit: "m",
			Meaning: "distance from the sensor plane to the background",
			Formula: "3 subject_far unless given",
			Source:  "given: background; the default is an assumption of this project",
			ofShot:  background,
		},
		WantNearLow: {
			Name: "want_near_low", Dim: lang.Plain, Unit: "%",
			Meaning: "least share of the frame that the subject should fill at its nearest",
			Source:  "given: frame",
			ofShot:  func(in *ShotInput) float64 { return in.WantNear.Low },
		},
		WantNearHigh: {
			Name: "want_near_high", Dim: lang.Plain, Unit: "%",
			Meaning: "largest share of the frame that the subject should fill at its nearest",
			Source:  "given: frame",
			ofShot:  func(in *ShotInput) float64 { return in.WantNear.High },
		},
		WantFarLow: {
			Name: "want_far_low", Dim: lang.Plain, Unit: "%",
			Meaning: "least share of the frame that the subject should fill at its farthest",
			Source:  "given: frame",
			ofShot:  func(in *ShotInput) float64 { return in.WantFar.Low },
		},
		WantFarHigh: {
			Name: "want_far_high", Dim: lang.Plain, Unit: "%",
			Meaning: "largest share of the frame that the subject should fill at its farthest",
			Source:  "given: frame",
			ofShot:  func(in *ShotInput) float64 { return in.WantFar.High },
		},
		SubjectOffset: {
			Name: "subject_offset", Dim: lang.Plain, Unit: "%",
			Meaning: "how far the subject stands from the middle of the frame, as a share of half its width",
			Source:  "given: offset",
			ofShot:  func(in *ShotInput) float64 { return in.Subject.Offset },
		},
		FocusNear: {
			Name: "focus_near", Dim: lang.Length, Unit: "m",
			Meaning: "nearest distance that must be sharp with one setting of the focus",
			Formula: "subject_near, less what is only kept by eye, what the camera sways or half a face",
			Source:  "given: distance, focus",
			ofShot:  func(in *ShotInput) float64 { return sharpRange(in).near },
		},
		FocusFar: {
			Name: "focus_far", Dim: lang.Length, Unit: "m",
			Meaning: "farthest distance that must be sharp with one setting of the focus",
			Formula: "subject_far, and what is only kept by eye, what the camera sways or half a face",
			Source:  "given: distance, focus",
			ofShot:  func(in *ShotInput) float64 { return sharpRange(in).far },
		},
		FocusFixed: {
			Name: "focus_fixed", Truth: true,
			Meaning: "focus is set once and nobody pulls it",
			Source:  "given: focus",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Focus == Fixed) },
		},
		FocusPulled: {
			Name: "focus_pulled", Truth: true,
			Meaning: "somebody pulls focus",
			Source:  "given: focus",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Focus == Pulled) },
		},
		FocusAuto: {
			Name: "focus_auto", Truth: true,
			Meaning: "the camera keeps focus",
			Source:  "given: focus",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Focus == Auto) },
		},
		Light: {
			Name: "light", Dim: lang.Illuminance, Unit: "lx",
			Meaning: "light that falls on the subject",
			Source:  "given: light",
			ofShot:  func(in *ShotInput) float64 { return in.Light },
		},
		LightEV: {
			Name: "light_ev", Dim: lang.Stops, Unit: "EV",
			Meaning: "the light as an exposure value at ISO 100",
			Formula: "log2(light / 2.5 lx)",
			Source:  "incident-light equation with C = 250",
			Reads:   []ID{Light},
			value:   func(v *Values) float64 { return exposure.EV(v[Light]) },
		},
		ShutterTime: {
			Name: "shutter_time", Dim: lang.Time, Unit: "s",
			Meaning: "exposure time of one frame",
			Formula: "shutter angle / 360 deg / rate",
			Source:  "cine shutter formula",
			ofShot:  func(in *ShotInput) float64 { return exposure.ShutterTime(in.ShutterAngle, in.Rate) },
		},
		BaseISO: {
			Name: "base_iso", Dim: lang.Plain,
			Meaning: "the ISO at which the camera is used when there is light enough",
			Source:  "given: camera",
			ofShot:  func(in *ShotInput) float64 { return in.BaseISO },
		},
		TopISO: {
			Name: "top_iso", Dim: lang.Plain,
			Meaning: "the highest ISO that may be used",
			Source:  "given: camera, or iso in the scenario",
			ofShot:  func(in *ShotInput) float64 { return in.TopISO },
		},
		HighBaseISO: {
			Name: "high_base_iso", Dim: lang.Plain,
			Meaning: "the highest base ISO of a camera, which is its base ISO where it has one",
			Source:  "given: camera",
			ofShot:  func(in *ShotInput) float64 { return in.HighBaseISO },
		},
		ReserveKept: {
			Name: "reserve_kept", Dim: lang.Plain, Unit: "%",
			Meaning: "reserve of focus that is comfortable at one mark, as a share of the distance",
			Formula: "the greatest of 4 %, 10 % where the distance is kept by eye, 4.4 cm of sway, within which 95 % of people stand, and half a face of 10 cm",
			Source:  "common practice",
			ofShot:  reserveKept,
		},
		ReserveFollowed: {
			Name: "reserve_followed", Dim: lang.Plain, Unit: "%",
			Meaning: "reserve of focus that is comfortable where the focus follows the subject",
			Formula: "the greater of 3 % for a hand or 2 % for a camera and half a face, and no more than reserve_kept",
			Source:  "common practice",
			ofShot:  reserveFollowed,
		},
		CameraAutofocus: {
			Name: "camera_autofocus", Truth: true,
			Meaning: "the camera can keep focus by itself",
			Source:  "given: camera",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Autofocus) },
		},
		CameraSpeed: {
			Name: "camera_speed", Dim: lang.Speed, Unit: "m/s",
			Meaning: "speed of the camera",
			Source:  "given: move",
			ofShot:  func(in *ShotInput) float64 { return in.Motion.Speed },
		},
		TurnRate: {
			Name: "turn_rate", Dim: lang.AngularSpeed, Unit: "deg/s",
			Meaning: "rate at which the view turns, in a pan or an orbit",
			Formula: "camera_speed / distance in an orbit",
			Source:  "geometry",
			ofShot:  func(in *ShotInput) float64 { return in.Motion.Turn },
		},
		SweepSpeed: {
			Name: "sweep_speed", Dim: lang.Speed, Unit: "m/s",
			Meaning: "speed of the camera across the view, past the background",
			Source:  "given: move",
			ofShot:  func(in *ShotInput) float64 { return in.Motion.Sweep },
		},
		Rises: {
			Name: "rises", Truth: true,
			Meaning: "the camera goes up or down across the view, as in a boom, and the background crosses the height of the frame",
			Source:  "given: move",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Motion.Rises) },
		},
		CrossingLimit: {
			Name: "crossing_limit", Dim: lang.Time, Unit: "s",
			Meaning: "shortest time in which something may cross the frame without strobing",
			Formula: "7 s * (24 fps / rate) * (180 deg / shutter)",
			Source:  "seven-second rule, read at 24 fps and 180 deg; the scaling is an extension of this project",
			ofShot:  func(in *ShotInput) float64 { return motion.Limit(in.Rate, in.ShutterAngle) },
		},
		Bob: {
			Name: "bob", Dim: lang.Length, Unit: "mm",
			Meaning: "rise and fall of the camera with each step that the rig lets through",
			Formula: "bob of the step * (1 - isolation): 31.4 mm * speed / (1 m/s) up to 2 m/s in a walk, 90 mm in a run, 60 mm on stairs, 0 for who stands",
			Source:  "given: move, rig isolation; five walkers of open data and 19 runners, who carried nothing; of stairs nothing is published: 16 mm to 180 mm",
			ofShot:  func(in *ShotInput) float64 { return through(in, in.Motion.Bob.Mean) },
		},
		BobLow:  throughRow("bob_low", "the least that bob is likely to be", func(in *ShotInput) float64 { return in.Motion.Bob.Low }),
		BobHigh: throughRow("bob_high", "the most that bob is likely to be", func(in *ShotInput) float64 { return in.Motion.Bob.High }),
		Sway: {
			Name: "sway", Dim: lang.Length, Unit: "mm",
			Meaning: "how far the camera goes from side to side with every second step that the rig lets through",
			Formula: "1.3 (113 mm - 50 mm * speed / (1 m/s)) * (1 - isolation) from 0.8 m/s to 1.5 m/s in a walk, 50 mm in a run, 95 mm on stairs, 0 for who stands",
			Source:  "given: move, rig isolation; the pelvis of five walkers of open data and the shoulders of three; of a run and of stairs nothing is published: 20 mm to 80 mm and 50 mm to 140 mm",
			ofShot:  func(in *ShotInput) float64 { return through(in, in.Motion.Sway.Mean) },
		},
		SwayLow:  throughRow("sway_low", "the least that sway is likely to be", func(in *ShotInput) float64 { return in.Motion.Sway.Low }),
		SwayHigh: throughRow("sway_high", "the most that sway is likely to be", func(in *ShotInput) float64 { return in.Motion.Sway.High }),
		Unrest: {
			Name: "unrest", Dim: lang.Plain,
			Meaning: "how many times more than held still the view swings in this move; 0 where a dock or legs hold the camera",
			Formula: "1 held, 1 + speed / (1 m/s) up to 2 at a walk, 2.5 on stairs, 3 at a run",
			Source:  "given: move, support; the figures are assumptions of this project",
			ofShot:  func(in *ShotInput) float64 { return in.Motion.Unrest },
		},
		Moving: {
			Name: "moving", Truth: true,
			Meaning: "the camera moves",
			Formula: "camera_speed > 0 or turn_rate > 0",
			Source:  "given: move",
			Reads:   []ID{CameraSpeed, TurnRate},
			value:   func(v *Values) float64 { return truth(v[CameraSpeed] > 0 || v[TurnRate] > 0) },
		},
		WalksBackwards: {
			Name: "walks_backwards", Truth: true,
			Meaning: "the operator walks backwards",
			Source:  "given: move",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Motion.Backwards) },
		},
		LowMode: {
			Name: "low_mode", Truth: true,
			Meaning: "the camera hangs below the grip",
			Source:  "given: move",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Motion.Low) },
		},
		Running: {
			Name: "running", Truth: true,
			Meaning: "the operator runs",
			Source:  "given: move",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Motion.Run) },
		},
		OnStairs: {
			Name: "on_stairs", Truth: true,
			Meaning: "the move goes over stairs",
			Source:  "given: move",
			ofShot:  func(in *ShotInput) float64 { return truth(in.Motion.Stairs) },
		},
	}
}

// through gives what the rig lets through of a way of the operator: nothing without a step, even
// when the isolation of the rig is unknown.
func through(in *ShotInput, way float64) float64 {
	if way == 0 {
		return 0
	}
	return way * (1 - in.RigIsolation)
}

// throughRow is a row of an end of the range of bob or sway.
func throughRow(name, meaning string, way func(*ShotInput) float64) Fact {
	return Fact{
		Name: name, Dim: lang.Length, Unit: "mm", Meaning: meaning,
		Formula: "(1 - isolation) * an end of the range: two standard deviations between persons, or what is assumed",
		Source:  "given: move, rig isolation; the persons measured",
		ofShot:  func(in *ShotInput) float64 { return through(in, way(in)) },
	}
}

func background(in *ShotInput) float64 {
	if math.IsNaN(in.Background) {
		return BackgroundFactor * in.Far
	}
	return in.Background
}

// An interval is a range of distances.
type interval struct{ near, far float64 }

// What is lost of the reserve of focus; common practice but for the sway.
const (
	leastReserve  = 0.04 // of the distance, whatever the shot
	eyeReserve    = 0.10 // where an operator on the move keeps the distance by eye
	pulledReserve = 0.03 // a puller's error
	autoReserve   = 0.02 // a camera's
	halfFace      = 0.05 // m, of a depth of 10 cm from the eyes to the ears
)

func reserveKept(in *ShotInput) float64 {
	reserve := leastReserve
	if in.Support == Sled {
		reserve = max(reserve, SwayDepth/in.Near)
	}
	if in.Motion.KeepsByEye {
		reserve = max(reserve, eyeReserve)
	}
	if in.Subject.Person {
		reserve = max(reserve, halfFace/in.Near)
	}
	return reserve
}

func reserveFollowed(in *ShotInput) float64 {
	reserve := pulledReserve
	if in.Focus == Auto {
		reserve = autoReserve
	}
	return min(reserveKept(in), max(reserve, halfFace/in.Near))
}

// sharpRange gives what must be sharp at once. Fixed focus must hold the way of the subject,
// as well as it is kept, and never less than the camera sways or a face is deep. Where the
// focus follows, it is the subject and whoever follows it, at its nearest, for there it is
// hardest.
func sharpRange(in *ShotInput) interval {
	if in.Focus != Fixed {
		lost := in.Near * reserveFollowed(in)
		return interval{in.Near - lost, in.Near + lost}
	}
	near, far := in.Near, in.Far
	if in.Motion.KeepsByEye {
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
	return interval{near, far}
}
