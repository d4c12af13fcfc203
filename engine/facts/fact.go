package facts

import (
	"glassbrief/lang"
	"glassbrief/lang/expression"
)

// A Scope says what a fact depends on, and so how often it is computed.
type Scope uint8

const (
	OfShot Scope = 1 << iota // the shot, camera and rig
	OfLens                   // the lens at a focal length, on the camera and rig

	OfPair = OfShot | OfLens
)

// String names the scope.
func (s Scope) String() string {
	switch s {
	case OfShot:
		return "shot"
	case OfLens:
		return "lens"
	case OfPair:
		return "shot and lens"
	}
	return "invalid scope"
}

// A Fact is one row of the vocabulary: all that is known of it stands there. Its scope, what
// it depends on, and when it is computed follow from what it reads: see [After] and [PlanOf].
type Fact struct {
	Name    string
	Truth   bool           // yes or no, rather than a number
	Dim     lang.Dimension // of a number
	Unit    string         // in which it is shown; always metric-neutral for lens sizes
	Meaning string
	Formula string // how it is computed, in the words of the other facts; "" when it is given
	Source  string // where the formula stands, or "given" with the field that gives it
	Scope   Scope  // follows from the rest

	// Reads are the facts that the function of the row reads. It reads nothing but its
	// arguments, and gives NaN for what is not known.
	Reads  []ID
	value  func(v *Values) float64
	ofShot func(in *ShotInput) float64
	ofLens func(in *LensInput, v *Values) float64
	// with stands in place of reads and function where the function of another row writes
	// this fact too: facts that have much in common are quicker to compute together.
	with ID
	// dialled stands in their place for what is set from outside, as the focal length of a
	// zoom is, and says whose it is.
	dialled Scope
}

func (f *Fact) computed() bool { return f.value != nil || f.ofShot != nil || f.ofLens != nil }

// reads gives what the fact follows from.
func (f *Fact) reads() []ID {
	if f.computed() || f.dialled != 0 {
		return f.Reads
	}
	return []ID{f.with}
}

// The facts, by scope. The order within a scope is the order in which they are listed.
const (
	SubjectHeight ID = iota
	SubjectWidth
	IsPerson
	IsPlace
	SubjectNear
	SubjectFar
	PlaceFree
	Marked
	KeptByEye
	Docked
	OnLegs
	BackgroundDistance
	WantNearLow
	WantNearHigh
	WantFarLow
	WantFarHigh
	SubjectOffset
	FocusNear
	FocusFar
	FocusFixed
	FocusPulled
	FocusAuto
	Light
	LightEV
	ShutterTime
	BaseISO
	TopISO
	HighBaseISO
	ReserveKept
	ReserveFollowed
	CameraAutofocus
	CameraSpeed
	TurnRate
	SweepSpeed
	Rises
	CrossingLimit
	Bob
	BobLow
	BobHigh
	Sway
	SwayLow
	SwayHigh
	Unrest
	Moving
	WalksBackwards
	LowMode
	Running
	OnStairs

	FocalLength
	Squeeze
	WantedSqueeze
	FrameWidth
	FrameHeight
	FrameDiagonal
	ProtectedDiagonal
	AngleLeft
	AngleRight
	AngleAbove
	AngleBelow
	AngleWidth
	AngleHeight
	CornerAngle
	AngleDiagonal
	SpreadWidth
	SpreadHeight
	ImageCircle
	CircleMargin
	Confusion
	WidestStop
	SmallestStop
	WidestT
	CloseFocus
	Magnification
	Pupil
	Breathing
	Bending
	CornerStretch
	CornerFalloff
	DiffractionStop
	WobbleShare
	LensMass
	LensLength
	RigMass
	PayloadLow
	PayloadHigh
	PayloadPlace
	Mounts
	Adapted
	IsZoom
	Projection
	IsFisheye
	LensAutofocus
	FocusScaleMarked
	FocusByWire
	FocusScaleAbsent
	Hired
	DayRate

	NearFromLens
	FarFromLens
	NearFromPupil
	FarFromPupil
	FrameReach
	FillNear
	FillFar
	FieldNear
	FieldFar
	FramingHeld
	FramingError
	FramingDistance
	FocusMargin
	Clearance
	FaceStretch
	EdgeStretch
	FramingLost
	FramingOff
	NeededStop
	Stop
	TStop
	FocusMark
	Following
	MarkFromLens
	NearLimit
	FarLimit
	ReserveNear
	ReserveFar
	ReserveWanted
	FocusEase
	FocusSpare
	FocusSpareWanted
	SceneSharp
	FocusHeld
	Hyperfocal
	BackgroundBlur
	BackgroundBlurWidth
	DiffractionShare
	ISO
	ND
	Filters
	FilterCross
	StandsOn
	ISONeeded
	ExposureGap
	Over
	Short
	ExposureError
	Noise
	Pull
	BobShare
	SwayShare
	StepShare
	StepLow
	StepHigh
	Swing
	CrossingTime
	Pace
	BlurPerFrame

	Count // the number of built-in facts
)

// Table gives the vocabulary: the fact with an ID stands at that place.
func Table() []Fact { return table().rows }

// Vocabulary gives the names that expressions may use, in the order of their IDs. Each
// call gives a new one, since a rules file may define further names behind them.
func Vocabulary() *expression.Vocabulary {
	names := make([]expression.Name, 0, Count)
	for _, fact := range Table() {
		name := expression.Name{Name: fact.Name, Kind: expression.Number, Dim: fact.Dim, Unit: fact.Unit, Meaning: fact.Meaning}
		if fact.Truth {
			name.Kind = expression.Truth
		}
		names = append(names, name)
	}
	return expression.NewVocabulary(names)
}
